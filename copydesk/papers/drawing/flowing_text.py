"""Papers that are read: headings, paragraphs and tables that run on from sheet to sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.papers.drawing import typesetting as fonts
from copydesk.papers.drawing.paper_sheets import SheetOfPaper, paper_named
from copydesk.papers.drawing.shapes import BLANK, BOX, TICKED, Box, DrawnLine, Mark, SmallDrawing, Words, lowered

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.papers.drawing.shapes import Pen

    Cell = str | SmallDrawing


MARGIN = 18.0
"""Blank round the text, in mm."""

_SIZE, _LEADING = 3.4, 5.0  # letters and lines, mm
_IN_TABLE = 3.0  # letters in a table, mm
_SMALL = 2.6  # letters at the foot, mm
_TOGETHER = 2  # lines of a paragraph that stay with the heading above it
_ROWS_TOGETHER = 2  # rows of a table that stay with its head
_CELL = 2.5  # blank at the right of a table's cell, mm
_TALLEST = 40  # lines of a cell; no sheet holds more
_SQUARE = 2.8  # the side of a box to tick, mm
_ROOM_TO_WRITE = 25.0  # the least width of a blank, mm


class _Heading(NamedTuple):
    """What waits for that which it stands over: its lines, its letters, lines and blank above in mm, if it is bold."""

    lines: list[str]
    size: float
    leading: float
    above: float
    strong: bool = True


class FlowingPaper:
    """A paper being written from the top down; a new sheet is taken where the old one is full."""

    def __init__(self, title: str, paper: str = "A4", note: str = "") -> None:
        """Begin a paper with its title; ``note`` (a date, a name) stands small at the foot of every sheet.

        Raises:
            UnknownNameError: where we print on no paper of that name.
        """
        self._paper = paper_named(paper)
        self._title = title
        self._foot = " · ".join(part for part in (title, note) if part)
        self._y = MARGIN
        self._sheets: list[list[Mark]] = [[]]
        self._headings: list[_Heading] = []
        self._lines(fonts.lines(title, 5.5, self.width, fonts.BOLD), 5.5, 7.5, strong=True)
        self._y += 2

    @property
    def width(self) -> float:
        """Room for text across, in mm."""
        return self._paper.width - 2 * MARGIN

    def heading(self, text: str) -> None:
        """Write a heading, together with the beginning of what comes next: it is never the last line of a sheet."""
        self._wait(text, 4.0, 6.0, 2.5)

    def subheading(self, text: str) -> None:
        """Write a heading of a lower rank, which keeps with what comes next too."""
        self._wait(text, _SIZE, _LEADING + 1.5, 0.0)

    def lead(self, text: str) -> None:
        """Write a paragraph that belongs to the heading above it and keeps with what comes next."""
        self._headings.append(_Heading(fonts.lines(text, _SIZE, self.width), _SIZE, _LEADING, 0.0, strong=False))

    def _wait(self, text: str, size: float, leading: float, above: float) -> None:
        self._headings.append(_Heading(fonts.lines(text, size, self.width, fonts.BOLD), size, leading, above))

    def paragraph(self, text: str, *, strong: bool = False, size: float = _SIZE) -> None:
        """Write a paragraph, and a little room after it."""
        font, leading = fonts.BOLD if strong else fonts.ROMAN, size * _LEADING / _SIZE
        lines = fonts.lines(text, size, self.width, font)
        self._write_headings(min(len(lines), _TOGETHER) * leading)
        self._lines(lines, size, leading, strong=strong)
        self._y += 1.5

    def table(
        self,
        names: Sequence[str],
        rows: Sequence[Sequence[Cell]],
        shares: Sequence[float] = (),  # noqa: ARG002 - what is written in letters goes by them
        alike: Sequence[Sequence[Cell]] = (),
    ) -> None:
        """Write a table: its columns' names, again on every sheet, and its rows; columns as wide as they need to be.

        ``alike`` are the rows of all tables that are to have the same columns as this one.
        """
        widths = _widths(names, alike or rows, self.width)
        head = _row(names, widths, fonts.BOLD) if any(names) or not any(map(any, rows)) else None
        made = [_row(row, widths, fonts.ROMAN) for row in rows]
        # Rows without a word are room to write in, which is not divided.
        together = made[:_ROWS_TOGETHER] if any(map(any, rows)) else made
        self._write_headings((head.height if head else 0.0) + sum(row.height for row in together))
        if head:
            self._put(head, "bounding")
        for row in made:
            if self._is_full(row.height):
                self._next_sheet()
                if head:
                    self._put(head, "bounding")
            self._put(row, "ruled")
        self._y += 3

    def finish(self) -> bytes:
        """The whole paper as a PDF file; its last words are on letters that could not be printed, if there are any."""
        self._write_headings(0.0)
        words = (mark for sheet in self._sheets for mark in sheet if isinstance(mark, Words))
        lacking = dict.fromkeys(letter for mark in words for letter in fonts.setting(mark.text).lacking)
        if said := fonts.lacking_words(list(lacking)):
            self.paragraph(said, size=_SMALL)
        printed = SheetOfPaper(self._paper, self._title)
        foot, last = self._paper.height - MARGIN / 2, len(self._sheets)
        for number, marks in enumerate(self._sheets, 1):
            if number > 1:
                printed.next_sheet()
            printed.draw(Words(MARGIN, foot, fonts.fitting(self._foot, _SMALL, self.width - 30), _SMALL))
            printed.draw(Words(MARGIN + self.width, foot, f"page {number} of {last}", _SMALL, "end"))
            for mark in marks:
                printed.draw(mark)
        printed.letters_lacking()  # told above
        return printed.finish()

    def _write_headings(self, next_mm: float) -> None:
        """Write the headings that wait, on a sheet with room for them and the first ``next_mm`` of what follows."""
        self._make_room(sum(len(each.lines) * each.leading + each.above for each in self._headings) + next_mm)
        for each in self._headings:
            self._y += each.above
            self._lines(each.lines, each.size, each.leading, strong=each.strong)
        self._headings.clear()

    def _put(self, row: _Row, pen: Pen) -> None:
        self._make_room(row.height)
        self._sheets[-1] += (lowered(mark, self._y, MARGIN) for mark in row.marks)
        self._y += row.height
        self._sheets[-1].append(DrawnLine(MARGIN, self._y, MARGIN + self.width, self._y, pen))

    def _lines(self, lines: Sequence[str], size: float, leading: float, *, strong: bool) -> None:
        for line in lines:
            self._make_room(leading)
            self._sheets[-1].append(Words(MARGIN, self._y + 0.75 * leading, line, size, strong=strong))
            self._y += leading

    def _is_full(self, needed: float) -> bool:
        return self._y + needed > self._paper.height - MARGIN and self._y > MARGIN

    def _make_room(self, needed: float) -> None:
        if self._is_full(needed):
            self._next_sheet()

    def _next_sheet(self) -> None:
        self._sheets.append([])
        self._y = MARGIN


class _Row(NamedTuple):
    """A row of a table as it is drawn: how high it is, and its marks from its upper left corner, in mm."""

    height: float
    marks: tuple[Mark, ...]


def _row(cells: Sequence[Cell], widths: Sequence[float], font: str) -> _Row:
    """One row; a cell that is a box is drawn as one, and one that is to be written in stays blank."""
    leading = _IN_TABLE * _LEADING / _SIZE
    marks: list[Mark] = []
    left = height = 0.0
    for cell, width in zip(cells, widths, strict=True):
        if isinstance(cell, SmallDrawing):
            marks += (lowered(mark, 1.0, left) for mark in cell.marks)
            height = max(height, cell.height + 2.0)
        elif cell in (BOX, TICKED):
            marks += _square(left, 0.6, ticked=cell == TICKED)
            height = max(height, leading)
        else:
            lines = fonts.lines("" if cell == BLANK else cell, _IN_TABLE, width - _CELL, font)
            lines = lines if len(lines) <= _TALLEST else [*lines[: _TALLEST - 1], "…"]
            strong = font == fonts.BOLD
            marks += (
                Words(left, (at + 0.75) * leading, line, _IN_TABLE, strong=strong) for at, line in enumerate(lines)
            )
            height = max(height, len(lines) * leading)
        left += width
    return _Row(height + 0.8, tuple(marks))


def _square(left: float, top: float, *, ticked: bool) -> list[Mark]:
    """A box to tick, and the tick."""
    marks: list[Mark] = [Box(left, top, _SQUARE, _SQUARE, "bar")]
    if ticked:
        low = top + 0.8 * _SQUARE
        marks.append(DrawnLine(left + 0.2 * _SQUARE, top + 0.5 * _SQUARE, left + 0.42 * _SQUARE, low, "edge"))
        marks.append(DrawnLine(left + 0.42 * _SQUARE, low, left + 0.85 * _SQUARE, top + 0.15 * _SQUARE, "edge"))
    return marks


def _widths(names: Sequence[str], rows: Sequence[Sequence[Cell]], room: float) -> list[float]:
    """How wide each column is, in mm: what its cells need on one line, or its share of what there is.

    No column is narrower than its longest word while the room allows; what is beyond that is shared fairly. What is
    left over goes to the columns to be written in, or else to all that have a name, by their widths.
    """
    columns = [
        [_needs(name, fonts.BOLD), *(_needs(row[at], fonts.ROMAN) for row in rows)] for at, name in enumerate(names)
    ]
    least = [max(need[0] for need in column) + _CELL for column in columns]
    most = [min(max(need[1] for need in column) + _CELL, room) for column in columns]
    if sum(most) <= room:
        blank = [width * any(row[at] == BLANK for row in rows) for at, width in enumerate(most)]
        named = [width * bool(name) for name, width in zip(names, most, strict=True)]
        taking = next(shares for shares in (blank, named, most) if any(shares))
        return [width + (room - sum(most)) * share / sum(taking) for width, share in zip(most, taking, strict=True)]
    spare = room - sum(least)
    if spare <= 0:
        return [width * room / sum(least) for width in least]
    widths = dict(enumerate(least))
    by_want = sorted(widths, key=lambda at: most[at] - least[at])
    for turn, at in enumerate(by_want):  # who wants least is served first, and nobody more than a fair share
        given = min(most[at] - least[at], spare / (len(by_want) - turn))
        widths[at] += given
        spare -= given
    return list(widths.values())


def _needs(cell: Cell, font: str) -> tuple[float, float]:
    """The least width a cell can do with, and that at which it stands on one line, in mm."""
    if isinstance(cell, SmallDrawing):
        return cell.width, cell.width
    if cell in (BOX, TICKED):
        return _SQUARE, _SQUARE
    if cell == BLANK:
        return _ROOM_TO_WRITE, _ROOM_TO_WRITE
    words = cell.split()
    return (
        max((fonts.width(word, _IN_TABLE, font) for word in words), default=0.0),
        fonts.width(" ".join(words), _IN_TABLE, font) + 0.01,
    )
