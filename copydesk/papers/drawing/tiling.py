"""Drawings at full size on printer's paper; one larger than the paper is spread over several sheets with marks.

Neighbouring sheets overlap by a strip that both show. In it stand small crosses, at the same places of the drawing on
either sheet: lay cross over cross, and the sheets join true.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from copydesk.papers.drawing.paper_sheets import Paper, SheetOfPaper, paper_named
from copydesk.papers.drawing.shapes import Drawing, DrawnLine, Words, reach
from copydesk.papers.drawing.svg import svg_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence


MARGIN = 8.0
"""What printers commonly leave blank round a sheet, in mm."""

OVERLAP = 12.0
"""The strip that two neighbouring sheets both show, in mm."""

_CROSS = 3.0  # half the length of a cross's arms


@dataclass(frozen=True, slots=True)
class Tiles:
    """How a drawing is spread: the paper as it is held, the size each sheet shows in mm, how many down and across."""

    paper: Paper
    width: float
    height: float
    rows: int
    columns: int

    @property
    def count(self) -> int:
        """Sheets in all."""
        return self.rows * self.columns

    def corner(self, row: int, column: int) -> tuple[float, float]:
        """The point of the drawing that a sheet's upper left corner shows; rows and columns from 0."""
        return column * (self.width - OVERLAP), row * (self.height - OVERLAP)

    def crosses(self) -> tuple[tuple[float, float], ...]:
        """Where crosses stand on the drawing: in every strip shared, near both ends of each sheet's share of it."""
        across = [column * (self.width - OVERLAP) + OVERLAP / 2 for column in range(1, self.columns)]
        down = [row * (self.height - OVERLAP) + OVERLAP / 2 for row in range(1, self.rows)]
        upright = [(x, y) for x in across for y in _ends(self.rows, self.height)]
        level = [(x, y) for y in down for x in _ends(self.columns, self.width)]
        return tuple(dict.fromkeys(upright + level))


def tiles_for(width: float, height: float, paper: Paper) -> Tiles:
    """Spread a drawing of this size (mm) over as few sheets as can be, upright rather than turned."""
    return min((_tiles(width, height, held) for held in (paper, paper.turned)), key=lambda tiles: tiles.count)


def drawing_file(drawings: Sequence[Drawing], form: str, paper: str = "A4") -> bytes:
    """The drawings as one file: all of them as ``pdf`` on a printer's paper, or the first alone as ``svg``.

    Raises:
        UnknownNameError: where we print on no paper of that name.
    """
    return svg_of(drawings[0]).encode() if form == "svg" else pdf_of(drawings, paper_named(paper))


def pdf_of(drawings: Sequence[Drawing], paper: Paper) -> bytes:
    """The drawings one after another at full size as a PDF file on ``paper``."""
    printed: SheetOfPaper | None = None
    for drawing in drawings:
        tiles = tiles_for(drawing.width, drawing.height, paper)
        for row in range(tiles.rows):
            for column in range(tiles.columns):
                if printed is None:
                    printed = SheetOfPaper(tiles.paper, drawing.title)
                else:
                    printed.next_sheet(tiles.paper)
                _print_tile(printed, drawing, tiles, row, column)
    return (printed or SheetOfPaper(paper, "")).finish()


def _tiles(width: float, height: float, paper: Paper) -> Tiles:
    shows = paper.width - 2 * MARGIN, paper.height - 2 * MARGIN
    columns, rows = (
        max(1, math.ceil((length - OVERLAP - 1e-6) / (shown - OVERLAP)))
        for length, shown in zip((width, height), shows, strict=True)
    )
    return Tiles(paper, *shows, rows, columns)


def _print_tile(printed: SheetOfPaper, drawing: Drawing, tiles: Tiles, row: int, column: int) -> None:
    if tiles.count == 1:
        left, top = (tiles.paper.width - drawing.width) / 2, (tiles.paper.height - drawing.height) / 2
        shows, size = (0.0, 0.0), (drawing.width, drawing.height)
    else:
        left, top, shows, size = MARGIN, MARGIN, tiles.corner(row, column), (tiles.width, tiles.height)
    with printed.window(left, top, size, shows):
        for mark in drawing.marks:
            if _meets(reach(mark), shows, size):
                printed.draw(mark)
        for cross in _crosses_shown(tiles, shows):
            printed.draw(cross)
    if tiles.count > 1:
        where = f"sheet {row * tiles.columns + column + 1} of {tiles.count}: row {row + 1}, column {column + 1}"
        printed.draw(Words(MARGIN, tiles.paper.height - 3, f"{where}; lay cross over cross", 2.5))


def _crosses_shown(tiles: Tiles, shows: tuple[float, float]) -> Iterator[DrawnLine]:
    for x, y in tiles.crosses():
        if shows[0] < x < shows[0] + tiles.width and shows[1] < y < shows[1] + tiles.height:
            yield DrawnLine(x - _CROSS, y, x + _CROSS, y, "join")
            yield DrawnLine(x, y - _CROSS, x, y + _CROSS, "join")


def _ends(count: int, length: float) -> list[float]:
    """Two places on each of ``count`` sheets laid with their overlaps: past the shared strips, near both ends."""
    starts = [number * (length - OVERLAP) for number in range(count)]
    return [place for start in starts for place in (start + 2 * OVERLAP, start + length - 2 * OVERLAP)]


def _meets(bounds: tuple[float, float, float, float], shows: tuple[float, float], size: tuple[float, float]) -> bool:
    left, top, right, bottom = bounds
    return left <= shows[0] + size[0] and right >= shows[0] and top <= shows[1] + size[1] and bottom >= shows[1]
