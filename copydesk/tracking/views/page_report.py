"""Pages as plain data for other programs, with the keys the README names."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.tracking.views.page_view import PageAccount, page_account

if TYPE_CHECKING:
    from copydesk.tracking.fit.stretches import Need
    from copydesk.tracking.state.book_state import BookState


def page_reports(state: BookState) -> list[PageAccount]:
    """The account of every page in reading order."""
    return [page_account(state, index) for index in range(state.collation.pages)]


def page_as_data(account: PageAccount, need: Need | None = None) -> dict[str, object]:
    """One page as plain data; ``need`` is what its stretch asks, where it is held at both ends."""
    place, record, budget = account.place, account.record, account.budget
    data: dict[str, object] = {
        "page": str(account.page),
        "gathering": place.gathering,
        "leaf": place.leaf,
        "sheet": place.sheet,
        "side": place.side.value,
        "surface": place.surface.value,
        "conjugate": str(place.conjugate) if place.conjugate else None,
        "ruled_lines": account.ruled_lines,
        "lines_in_spaces": account.lines_in_spaces,
        "budget": budget.room,
        "planned": budget.planned,
        "written": record.written,
        "over": account.over,
        "from_word": account.from_word,
        "to_word": account.to_word,
        "first_words": account.first_words,
        "last_words": account.last_words,
        "state": record.state,
        "next": account.next_act,
        "hands": [
            {"hand": stint.hand, "from_line": stint.from_line, "to_line": stint.to_line} for stint in record.stints
        ],
        "checked_by": record.checked_by or None,
        "self_checked": record.self_checked,
        "spaces_waiting": account.spaces_waiting,
        "faults_open": len(record.open_faults),
        "label": account.label,
    }
    if account.gap_words:
        data["gap_words"] = account.gap_words
    if account.overlap_words:
        data["overlap_words"] = account.overlap_words
    if need is not None:
        data["stretch"] = need.as_json()
    return data
