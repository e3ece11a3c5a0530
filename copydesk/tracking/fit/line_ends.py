"""What each line of a page is short or over at its end, what that asks of its spaces, and which ends want a filler."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report, rows_of
from copydesk.book.common.phrases import count_of, decimal
from copydesk.book.common.sanitize import sanitize
from copydesk.book.common.units import show_length
from copydesk.book.layout.page_frame import SplitLine
from copydesk.book.structure.page import Page
from copydesk.tracking.checking.line_texts import line_texts

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from copydesk.book.layout.page_frame import CastLine
    from copydesk.book.plan import Book
    from copydesk.tracking.checking.line_texts import LineText
    from copydesk.tracking.state.book_state import BookState


_LEAST = 0.05
"""A line over by less, in letters, is full: nobody sees it."""


class LineEnd(NamedTuple):
    """One line with text: where it stands, its words, and how its end falls at the letters its hand writes.

    ``short`` is in letters, below 0 where the words are over; ``letter`` is the width of one in mm; ``gaps`` are the
    spaces between its words. ``closes`` tells that the next line begins anew whatever the hand: a paragraph, a verse or
    a heading ends there. ``usual`` are the letters its hand writes to a full line, ``needed`` those at which its words
    just fill it. ``place`` is the exemplar's line where that is to be kept, else empty.
    """

    page: Page
    number: int
    column: int
    line: int
    words: str
    written: bool
    short: float
    letter: float
    gaps: int
    closes: bool
    usual: float
    needed: float
    place: str

    @property
    def is_over(self) -> bool:
        """Whether the words are wider than their line."""
        return self.short < -_LEAST

    @property
    def short_mm(self) -> float:
        """What it is short, or over below 0, in mm."""
        return self.short * self.letter

    @property
    def gap_mm(self) -> float | None:
        """What each space between its words takes more, or gives where below 0, so that the line is full."""
        return self.short_mm / self.gaps if self.gaps else None


LINE_ENDS: Report[LineEnd] = rows_of(
    "ends",
    "Lines with text in the order of the pages, and how their ends fall.",
    Column("page", Cell.PAGE, "the page", lambda of: str(of.page), "page", lambda of, book: book.named(of.page)),
    Column("column", Cell.NUMBER, "its column"),
    Column("line", Cell.NUMBER, "its line in the column", "", "line", lambda of, _: f"{of.column}.{of.line}"),
    Column("short_letters", Cell.NUMBER, "letters it is short; below 0 over", lambda of: round(of.short, 2), "letters"),
    Column(
        "short_mm",
        Cell.NUMBER,
        "the same in mm",
        lambda of: round(of.short_mm, 2),
        "short",
        lambda of, book: show_length(of.short_mm, book.unit),
    ),
    Column("gaps", Cell.NUMBER, "spaces between its words", "", "spaces"),
    Column(
        "gap_mm",
        Cell.NUMBER,
        "mm more for each space to fill the line, less where below 0; null without spaces",
        lambda of: None if of.gap_mm is None else round(of.gap_mm, 3),
        "each",
        lambda of, book: "" if of.gap_mm is None else show_length(of.gap_mm, book.unit, 2),
    ),
    Column("letters_needed", Cell.NUMBER, "letters to a full line that fill it", lambda of: round(of.needed, 1)),
    Column("closes", Cell.YES_NO, "whether a paragraph, verse or heading ends there"),
    Column("written", Cell.YES_NO, "whether it is written; its breaks are then the likeliest"),
    Column("exemplar", Cell.TEXT, "the exemplar's line it is to hold, else null", lambda of: of.place or None),
    Column("words", Cell.TEXT, "its words", "", "words", lambda of, _: sanitize(of.words)),
)


def line_ends(state: BookState, index: int) -> list[LineEnd]:
    """The lines with text on the page at ``index``; none where the text is known by its counts only."""
    if state.exemplar is None:
        return []
    texts = line_texts(state, index)
    shares = _shares(state, index)
    written = state.record(state.skin_at(index)).written
    return [
        _end(state, index, number, text, shares[text.line.column - 1][text.line.line - 1], written=number <= written)
        for number, text in enumerate(texts, 1)
        if text.line.start < text.line.end
    ]


def all_line_ends(state: BookState) -> Iterator[LineEnd]:
    """The same of every page, one after another."""
    return (each for index in range(state.collation.pages) for each in line_ends(state, index))


def too_full(state: BookState) -> list[LineEnd]:
    """The lines still to write that cannot hold what the exemplar's line holds, where the book is to keep its lines."""
    if not state.book.flow.by_line:
        return []
    return [each for each in all_line_ends(state) if each.is_over and not each.written]


def fillers(ends: Iterable[LineEnd], book: Book) -> list[LineEnd]:
    """The lines whose ends want a line filler: short by as much as the book says, or more."""
    least = book.flow.line_fillers
    return [each for each in ends if least and each.short >= least]


def all_fillers(state: BookState) -> list[LineEnd]:
    """Those of the whole book."""
    return fillers(all_line_ends(state), state.book) if state.book.flow.line_fillers else []


def too_full_words(ends: Sequence[LineEnd], book: Book) -> str:
    """How many lines do not hold theirs, and the fullest of them with how much closer to write; empty for none."""
    if not ends:
        return ""
    worst = max(ends, key=lambda each: each.needed)
    closer = 100 * (1 - worst.usual / worst.needed)
    where = f"{book.named(worst.page)} line {worst.number}"
    return (
        f"{count_of(len(ends), 'line')} too full; the fullest, {where}, is {decimal(-worst.short, 1)} letters over: "
        f"it asks for {decimal(worst.needed, 1)} letters to a line, {closer:.0f}% closer"
    )


def filler_words(ends: Sequence[LineEnd], book: Book) -> str:
    """As in ``14 line fillers, 210 mm in all``; empty for none."""
    if not ends:
        return ""
    return (
        f"{count_of(len(ends), 'line filler')}, {show_length(sum(each.short_mm for each in ends), book.unit, 0)} in all"
    )


def in_hand_words(each: LineEnd, book: Book) -> str:
    """What the line next to be written asks for: where to stretch, or to squeeze."""
    where = f"line {each.number}"
    if each.closes and not each.is_over:
        return f"{where} closes, {decimal(each.short, 1)} letters ({show_length(each.short_mm, book.unit)}) short"
    much = f"{decimal(abs(each.short), 1)} letters ({show_length(abs(each.short_mm), book.unit)})"
    said = f"{where} is {much} {'over' if each.is_over else 'short'}"
    if each.gap_mm is None:
        return said
    spaces = "its space" if each.gaps == 1 else f"each of its {each.gaps} spaces"
    return f"{said}: {show_length(abs(each.gap_mm), book.unit, 2)} {'less' if each.is_over else 'more'} at {spaces}"


def _shares(state: BookState, index: int) -> list[list[float]]:
    """The part of the measure each line of a page has, by column and line from 0, spaces planned there among them."""
    frame = state.frame_of(index)
    known = {placement.id for placement in frame.fixed}
    placed = (each for each in state.budget.pages[index].placed if each.id not in known)
    return frame._replace(fixed=(*frame.fixed, *placed)).shares()


def _end(state: BookState, index: int, number: int, text: LineText, share: float, *, written: bool) -> LineEnd:
    copy, line = state.copy, text.line
    letters = state.letters_on(index)
    room = letters * (sum(share.stretches) if isinstance(share, SplitLine) else share)
    taken = (text.width + copy.indent_of(line.start)) / (copy.mean * copy.grain)
    return LineEnd(
        page=Page.at(index),
        number=number,
        column=line.column,
        line=line.line,
        words=str(text).strip(),
        written=written,
        short=room - taken,
        letter=state.layout.measure / letters,
        gaps=max(len(text.words.split()) - 1, 0),
        closes=line.end >= copy.pieces or copy.run_of(line.end).start == line.end,
        usual=letters,
        needed=letters * taken / room if room else letters,
        place=_place(state, line),
    )


def _place(state: BookState, line: CastLine) -> str:
    """The exemplar's line that a line is to hold; empty where that is not asked, or not known."""
    shape = state.copy.run_of(line.start).shape
    if shape is None or not shape.whole or state.exemplar is None:
        return ""
    place = state.exemplar.place_of(state.copy.word(line.start))
    return str(place) if place is not None else ""
