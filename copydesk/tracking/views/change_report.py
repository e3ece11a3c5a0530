"""Every departure from the exemplar made on purpose, with its place in both, for lists and other programs."""

from __future__ import annotations

from bisect import bisect_right
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report, page_or_none, rows_of
from copydesk.book.structure.page import Page
from copydesk.tracking.ledger.records import change_of
from copydesk.tracking.state.page_content import lines_of_page

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
        if page.start <= piece < page.end or piece == page.end == state.copy.pieces:
            lines = lines_of_page(state, index)
            at = max(bisect_right(lines, piece, key=lambda line: line.start) - 1, 0)
            return (Page.at(index), lines[at].column, lines[at].line) if lines else (Page.at(index), 0, 0)
    return None, 0, 0


CHANGES: Report[ChangeAccount] = rows_of(
    "changes",
    "One row a departure from the exemplar made on purpose, in the order of the text.",
    Column(
        "page",
        Cell.PAGE,
        "the page it falls on; null where none",
        lambda a: page_or_none(a.page),
        "page",
        lambda a, book: book.named(a.page) if a.page else "",
    ),
    Column("exemplar", Cell.TEXT, "its place in the exemplar, where noted", lambda a: a.place or None, "exemplar"),
    Column("sort", Cell.TEXT, "left out, put differently or added", "sort", "what", lambda a, _: a.sentence()),
    Column("why", Cell.TEXT, "the reason given", "change.why", "why"),
    Column("who", Cell.TEXT, "who decided it", "change.who", "who"),
    Column(
        "entry",
        Cell.TEXT,
        "its entry; null where it stands in book.yaml",
        lambda a: a.entry or None,
        "entry",
        lambda a, _: a.entry or "in book.yaml",
    ),
    Column("from_word", Cell.NUMBER, "the exemplar's first word concerned, from 0", "change.from_word"),
    Column("to_word", Cell.NUMBER, "the word after the last", "change.to_word"),
    Column("stands", Cell.TEXT, "the exemplar's words"),
    Column("write", Cell.TEXT, "what is written instead", "change.write"),
    Column("at", Cell.MOMENT, "when it was recorded; null where it stands in book.yaml", lambda a: a.at or None),
    Column(
        "column", Cell.NUMBER, "the column it falls in, from 1; null where it has no page", lambda a: a.column or None
    ),
    Column("line", Cell.NUMBER, "the line it falls on, from 1; null where it has no page", lambda a: a.line or None),
    Column("written", Cell.YES_NO, "whether the passage is written"),
)
