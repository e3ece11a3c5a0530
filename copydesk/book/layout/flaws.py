"""Holes and short edges: what a flaw of a leaf takes from the lines of its two pages.

A flaw is noted once, as seen on the recto, in mm from the head edge and from the fold. On the verso it lies as far
from the head and from the fold, so in the mirrored place, and meets other columns. It takes each line whose room
between ruled lines it enters; of the line, the stretches beside it stay for writing, or the larger one alone where
the scribe does not go on beyond a hole.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.units import Unit, show_length, show_size
from copydesk.book.layout.page_frame import SplitLine
from copydesk.book.layout.page_layout import PageLayout, Rectangle
from copydesk.book.structure.page import Side

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from copydesk.book.plan import Flaw


LEAST_SHARE = 0.2
"""A stretch shorter than a fifth of the measure holds a word at most and is left blank."""

_HAIR = 1e-6


class TouchedLine(NamedTuple):
    """A line that a flaw shortens: column and line from 1, and the stretches left, mm from the column's left edge."""

    column: int
    line: int
    stretches: tuple[tuple[float, float], ...]

    @property
    def largest(self) -> tuple[float, float]:
        """The largest stretch, the first of equals; empty at 0 where none is left."""
        return max(self.stretches, key=_length, default=(0.0, 0.0))


def flaw_place(layout: PageLayout, flaw: Flaw, side: Side) -> Rectangle:
    """Where a flaw is seen on one side of its leaf, mm from that page's left and head edges."""
    left = flaw.from_fold if side is Side.RECTO else layout.width - flaw.from_fold - flaw.width
    return Rectangle(left, flaw.from_head, flaw.width, flaw.height)


def room_around(layout: PageLayout, flaws: Iterable[Flaw], side: Side) -> tuple[TouchedLine, ...]:
    """The lines that all flaws of a leaf touch on one side, and the stretches left of each."""
    places = [flaw_place(layout, flaw, side) for flaw in flaws]
    touched = []
    for column, left in enumerate(layout.column_lefts(side), 1):
        within = [
            place for place in places if place.right > left + _HAIR and place.left < left + layout.measure - _HAIR
        ]
        for line in sorted({line for place in within for line in _lines_beside(layout, place)}):
            blocked = [(place.left - left, place.right - left) for place in within if _enters(layout, place, line)]
            touched.append(TouchedLine(column, line, _stretches(blocked, layout.measure)))
    return tuple(touched)


def shares_left(
    layout: PageLayout, flaws: Iterable[Flaw], side: Side, *, both_sides: bool = False
) -> tuple[tuple[int, int, float], ...]:
    """Column, line and the share of its measure left for writing, 0 where that is less than :data:`LEAST_SHARE`.

    With ``both_sides``, a line of which several such stretches are left is a ``SplitLine``.
    """
    found = []
    for each in room_around(layout, flaws, side):
        shares = tuple(_length(stretch) / layout.measure for stretch in each.stretches)
        wide = tuple(share for share in shares if share >= LEAST_SHARE)
        found.append((each.column, each.line, _share(wide, both_sides=both_sides)))
    return tuple(found)


def _share(wide: tuple[float, ...], *, both_sides: bool) -> float:
    return SplitLine(wide) if both_sides and len(wide) > 1 else max(wide, default=0.0)


def kept_edges(layout: PageLayout, flaw: Flaw) -> tuple[bool, ...]:
    """The edges a flaw may keep as it is made narrower: True for that towards the fold, False for the other.

    A flaw that reaches the fold or the fore-edge keeps that edge; a hole may keep either.
    """
    if flaw.from_fold <= _HAIR:
        return (True,)
    return (False,) if flaw.from_fold + flaw.width >= layout.width - _HAIR else (True, False)


def narrower(flaw: Flaw, width: float, *, at_fold: bool) -> Flaw:
    """The flaw at another width in mm, where its edge towards the fold stays (``at_fold``) or the other does."""
    from_fold = flaw.from_fold if at_fold else flaw.from_fold + flaw.width - width
    return flaw._replace(from_fold=from_fold, width=width)


def width_leaving(layout: PageLayout, flaw: Flaw, side: Side, room: float, *, at_fold: bool) -> float:
    """The width in mm that a flaw may have to leave a stretch of ``room`` mm in each column it lies in, one edge kept.

    At most its own width; 0 or less where no width leaves so much.
    """
    place, widths = flaw_place(layout, flaw, side), [flaw.width]
    for left in layout.column_lefts(side):
        if place.right > left + _HAIR and place.left < left + layout.measure - _HAIR:
            if at_fold is (side is Side.RECTO):  # the left edge as seen stays
                there, beyond = place.left - left, left + layout.measure - place.left
            else:
                there, beyond = left + layout.measure - place.right, place.right - left
            widths += [] if there >= room else [beyond - room]
    return min(widths)


def flaw_problem(width: float, height: float, flaw: Flaw, unit: Unit = "mm") -> str | None:
    """Why a flaw cannot be on a leaf of this size (mm), as a sentence with lengths in ``unit``; None where it can."""
    if flaw.width <= 0 or flaw.height <= 0:
        return f"the flaw of leaf {flaw.leaf} needs a width and a height above 0"
    if min(flaw.from_fold, flaw.from_head) < 0:
        return f"the flaw of leaf {flaw.leaf} begins outside the leaf; measure from its fold and head edge"
    if flaw.from_fold + flaw.width > width + _HAIR or flaw.from_head + flaw.height > height + _HAIR:
        return (
            f"the flaw of leaf {flaw.leaf} ends {show_length(flaw.from_fold + flaw.width, unit)} from the fold and "
            f"{show_length(flaw.from_head + flaw.height, unit)} from the head edge, beyond a leaf of "
            f"{show_size(width, height, unit)}; measure again"
        )
    return None


def _lines_beside(layout: PageLayout, place: Rectangle) -> range:
    """The lines whose room a flaw enters from above or below, as line numbers."""
    first = int((place.top - layout.margins.head + _HAIR) // layout.line_height) + 1
    last = -int(-(place.bottom - layout.margins.head - _HAIR) // layout.line_height)
    return range(max(first, 1), min(last, layout.lines) + 1)


def _enters(layout: PageLayout, place: Rectangle, line: int) -> bool:
    return line in _lines_beside(layout, place)


def _stretches(blocked: Sequence[tuple[float, float]], measure: float) -> tuple[tuple[float, float], ...]:
    """The stretches of 0..measure free of all blocked ones, from left to right."""
    found, free_from = [], 0.0
    for begins, ends in [*sorted(blocked), (measure, measure)]:
        if begins - free_from > _HAIR:
            found.append((free_from, begins))
        free_from = max(free_from, ends)
    return tuple(found)


def _length(stretch: tuple[float, float]) -> float:
    """The length of a stretch, in whole units of a hair, so that equal ones count as equal."""
    return round((stretch[1] - stretch[0]) / _HAIR) * _HAIR
