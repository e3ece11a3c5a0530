"""The figures of a plan that can be tried one at a time: their names, the step of a change, and what they change.

A changed book is only tried here; whoever likes it keeps it in ``book.yaml``.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Literal, NamedTuple

from copydesk.book.common.errors import InvalidValueError, UnknownNameError
from copydesk.book.common.phrases import decimal, grouped
from copydesk.book.common.typed_values import read_length, read_whole
from copydesk.book.common.units import LENGTH_PLACES, MM_PER, Unit, show_length
from copydesk.book.layout.canons import canon
from copydesk.book.plan import Margins, Ruling

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from copydesk.book.layout.page_layout import PageLayout
    from copydesk.book.plan import Book


Sort = Literal["length", "fine", "count", "letters"]
"""``length``: mm, by whole millimetres or sixteenths of an inch; ``fine``: mm, by tenths; ``letters``: to a line."""

_STEPS: Mapping[Sort, float] = {"length": 1.0, "fine": 0.1, "count": 1.0, "letters": 1.0}
_SIXTEENTH = MM_PER["in"] / 16
_HAIR = 1e-6  # what arithmetic loses
LETTERS = "letters"
"""Letters to a line of the book's first hand; ``letters.B`` are those of hand B."""


class Figure(NamedTuple):
    """One figure: its name on the command line, what people call it, its sort, how it is read and put."""

    name: str
    says: str
    sort: Sort
    value: Callable[[Book, PageLayout], float | None]
    put: Callable[[Book, float], Book]
    least: float = 0.0


class Trial(NamedTuple):
    """What is tried: figures by name, and for each hand how many times its letters to a line were multiplied."""

    figures: Mapping[str, float] = {}
    closer: Mapping[str, float] = {}

    @property
    def empty(self) -> bool:
        """Whether nothing is changed."""
        return not self.figures and not self.closer

    def with_figure(self, name: str, value: float, planned: float | None) -> Trial:
        """The same with one figure changed; as planned again where the value is the planned one."""
        figures = {other: kept for other, kept in self.figures.items() if other not in (name, _INSTEAD.get(name))}
        if planned is None or abs(value - planned) > _HAIR:
            figures[name] = value
        return self._replace(figures=figures)

    def with_letters(self, hand: str, letters: float, now: float) -> Trial:
        """The same where a hand puts ``letters`` on the line on which it puts ``now`` in this trial."""
        factor = self.closer.get(hand, 1.0) * letters / now
        closer = {other: kept for other, kept in self.closer.items() if other != hand}
        if abs(factor - 1) > _HAIR:
            closer[hand] = factor
        return self._replace(closer=closer)


_INSTEAD = {"lines": "unit", "unit": "lines"}
"""Figures that follow from one another: changing one drops a change of the other."""


def tried(book: Book, figures: Mapping[str, float]) -> Book:
    """The book with these figures; hands are left as they are, since their letters follow from page and nib.

    Raises:
        InvalidValueError: where two of them contradict each other.
    """
    if "lines" in figures and "unit" in figures:
        raise InvalidValueError("lines a column and line height follow from one another; give one of the two")
    for figure in FIGURES:
        if figure.name in figures:
            book = figure.put(book, figures[figure.name])
    return book


def figure_named(name: str) -> Figure:
    """The figure called ``name``.

    Raises:
        UnknownNameError: where there is none.
    """
    for figure in FIGURES:
        if figure.name == name:
            return figure
    known = ", ".join(figure.name for figure in FIGURES)
    raise UnknownNameError(f"{name!r} is no figure of the plan; give one of {known}, letters or letters.HAND")


def step_of(sort: Sort, unit: Unit) -> float:
    """How far one press turns a figure."""
    return _SIXTEENTH if sort == "length" and unit == "in" else _STEPS[sort]


def turned(figure: Figure, value: float | None, steps: int, unit: Unit) -> float:
    """The value some steps on, the first of them to a whole step, never below the least the figure can be."""
    return max(_stepped(figure.sort, value if value is not None else figure.least, steps, unit), figure.least)


def turned_letters(letters: float, steps: int) -> float:
    """Letters to a line some steps on."""
    return max(_stepped("letters", letters, steps, "mm"), 1.0)


def _stepped(sort: Sort, value: float, steps: int, unit: Unit) -> float:
    step = step_of(sort, unit)
    whole = math.floor(value / step + _HAIR) if steps > 0 else math.ceil(value / step - _HAIR)
    return round((whole + steps) * step, 4)


def read_figure(figure: Figure, text: str) -> float:
    """The value a person gives a figure: a length may say its unit.

    Raises:
        InvalidValueError: where it is no such value.
    """
    value = read_whole(text, figure.says) if figure.sort == "count" else read_length(text, figure.says)
    if value < figure.least:
        raise InvalidValueError(f"{figure.says} cannot be {decimal(value)}; the least is {decimal(figure.least)}")
    return value


def show_figure(sort: Sort, value: float | None, unit: Unit) -> str:
    """A value as people read it."""
    if value is None:
        return "none"
    if sort in ("length", "fine"):
        return show_length(value, unit)
    return grouped(round(value, 1)) if sort == "letters" else f"{value:.0f}"


def _margin(side: str, says: str) -> Figure:
    def put(book: Book, value: float) -> Book:
        book, change = _without_canon(book), {side: value}
        return replace(book, page=book.page._replace(margins=book.page.margins._replace(**change)))  # type: ignore[arg-type]

    return Figure(side, says, "length", lambda _, layout: float(getattr(layout.margins, side)), put)


def _without_canon(book: Book) -> Book:
    """The same page with the figures its canon gives, so that one of them can be turned."""
    page = book.page
    if page.margins.canon is None:
        return book
    given, columns = canon(page.margins.canon, page.width, page.height), book.columns
    if given.gap is not None and columns.gap == 0:
        columns = replace(columns, gap=round(given.gap, LENGTH_PLACES))
    four = (given.margins.inner, given.margins.head, given.margins.outer, given.margins.foot)
    inner, head, outer, foot = (round(margin, LENGTH_PLACES) for margin in four)
    margins = Margins(inner, head, outer, foot)
    return replace(book, page=page._replace(margins=margins), columns=columns)


def _size(side: str, says: str) -> Figure:
    def put(book: Book, value: float) -> Book:
        change = {side: value}
        return replace(book, page=book.page._replace(**change))  # type: ignore[arg-type]

    return Figure(side, says, "length", lambda book, _: float(getattr(book.page, side)), put, 1.0)


def _put_lines(book: Book, value: float) -> Book:
    return replace(book, ruling=Ruling(lines=round(value), first_line=book.ruling.first_line))


def _put_unit(book: Book, value: float) -> Book:
    return replace(book, ruling=Ruling(unit=value, first_line=book.ruling.first_line))


def _put_sheets(book: Book, value: float) -> Book:
    return replace(book, gatherings=replace(book.gatherings, sheets=round(value), count=None, formula=None))


FIGURES: tuple[Figure, ...] = (
    _size("width", "page width"),
    _size("height", "page height"),
    _margin("inner", "inner margin"),
    _margin("head", "head margin"),
    _margin("outer", "outer margin"),
    _margin("foot", "foot margin"),
    Figure(
        "columns",
        "columns",
        "count",
        lambda _, layout: layout.columns,
        lambda book, value: replace(book, columns=replace(book.columns, count=round(value))),
        1.0,
    ),
    Figure(
        "gap",
        "gap of columns",
        "length",
        lambda _, layout: layout.gap,
        lambda book, value: replace(book, columns=replace(book.columns, gap=value)),
    ),
    Figure("lines", "lines a column", "count", lambda _, layout: layout.lines, _put_lines, 1.0),
    Figure("unit", "line height", "fine", lambda _, layout: layout.line_height, _put_unit, 0.1),
    Figure(
        "nib",
        "nib",
        "fine",
        lambda book, _: book.script.nib,
        lambda book, value: replace(book, script=book.script._replace(nib=value)),
        0.1,
    ),
    Figure("sheets", "sheets a gathering", "count", lambda book, _: book.gatherings.sheets, _put_sheets, 1.0),
)
"""Every figure but the hands' letters, in the order of the planner's table, which is the order they are put in."""
