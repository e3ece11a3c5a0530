"""The page laid out: written space, columns, ruled lines and prickings, all in millimetres.

Two ways of measuring are used. *From the fold* is the same on recto and verso, which mirror each other; *from
the left* is what the eye sees on one page, where a recto's left edge is the fold and a verso's is its outer edge.

Writing may begin below the top ruled line or above it. Below it, the top ruled line bounds the written space
and the first written line stands on the second: L written lines need L + 1 ruled ones (the mmfc 13267 leaf: 68
written, 69 ruled). Above it, the first written line stands on the top ruled line: L written lines need L ruled
ones with L - 1 spaces between them (Bodleian, MS. St. Amand 32: 37 written, 36 ruled). In either case the
written space between head and foot margin holds L line heights, so that turning the setting moves no line of text.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Literal, NamedTuple

from copydesk.book.common.errors import DoesNotFitError, InvalidValueError
from copydesk.book.common.phrases import decimal
from copydesk.book.common.units import Unit, show_length
from copydesk.book.layout.canons import canon
from copydesk.book.structure.page import Side

if TYPE_CHECKING:
    from copydesk.book.plan import Columns, Margins, PageSize, Ruling, Script


LEAST_LINE_HEIGHT = 0.5
"""No pen writes lines closer than half a millimetre; less is a slip in the figures."""

LEAST_MEASURE = 5.0
"""A column narrower than five millimetres holds no word."""

_HAIR = 1e-6  # a millionth of a millimetre: what arithmetic loses, never what a ruler sees


class Rectangle(NamedTuple):
    """A rectangle on a page as one sees it: mm from its left edge and from its head edge, and its size in mm."""

    left: float
    top: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """Its right side, mm from the page's left edge."""
        return self.left + self.width

    @property
    def bottom(self) -> float:
        """Its lower side, mm from the head edge."""
        return self.top + self.height


class PageLayout(NamedTuple):
    """Every page of the book as it is ruled: sizes in mm, ``lines`` written lines in each of ``columns`` columns."""

    width: float
    height: float
    margins: Margins
    columns: int
    gap: float
    lines: int
    line_height: float
    first_line: Literal["below", "above"] = "below"

    @property
    def written_width(self) -> float:
        """Width of the written space, gaps of columns included."""
        return self.width - self.margins.inner - self.margins.outer

    @property
    def written_height(self) -> float:
        """Height of the written space: that of its ruled lines. What the margins leave over is at the foot."""
        return self.lines * self.line_height

    @property
    def measure(self) -> float:
        """Width of one column."""
        return (self.written_width - (self.columns - 1) * self.gap) / self.columns

    @property
    def lines_a_page(self) -> int:
        """Written lines in all columns of a page."""
        return self.lines * self.columns

    @property
    def baselines(self) -> tuple[float, ...]:
        """Where each written line stands, mm from the head edge, first to last."""
        return tuple(self.margins.head + number * self.line_height for number in range(1, self.lines + 1))

    @property
    def ruled(self) -> tuple[float, ...]:
        """Every ruled line, mm from the head edge: one more than is written where writing begins below the top one."""
        top = (self.margins.head,) if self.first_line == "below" else ()
        return top + self.baselines

    @property
    def bounding(self) -> tuple[float, ...]:
        """The bounding lines of all columns, mm from the fold; two columns that touch share one."""
        return tuple(dict.fromkeys(round(edge, 6) for span in self._spans_from_fold() for edge in span))

    @property
    def prickings(self) -> dict[str, list[float]]:
        """Where to prick: ``horizontal`` from the head edge (ruled lines), ``vertical`` from the fold (bounding)."""
        return {
            "horizontal": [round(position, 4) for position in self.ruled],
            "vertical": [round(position, 4) for position in self.bounding],
        }

    def with_lines(self, lines: int) -> PageLayout:
        """The same page with other lines of the same height: the foot margin takes or gives the room.

        Raises:
            DoesNotFitError: where the foot margin has not so much to give.
        """
        foot = self.margins.foot - (lines - self.lines) * self.line_height
        if foot < 0:
            most = self.lines + int(self.margins.foot / self.line_height)
            raise DoesNotFitError(
                f"a page has room for {most} lines of {decimal(self.line_height, 2)} mm, not for {lines}; give fewer"
            )
        return self._replace(lines=lines, margins=self.margins._replace(foot=foot))

    def column_lefts(self, side: Side) -> tuple[float, ...]:
        """The left edge of each column in reading order, mm from the page's left edge."""
        first = self.margins.inner if side is Side.RECTO else self.margins.outer
        return tuple(first + number * (self.measure + self.gap) for number in range(self.columns))

    def line_band(self, line: int) -> tuple[float, float]:
        """The room of a written line (from 1): its upper and lower bound, mm from the head edge."""
        lower = self.margins.head + line * self.line_height
        return lower - self.line_height, lower

    def from_left(self, from_fold: float, side: Side) -> float:
        """A place measured from the fold, measured from the page's left edge instead."""
        return from_fold if side is Side.RECTO else self.width - from_fold

    def _spans_from_fold(self) -> tuple[tuple[float, float], ...]:
        step = self.measure + self.gap
        nearer = (self.margins.inner + number * step for number in range(self.columns))
        return tuple((edge, edge + self.measure) for edge in nearer)


def lay_out(page: PageSize, columns: Columns, ruling: Ruling, script: Script, unit: Unit = "mm") -> PageLayout:
    """Lay a page out from what was planned; whatever is not given is worked out.

    Margins come from the page or its canon. The line height is the written height shared among ``ruling.lines``;
    or ``ruling.unit``, and then as many lines as fit; or, with neither, the unit the script asks for.

    Raises:
        CopydeskError: where the page cannot be: each reason a sentence, its lengths in ``unit``.
    """
    page, columns = _with_canon(page, columns)
    _refuse_if(_page_problems(page, unit) or _column_problems(page, columns, unit))
    written_height = page.height - page.margins.head - page.margins.foot
    lines, line_height = _agree_lines(written_height, ruling, script, unit)
    return PageLayout(
        page.width, page.height, page.margins, columns.count, columns.gap, lines, line_height, ruling.first_line
    )


def script_unit(script: Script) -> float | None:
    """The ruling unit a script asks for, in mm: nib × (x-height + ascender + descender + interline), None without nib.

    Heights are in nib widths, as the handbooks give them (E. Johnston 1906, pp. 84, 325).
    """
    if script.nib is None:
        return None
    return script.nib * (sum(script.heights) + script.interline)


def place_of(layout: PageLayout, side: Side, column: int, from_line: int, size: tuple[float, float]) -> Rectangle:
    """Where a space of ``size`` (width, height) stands: its column and its first line are counted from 1."""
    top, _ = layout.line_band(from_line)
    return Rectangle(layout.column_lefts(side)[column - 1], top, *size)


def _with_canon(page: PageSize, columns: Columns) -> tuple[PageSize, Columns]:
    if page.margins.canon is None:
        return page, columns
    given = canon(page.margins.canon, page.width, page.height)
    ruled = page._replace(margins=given.margins._replace(canon=page.margins.canon))
    if given.gap is None or columns.count == 1 or columns.gap > 0:
        return ruled, columns
    return ruled, replace(columns, gap=given.gap)


def _agree_lines(written_height: float, ruling: Ruling, script: Script, shown: Unit) -> tuple[int, float]:
    """Written lines a column and their height in mm."""
    _refuse_if(_ruling_problems(ruling))
    if ruling.lines is not None and ruling.unit is None:
        return _checked_lines(ruling.lines, written_height / ruling.lines, written_height, shown)
    unit = ruling.unit if ruling.unit is not None else script_unit(script)
    if unit is None or unit <= 0:
        raise InvalidValueError(
            "nothing says how the page is ruled: give ruling lines, a ruling unit, or the script's nib"
        )
    lines = ruling.lines if ruling.lines is not None else math.floor(written_height / unit + _HAIR)
    return _checked_lines(lines, unit, written_height, shown)


def _checked_lines(lines: int, line_height: float, written_height: float, unit: Unit) -> tuple[int, float]:
    if lines < 1:
        raise DoesNotFitError(
            f"no line of {show_length(line_height, unit)} goes into a written height of "
            f"{show_length(written_height, unit)}; "
            "choose a smaller ruling unit or nib, or smaller margins"
        )
    if line_height < LEAST_LINE_HEIGHT:
        raise DoesNotFitError(f"{lines} lines would stand {show_length(line_height, unit)} apart; choose fewer lines")
    if lines * line_height > written_height + _HAIR * lines:
        raise DoesNotFitError(
            f"{lines} lines of {show_length(line_height, unit)} need {show_length(lines * line_height, unit)}, "
            f"but the written height is {show_length(written_height, unit)}; choose fewer lines or a smaller unit"
        )
    return lines, line_height


def _page_problems(page: PageSize, unit: Unit) -> list[str]:
    margins = page.margins
    problems = []
    if page.width <= 0 or page.height <= 0:
        problems.append("a page needs a width and a height above 0")
    if min(margins.inner, margins.head, margins.outer, margins.foot) < 0:
        problems.append("a margin cannot be less than 0")
    for names, total, length, name in (
        ("inner and outer", margins.inner + margins.outer, page.width, "width"),
        ("head and foot", margins.head + margins.foot, page.height, "height"),
    ):
        if total >= length:
            problems.append(
                f"{names} margins together take {show_length(total, unit)} of a page {name} of "
                f"{show_length(length, unit)}; nothing is left to write on"
            )
    return problems


def _column_problems(page: PageSize, columns: Columns, unit: Unit) -> list[str]:
    if columns.count < 1:
        return ["a page needs at least one column"]
    if columns.gap < 0:
        return ["the gap of columns cannot be less than 0"]
    written_width = page.width - page.margins.inner - page.margins.outer
    if (written_width - (columns.count - 1) * columns.gap) / columns.count < LEAST_MEASURE:
        return [
            f"{columns.count} columns with {show_length(columns.gap, unit)} between them do not go into a written "
            f"width of {show_length(written_width, unit)}; choose fewer columns or a smaller gap"
        ]
    return []


def _ruling_problems(ruling: Ruling) -> list[str]:
    problems = []
    if ruling.lines is not None and ruling.lines < 1:
        problems.append("a column needs at least one ruled line")
    if ruling.unit is not None and ruling.unit <= 0:
        problems.append("the ruling unit must be above 0")
    return problems


def _refuse_if(problems: list[str]) -> None:
    if problems:
        raise DoesNotFitError(*problems)
