"""Every departure from the exemplar made on purpose, with its place in both, for lists and other programs."""

from __future__ import annotations

from bisect import bisect_right
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.structure.page import Page
from copydesk.tracking.ledger.records import change_of
from copydesk.tracking.state.page_lines import lines_of_page

if TYPE_CHECKING:
    from copydesk.book.plan import Change
    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.state.book_state import BookState


class ChangeAccount(NamedTuple):
    """One change.

    ``entry`` and ``at`` are empty for one planned in book.yaml. ``stands`` are the exemplar's words, ``before``
    some that stand just before them; ``place`` is the exemplar's. ``page``, ``column`` and ``line`` are where the
    passage falls (or fell) in the book; 0 and None where it has no page.
    """

    change: Change
    entry: str
    at: str
    hand: str
    before: str
    stands: str
    place: str
    page: Page | None
    column: int
    line: int
    written: bool

    @property
    def sort(self) -> str:
        """Which sort of change it is: left out, put differently, added."""
        if self.change.from_word == self.change.to_word:
            return "added"
        return "put differently" if self.change.write else "left out"

    def sentence(self) -> str:
        """What was changed, in a sentence."""
        if self.sort == "added":
            after = f' after "{self.before}"' if self.before else ""
            return f'"{self.change.write}" added{after}'
        if self.sort == "left out":
            return f'"{self.stands}" left out'
        return f'"{self.stands}" written "{self.change.write}"'


def change_accounts(state: BookState) -> list[ChangeAccount]:
    """Every change that stands, in the order of the text."""
    planned = [_account(state, change, None) for change in state.book.changes]
    recorded = [change_account(state, entry) for entry in state.ledger.live_of("text")]
    return sorted((*planned, *recorded), key=lambda each: (each.change.from_word, each.change.to_word))


def change_account(state: BookState, entry: Entry) -> ChangeAccount:
    """The change that an entry records."""
    return _account(state, change_of(entry), entry)


def _account(state: BookState, change: Change, entry: Entry | None) -> ChangeAccount:
    exemplar = state.exemplar
    words = exemplar.words if exemplar else []
    place = exemplar.place_of(change.from_word) if exemplar else None
    page, column, line = _falls_on(state, change)
    record = state.record(state.skin_at(page.index)) if page else None
    ends = record.ends if record and record.stints else None
    return ChangeAccount(
        change=change,
        entry=entry.entry if entry else "",
        at=entry.at if entry else "",
        hand=entry.hand if entry else "",
        before=" ".join(words[max(change.from_word - 4, 0) : change.from_word]),
        stands=" ".join(words[change.from_word : change.to_word]),
        place=str(place) if place else "",
        page=page,
        column=column,
        line=line,
        written=ends is not None and change.from_word < ends,
    )


def _falls_on(state: BookState, change: Change) -> tuple[Page | None, int, int]:
    """Page, column and line where the passage begins, or the text goes on where it is left out."""
    piece = state.copy.piece(change.from_word)
    for index, page in enumerate(state.budget.pages):
        if page.start <= piece < page.end:
            lines = lines_of_page(state, index)
            at = max(bisect_right(lines, piece, key=lambda line: line.start) - 1, 0)
            return (Page.at(index), lines[at].column, lines[at].line) if lines else (Page.at(index), 0, 0)
    return None, 0, 0


def change_as_data(account: ChangeAccount) -> dict[str, object]:
    """One change as plain data."""
    change = account.change
    return {
        "entry": account.entry or None,
        "sort": account.sort,
        "from_word": change.from_word,
        "to_word": change.to_word,
        "stands": account.stands,
        "write": change.write,
        "why": change.why,
        "who": change.who,
        "at": account.at or None,
        "exemplar": account.place or None,
        "page": str(account.page) if account.page else None,
        "column": account.column or None,
        "line": account.line or None,
        "written": account.written,
    }
