"""Papers that are read: headings, paragraphs and tables that run on from sheet to sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.papers.drawing import typesetting as fonts
from copydesk.papers.drawing.paper_sheets import SheetOfPaper, paper_named
from copydesk.papers.drawing.shapes import DrawnLine, Words

if TYPE_CHECKING:
    from collections.abc import Sequence


MARGIN = 18.0
"""Blank round the text, in mm."""

_SIZE, _LEADING = 3.4, 5.0  # letters and lines, mm
_TOGETHER = 2  # lines of a paragraph that stay with the heading above it
_CELL = 2.0  # blank at the right of a table's cell, mm
_TALLEST = 40  # lines of a cell; no sheet holds more


class _Heading(NamedTuple):
    """A heading that waits for what it stands over: its lines, its letters, lines and blank above in mm."""

    lines: list[str]
    size: float
    leading: float
    above: float


class FlowingPaper:
    """A paper being written from the top down; a new sheet is taken where the old one is full."""

    def __init__(self, title: str, paper: str = "A4", note: str = "") -> None:
        """Begin a paper with its title; ``note`` (a date, a name) stands small at the foot of every sheet.

        Raises:
            UnknownNameError: where we print on no paper of that name.
        """
        self._sheets = SheetOfPaper(paper_named(paper), title)
        self._foot = " · ".join(part for part in (title, note) if part)
        self._y = MARGIN
        self._headings: list[_Heading] = []
        self._begin_sheet()
        self._lines(fonts.lines(title, 5.5, self.width, fonts.BOLD), 5.5, 7.5, strong=True)
        self._y += 2

    @property
    def width(self) -> float:
        """Room for text across, in mm."""
        return self._sheets.paper.width - 2 * MARGIN

    def heading(self, text: str) -> None:
        """Write a heading, together with the beginning of what comes next: it is never the last line of a sheet."""
        self._wait(text, 4.0, 6.0, 2.5)

    def subheading(self, text: str) -> None:
        """Write a heading of a lower rank, which keeps with what comes next too."""
        self._wait(text, _SIZE, _LEADING + 1.5, 0.0)

    def _wait(self, text: str, size: float, leading: float, above: float) -> None:
        self._headings.append(_Heading(fonts.lines(text, size, self.width, fonts.BOLD), size, leading, above))

    def paragraph(self, text: str, *, strong: bool = False, size: float = _SIZE) -> None:
        """Write a paragraph, and a little room after it."""
        font, leading = fonts.BOLD if strong else fonts.ROMAN, size * _LEADING / _SIZE
        lines = fonts.lines(text, size, self.width, font)
        self._write_headings(min(len(lines), _TOGETHER) * leading)
        self._lines(lines, size, leading, strong=strong)
        self._y += 1.5

    def table(self, names: Sequence[str], rows: Sequence[Sequence[str]], shares: Sequence[float]) -> None:
        """Write a table: its columns' names (again on every sheet), its rows, and each column's share of the width."""
        widths = [self.width * share / sum(shares) for share in shares]
        # Rows without a word are room to write in, which is not divided.
        together = rows[:1] if any(map(any, rows)) else rows
        first = sum(_tall(_cells(row, widths, fonts.ROMAN)) for row in together)
        self._write_headings(_tall(_cells(names, widths, fonts.BOLD)) + first)
        self._table_row(names, widths, strong=True)
        for row in rows:
            cells = _cells(row, widths, fonts.ROMAN)
            if self._is_full(_tall(cells)):
                self._next_sheet()
                self._table_row(names, widths, strong=True)
            self._table_row(row, widths, strong=False)
        self._y += 3

    def finish(self) -> bytes:
        """The whole paper as a PDF file; its last words are on letters that could not be printed, if there are any."""
        self._write_headings(0.0)
        if said := self._sheets.letters_lacking():
            self.paragraph(said, size=2.6)
        return self._sheets.finish()

    def _write_headings(self, next_mm: float) -> None:
        """Write the headings that wait, on a sheet with room for them and the first ``next_mm`` of what follows."""
        self._make_room(sum(len(each.lines) * each.leading + each.above for each in self._headings) + next_mm)
        for each in self._headings:
            self._y += each.above
            self._lines(each.lines, each.size, each.leading, strong=True)
        self._headings.clear()

    def _table_row(self, row: Sequence[str], widths: Sequence[float], *, strong: bool) -> None:
        cells = _cells(row, widths, fonts.BOLD if strong else fonts.ROMAN)
        self._make_room(_tall(cells))
        left = MARGIN
        for lines, width in zip(cells, widths, strict=True):
            for number, line in enumerate(lines):
                self._sheets.write(left, self._y + (number + 0.75) * _LEADING, line, _SIZE, strong=strong)
            left += width
        self._y += _tall(cells)
        self._sheets.draw(DrawnLine(MARGIN, self._y, MARGIN + self.width, self._y, "bounding" if strong else "ruled"))

    def _lines(self, lines: Sequence[str], size: float, leading: float, *, strong: bool) -> None:
        for line in lines:
            self._make_room(leading)
            self._sheets.write(MARGIN, self._y + 0.75 * leading, line, size, strong=strong)
            self._y += leading

    def _is_full(self, needed: float) -> bool:
        return self._y + needed > self._sheets.paper.height - MARGIN and self._y > MARGIN

    def _make_room(self, needed: float) -> None:
        if self._is_full(needed):
            self._next_sheet()

    def _next_sheet(self) -> None:
        self._sheets.next_sheet()
        self._begin_sheet()

    def _begin_sheet(self) -> None:
        self._y = MARGIN
        foot = self._sheets.paper.height - MARGIN / 2
        self._sheets.draw(Words(MARGIN, foot, fonts.fitting(self._foot, 2.6, self.width - 10), 2.6))
        self._sheets.draw(Words(MARGIN + self.width, foot, str(self._sheets.sheets), 2.6, "end"))


def _cells(row: Sequence[str], widths: Sequence[float], font: str) -> list[list[str]]:
    return [
        lines
        if len(lines := fonts.lines(cell, _SIZE, width - _CELL, font)) <= _TALLEST
        else [*lines[: _TALLEST - 1], "…"]
        for cell, width in zip(row, widths, strict=True)
    ]


def _tall(cells: Sequence[Sequence[str]]) -> float:
    return max((len(lines) for lines in cells), default=0) * _LEADING + 0.8
