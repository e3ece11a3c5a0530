"""The values that casting off works with: a page's lines, the spaces on them, how far the text has come."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterator


class Shape(NamedTuple):
    """What a reserved space takes: ``lines`` whole lines of a column, or of all; or an indent of ``share``.

    ``share`` is the part of the column measure an initial takes, 0 for a space that takes whole lines. A space
    of 0 lines (a border) takes nothing.
    """

    id: str
    lines: int
    across: bool
    share: float


class Anchored(NamedTuple):
    """A space tied to the text: it stands before the first line that begins at ``piece`` or past it."""

    piece: int
    shape: Shape


class Placement(NamedTuple):
    """Where a space stands on its page: column from 1 (0 where it goes across all), first line from 1."""

    id: str
    column: int
    from_line: int
    lines: int
    share: float

    def meets(self, other: Placement) -> bool:
        """Whether the two want a line of the same column; a space that takes no lines wants none."""
        columns = 0 in (self.column, other.column) or self.column == other.column
        return (
            columns
            and self.from_line < other.from_line + other.lines
            and other.from_line < self.from_line + self.lines
            and min(self.lines, other.lines) > 0
        )


class SplitLine(float):
    """The share of a line with a hole in its middle: that of its largest stretch; ``stretches`` has all, left to right.

    The text runs through all stretches, or through the largest alone where that holds more.
    """

    stretches: tuple[float, ...]

    def __new__(cls, stretches: tuple[float, ...]) -> SplitLine:
        """The line with these stretches, as shares of the measure."""
        line = super().__new__(cls, max(stretches))
        line.stretches = stretches
        return line

    def __eq__(self, other: object) -> bool:
        """Equal to a line with the same stretches; to a figure as that is."""
        if isinstance(other, SplitLine):
            return self.stretches == other.stretches
        return float(self) == other

    def __ne__(self, other: object) -> bool:
        """Not equal; a float would look at its figure alone."""
        return not self == other

    __hash__ = float.__hash__


class Frame(NamedTuple):
    """The lines of a page: columns, written lines a column, spaces fixed on it, lines lost or shortened by flaws.

    ``flaws`` holds (column, line, share): the part of that line's measure that can still be written on, a ``SplitLine``
    where that lies on both sides of a hole. A page that
    is ``ruled`` keeps no room for further spaces of whole lines; an initial is only an indent, so it still can come.
    """

    columns: int
    lines: int
    fixed: tuple[Placement, ...] = ()
    flaws: tuple[tuple[int, int, float], ...] = ()
    ruled: bool = False

    def lines_of(self, placement: Placement) -> Iterator[tuple[int, int]]:
        """Column and line (from 1) of each line that a space takes, or indents; none that the page does not have."""
        columns = range(1, self.columns + 1) if placement.column == 0 else (placement.column,)
        first = max(placement.from_line, 1)
        last = min(placement.from_line + placement.lines - 1, self.lines)
        return ((column, line) for column in columns if 1 <= column <= self.columns for line in range(first, last + 1))

    def shares(self) -> list[list[float]]:
        """The part of the full measure that is free for text on each line, by column and line (both from 0)."""
        grid = [[1.0] * self.lines for _ in range(self.columns)]
        for placement in self.fixed:
            self.take(grid, placement)
        for column, line, share in self.flaws:
            if 1 <= column <= self.columns and 1 <= line <= self.lines:
                grid[column - 1][line - 1] = min(grid[column - 1][line - 1], share)
        return grid

    def take(self, grid: list[list[float]], placement: Placement) -> None:
        """Take from ``grid`` what a space needs: whole lines, or the share of each that an initial indents."""
        left = max(1.0 - placement.share, 0.0) if placement.share > 0.0 else 0.0
        for column, line in self.lines_of(placement):
            grid[column - 1][line - 1] = min(grid[column - 1][line - 1], left)

    def text_places(self) -> list[tuple[int, int]]:
        """Column and line (from 1) of the lines that have room for text, in reading order."""
        grid = enumerate(self.shares(), 1)
        return [(column, line) for column, shares in grid for line, share in enumerate(shares, 1) if share > 0.0]

    @property
    def lost(self) -> set[tuple[int, int]]:
        """Column and line (from 1) of the lines that flaws take whole, but for those that a space takes."""
        return {(column, line) for column, line, share in self._felt() if share <= 0.0}

    @property
    def shortened(self) -> set[tuple[int, int]]:
        """The same of the lines that flaws take in part."""
        return {(column, line) for column, line, share in self._felt() if share > 0.0}

    def _felt(self) -> list[tuple[int, int, float]]:
        """What flaws leave of the lines that the page has and no space takes whole."""
        if not self.flaws:
            return []
        taken = {place for each in self.fixed if each.share == 0.0 for place in self.lines_of(each)}
        return [each for each in self.flaws if each[1] <= self.lines and each[:2] not in taken]

    def text_lines(self) -> list[float]:
        """The shares of the lines that have room for text, in reading order."""
        return [share for column in self.shares() for share in column if share > 0.0]


class Cursor(NamedTuple):
    """How far the casting has come: the next piece, the next space to meet, and spaces still waiting for room.

    ``held`` tells that this very piece is to begin the page, wherever its division would otherwise begin.
    """

    piece: int
    anchor: int = 0
    waiting: tuple[Shape, ...] = ()
    held: bool = False


class PageCast(NamedTuple):
    """One page cast off: the cursor it began and ended with, its text lines, room for text, spaces put on it.

    Of its text lines ``empty`` hold no text, since beside a space or a hole they are too narrow for the next word.
    ``kept`` are lines left blank though the text goes on: a heading would stand there alone, or an initial has no room.
    """

    start: Cursor
    end: Cursor
    lines: int
    room: int
    placed: tuple[Placement, ...]
    columns: tuple[int, ...]
    empty: int = 0
    kept: int = 0


class CastLine(NamedTuple):
    """One line of a page as cast: where it stands (column and line from 1) and its pieces, the end left out."""

    column: int
    line: int
    start: int
    end: int
