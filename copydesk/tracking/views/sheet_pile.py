"""All sheets of the book, one by one: where each is, who has it, and what it waits for before it may leave the desk."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.structure.page import Page
from copydesk.book.structure.sheets import open_sheets
from copydesk.tracking.ledger.sheet_record import PLACES
from copydesk.tracking.ledger.timestamps import moment, say_at
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import datetime

    from copydesk.book.plan import Book
    from copydesk.book.structure.sheets import OpenSheet
    from copydesk.tracking.ledger.sheet_record import SheetRecord
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount


class SheetStanding(NamedTuple):
    """A sheet: where it is; what its pages wait for, as ``3r checked``; spaces on it to be filled; when it is dry.

    ``dry`` is given while it lies drying. ``unsettled`` are pages that wait for anything.
    """

    sheet: OpenSheet
    record: SheetRecord
    waits_for: tuple[str, ...]
    unsettled: tuple[Page, ...]
    spaces: tuple[str, ...]
    dry: datetime | None

    @property
    def may_leave(self) -> bool:
        """Whether it may go to the artist: every page written, checked and corrected, and its ink dry."""
        return not self.waits_for


def pile_now(state: BookState, now: datetime) -> list[SheetStanding]:
    """Every sheet of the book, gathering by gathering, from the outermost in; ``now`` tells whether ink is dry."""
    return [
        sheet_standing(state, sheet, now)
        for gathering in state.collation.gatherings
        for sheet in open_sheets(state.collation, gathering.number)
    ]


def sheet_standing(state: BookState, sheet: OpenSheet, now: datetime | None) -> SheetStanding:
    """Where one sheet is and what it waits for; whether its ink is dry is not looked at where ``now`` is None."""
    accounts = [page_account(state, page.index) for page in sheet.pages()]
    record = state.sheet_record(sheet.name)
    waiting = [(account.page, page_wait(account)) for account in accounts]
    waits = [f"{page} {wait}" for page, wait in waiting if wait]
    dry = dry_at(record, state.book.workshop.drying_days) if record.place == "drying" else None
    if dry is not None and now is not None and dry > now:
        waits.append(f"dry on {dry.date().isoformat()}")
    return SheetStanding(
        sheet,
        record,
        tuple(waits),
        tuple(page for page, wait in waiting if wait),
        tuple(space.plan.id for account in accounts for space in account.spaces if space.waiting),
        dry,
    )


def page_wait(account: PageAccount) -> str:
    """What is to be done on a page before its sheet may go to the artist: written, checked, corrected, or nothing.

    A page no text comes to must be ruled where room is to be kept on it, and is settled else.
    """
    state = account.record.state
    if state == "corrected":
        return ""
    if state in ("unruled", "ruled") and not account.budget.planned:
        kept = any(space.placement is not None and space.placement.lines for space in account.spaces)
        return "ruled" if kept and state == "unruled" else ""
    return {"written": "checked", "checked": "corrected"}.get(state, "written")


def dry_at(record: SheetRecord, days: float) -> datetime | None:
    """When a sheet laid to dry is dry; ink dries on days off too. None where nobody knows when it was laid there."""
    from datetime import timedelta

    since = moment(record.since)
    return since + timedelta(days=days) if since is not None else None


def sheet_as_data(sheet: SheetStanding) -> dict[str, object]:
    """Where one sheet is, as plain data for other programs."""
    record = sheet.record
    return {
        "sheet": sheet.sheet.name,
        "place": record.place,
        "who": record.who or None,
        "since": record.since or None,
        "pages": [str(page) for page in sheet.sheet.pages()],
        "may_leave": sheet.may_leave,
        "waits_for": list(sheet.waits_for),
        "spaces_waiting": list(sheet.spaces),
        "dry": sheet.dry.isoformat() if sheet.dry is not None else None,
        "also": {"place": record.also[0], "who": record.also[1]} if record.also is not None else None,
    }


def leave_words(sheet: SheetStanding, book: Book) -> str:
    """Whether a sheet may go to the artist, or what it waits for; or that it is there."""
    record = sheet.record
    if record.place == "artist":
        return f"with the artist ({record.who})" if record.who else "with the artist"
    if sheet.waits_for:
        return f"waits for {waits_words(sheet.waits_for, book)}"
    return {"checker": "with the checker", "press": "in the press", "drying": "dry, may leave the desk"}.get(
        record.place, "may leave the desk now"
    )


def waits_words(waits: Iterable[str], book: Book) -> str:
    """What a sheet waits for, pages put together: ``17r 17v written, 9v corrected``."""
    pages: dict[str, list[Page]] = {}
    dry = []
    for page, _, rest in (wait.partition(" ") for wait in waits):
        if page == "dry":
            dry.append(f"its ink to be dry {rest}")
        else:
            pages.setdefault(rest, []).append(Page.parse(page))
    parts = [*(f"{book.listed(found)} {rest}" for rest, found in pages.items()), *dry]
    return ("; " if any("," in part for part in parts) else ", ").join(parts)


def whereabouts(record: SheetRecord) -> str:
    """Where a sheet is, who has it and since when: ``with the artist (Ines) since 2 March 14:30``."""
    who = f" ({record.who})" if record.who and record.place != "desk" else ""
    since = f" since {say_at(record.since)}" if record.since else ""
    return f"{PLACES[record.place]}{who}{since}"
