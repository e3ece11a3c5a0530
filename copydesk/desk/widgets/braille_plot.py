"""Plots in a terminal's cells: lines in braille dots, eight to a cell, axes with round ticks, ranges. No Textual here.

Lines differ in their strokes and marks in their signs, so that they are told apart without colour.
"""

from __future__ import annotations

from datetime import date, timedelta
from enum import Enum
from itertools import pairwise
from math import ceil, floor, log10
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.phrases import grouped, say_short
from copydesk.desk.widgets.canvas import Canvas, cells_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from copydesk.desk.widgets.canvas import TonedText


TONES = ("done", "planned", "expected", "wrong", "waits", "axis")
"""What was done, what was planned, what is expected, what is wrong; axes and their labels."""

BLANK_BRAILLE = 0x2800
_DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
"""The bit of each dot of a braille cell, by row from the top and column (Unicode, block Braille Patterns)."""

DOTS_ACROSS, DOTS_DOWN = 2, 4
MOST_TICKS = 6
_TICK_CELLS = 13
"""Cells a day's label needs along the foot, with room around it."""


class Stroke(Enum):
    """How a line is drawn: of every so many dots on its way, so many are set."""

    SOLID = (1, 1)
    DASHED = (4, 7)
    DOTTED = (1, 4)

    def sets(self, step: int) -> bool:
        """Whether the dot at this step of the way is set."""
        drawn, of = self.value
        return step % of < drawn


class PlotLine(NamedTuple):
    """A line through points; what it is called, empty where the key leaves it out."""

    says: str
    tone: str
    stroke: Stroke
    points: tuple[tuple[float, float], ...]


class PlotMarks(NamedTuple):
    """A sign at each of some points, and what they are."""

    says: str
    tone: str
    sign: str
    points: tuple[tuple[float, float], ...]


class Tick(NamedTuple):
    """A value on an axis, and what stands beside it."""

    at: float
    says: str


class Axis(NamedTuple):
    """From where to where an axis goes, and its ticks."""

    least: float
    most: float
    ticks: tuple[Tick, ...]

    def share(self, value: float) -> float:
        """How far along the axis a value is, from 0 to 1."""
        return (value - self.least) / ((self.most - self.least) or 1.0)


class Plot(NamedTuple):
    """Lines and marks between two axes; later ones are drawn over earlier ones."""

    x: Axis
    y: Axis
    drawn: tuple[PlotLine | PlotMarks, ...]


class RangeRow(NamedTuple):
    """A row of a plot of ranges: its name, its value, and from where to where it may really be."""

    says: str
    value: float
    low: float
    high: float


class RangePlot(NamedTuple):
    """Values with their ranges, a row each, over one axis."""

    x: Axis
    rows: tuple[RangeRow, ...]


def round_axis(least: float, most: float, *, whole: bool = False, ticks: int = MOST_TICKS) -> Axis:
    """An axis between two values, its ticks at 1, 2 or 5 times a power of ten, at most so many steps apart."""
    span = (most - least) or 1.0
    size = 10.0 ** floor(log10(span / ticks))
    step = next(each * size for each in (1, 2, 5, 10) if span / (each * size) <= ticks)
    step = max(step, 1.0) if whole else step
    first, last = ceil(least / step - 1e-9), floor(most / step + 1e-9)
    values = [round(at * step, 9) for at in range(first, last + 1)]
    return Axis(least, most, tuple(Tick(at, grouped(int(at) if at == int(at) else at)) for at in values))


def day_axis(first: date, last: date, today: date, width: int) -> Axis:
    """An axis of days with ticks where ``width`` cells have room: days, Mondays, or firsts of months."""
    room = max(min(width // _TICK_CELLS, MOST_TICKS + 2), 1)
    days = [first + timedelta(days=at) for at in range((last - first).days + 1)]
    mondays = [day for day in days if day.weekday() == 0]
    firsts = [day for day in days if day.day == 1]
    by_months = ([day for day in firsts if (day.month - 1) % each == 0] for each in (2, 3, 6, 12))
    ways = (days, mondays, mondays[::2], firsts, *by_months)
    chosen = next((way for way in ways if way and len(way) <= room), [first])
    ticks = tuple(Tick(day.toordinal(), say_short(day, today)) for day in chosen)
    return Axis(first.toordinal(), max(last.toordinal(), first.toordinal() + 1), ticks)


def ticks_for(height: int) -> int:
    """Steps between the ticks up a plot of so many rows: at the least two rows each."""
    return max(min((height - 3) // 2, MOST_TICKS), 1)


def draw_plot(plot: Plot, width: int, height: int) -> list[list[TonedText]]:
    """The plot in rows of cells: its key, its field with the axes, what the ticks say."""
    canvas = Canvas(width, height)
    _key(canvas, plot.drawn)
    left = max((len(tick.says) for tick in plot.y.ticks), default=0) + 1
    field = _Field(canvas, left + 1, 1, width - left - 2, height - 3, plot.x, plot.y)
    canvas.down(left, 1, field.height, "│", "axis")
    for tick in plot.y.ticks:
        row = field.row(tick.at)
        canvas.put(left - 1 - len(tick.says), row, tick.says, "axis")
        canvas.put(left, row, "┤", "axis")
    _foot(canvas, field, plot.x)
    for drawn in plot.drawn:
        if isinstance(drawn, PlotLine):
            field.line(drawn)
    field.show_dots()
    for drawn in plot.drawn:
        if isinstance(drawn, PlotMarks):
            field.marks(drawn)
    return canvas.rows()


def draw_ranges(plot: RangePlot, width: int, height: int) -> list[list[TonedText]]:
    """Each value as a disc on the line of its range, its name at the left; rows without room are left out."""
    shown = plot.rows[: max(height - 2, 0)]
    canvas = Canvas(width, min(len(shown) + 2, height))
    left = min(max((len(row.says) for row in shown), default=0) + 2, width // 2)
    field = _Field(canvas, left + 1, 0, width - left - 2, len(shown), plot.x, Axis(0, 1, ()))
    canvas.down(left, 0, field.height, "│", "axis")
    for at, row in enumerate(shown):
        canvas.put(0, at, f" {row.says}", "axis", left)
        low, high = (field.column(value) for value in (row.low, row.high))
        canvas.across(low, at, high - low + 1, "⠒", "expected")
        canvas.put(field.column(row.value), at, "●", "done")
    _foot(canvas, field, plot.x)
    return canvas.rows()


def _key(canvas: Canvas, drawn: Iterable[PlotLine | PlotMarks]) -> None:
    """What each line and sign is, in one row above the field."""
    x = 2
    for each in drawn:
        if each.says:
            sample = each.sign if isinstance(each, PlotMarks) else _SAMPLES[each.stroke]
            x += canvas.put(x, 0, sample, each.tone) + 1
            x += canvas.put(x, 0, each.says, "axis") + 3


_SAMPLES = {Stroke.SOLID: "⠒⠒⠒", Stroke.DASHED: "⠒⠂⠒⠂", Stroke.DOTTED: "⠂⠐⠂⠐"}


def _foot(canvas: Canvas, field: _Field, axis: Axis) -> None:
    """The axis under the field, with what its ticks say; a label that would run into the one before is left out."""
    row = field.top + field.height
    canvas.put(field.left - 1, row, f"└{'─' * field.width}", "axis")
    free = 0
    for tick in axis.ticks:
        column = field.column(tick.at)
        canvas.put(column, row, "┴", "axis")
        first = min(max(column - len(tick.says) // 2, 0), canvas.width - len(tick.says))
        if first >= free:
            canvas.put(first, row + 1, tick.says, "axis")
            free = first + len(tick.says) + 2


class _Field:
    """The cells between the axes; its dots are gathered first and shown together."""

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, height: int, x: Axis, y: Axis) -> None:
        self._canvas = canvas
        self.left, self.top, self.width, self.height = left, top, max(width, 1), max(height, 1)
        self._x, self._y = x, y
        self._bits: dict[tuple[int, int], int] = {}
        self._tones: dict[tuple[int, int], str] = {}

    def column(self, value: float) -> int:
        """The cell of a value across."""
        return self.left + round(min(max(self._x.share(value), 0.0), 1.0) * (self.width - 1))

    def row(self, value: float) -> int:
        """The cell of a value upward."""
        return self.top + round((1 - min(max(self._y.share(value), 0.0), 1.0)) * (self.height - 1))

    def line(self, line: PlotLine) -> None:
        """Set the dots of a line."""
        across, down = self.width * DOTS_ACROSS - 1, self.height * DOTS_DOWN - 1
        dots = [(self._x.share(x) * across, (1 - self._y.share(y)) * down) for x, y in line.points]
        step = 0
        for (x1, y1), (x2, y2) in pairwise(dots):
            steps = max(ceil(abs(x2 - x1)), ceil(abs(y2 - y1)), 1)
            for at in range(steps + 1):
                if line.stroke.sets(step + at):
                    self._dot(round(x1 + (x2 - x1) * at / steps), round(y1 + (y2 - y1) * at / steps), line.tone)
            step += steps

    def _dot(self, x: int, y: int, tone: str) -> None:
        cell = (x // DOTS_ACROSS, y // DOTS_DOWN)
        if 0 <= cell[0] < self.width and 0 <= cell[1] < self.height:
            self._bits[cell] = self._bits.get(cell, 0) | _DOTS[y % DOTS_DOWN][x % DOTS_ACROSS]
            self._tones[cell] = tone

    def show_dots(self) -> None:
        """Put the dots on the canvas."""
        for (x, y), bits in self._bits.items():
            self._canvas.put(self.left + x, self.top + y, chr(BLANK_BRAILLE + bits), self._tones[x, y])

    def marks(self, marks: PlotMarks) -> None:
        """Put a sign at each point."""
        for x, y in marks.points:
            self._canvas.put(self.column(x), self.row(y), marks.sign, marks.tone, cells_of(marks.sign))


def spread(values: Sequence[float], least: float = 0.0) -> tuple[float, float]:
    """From where to where an axis has to go for these values and ``least``, with a little room above."""
    low, high = min([least, *values]), max([least, *values])
    return low, high + (high - low) * 0.05 or low + 1.0
