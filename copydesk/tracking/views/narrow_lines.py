"""Lines left empty beside spaces and holes, since the next word has no room there, and what width would cure that."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report, rows_of
from copydesk.book.common.phrases import count_of
from copydesk.book.common.sanitize import sanitize
from copydesk.book.common.units import show_length
from copydesk.book.structure.page import Page

if TYPE_CHECKING:
    from collections.abc import Iterable

    from copydesk.book.casting.page_casting import Caster
    from copydesk.book.layout.page_frame import CastLine, Frame, PageCast, Placement
    from copydesk.tracking.state.book_state import BookState


_TRIES = 12
"""Widths tried for a space; each leaves room for a word that the one before had not."""

_TENTHS = 10
"""A width is given in tenths of a millimetre, rounded down, so that it surely cures."""


class NarrowPlace(NamedTuple):
    """Lines left empty beside one space of a page, or beside its holes where ``space`` is empty.

    ``widest`` is the width in mm that the space may have for every line beside it to hold a word; None where no width
    does, or a hole takes the room.
    """

    page: Page
    lines: int
    space: str
    widest: float | None


NARROW: Report[NarrowPlace] = rows_of(
    "plan, narrow lines",
    "Lines of pages still to be written that stay empty, since the next word has no room beside a space or a hole.",
    Column("page", Cell.PAGE, "the page", lambda each: str(each.page)),
    Column("lines", Cell.NUMBER, "lines that stay empty"),
    Column("space", Cell.TEXT, "the space beside them; null for a hole", lambda each: each.space or None),
    Column("widest", Cell.NUMBER, "the width in mm that would leave none empty; null where none would"),
)


def narrow_lines(state: BookState) -> list[NarrowPlace]:
    """Every place of the book where lines are planned to stay empty, in the order of the pages."""
    return [found for index, page in enumerate(state.budget.pages) if page.empty for found in narrow_on(state, index)]


def narrow_on(state: BookState, index: int) -> list[NarrowPlace]:
    """The same on one page, by its index."""
    cast = state.budget.casts[index]
    if cast is None or not cast.empty:
        return []
    page = _TrialPage(state, index, cast)
    empty = [line for line in page.lines(page.frame) if line.start == line.end]
    beside = {placement.id: placement for placement in page.frame.fixed if placement.share > 0.0}
    found = []
    for name, placement in beside.items():
        here = [line for line in empty if (line.column, line.line) in page.frame.lines_of(placement)]
        empty = [line for line in empty if line not in here]
        if here:
            found.append(NarrowPlace(Page.at(index), len(here), name, page.widest(placement, here)))
    return [*found, *([NarrowPlace(Page.at(index), len(empty), "", None)] if empty else [])]


class _TrialPage:
    """A page cast as planned, and again with a space of another width."""

    def __init__(self, state: BookState, index: int, cast: PageCast) -> None:
        frame = state.frame_of(index)
        self._index = index
        self._state = state
        self._start = cast.start
        self._skip = state.budget.pages[index].written
        self._caster: Caster = state.budgeter.caster(state.hand_on(index), state.agreed.get(index))
        self._fixed = state.budget.fixed | {placement.id for placement in cast.placed}
        self.frame: Frame = frame._replace(
            fixed=(*frame.fixed, *(each for each in cast.placed if each not in frame.fixed))
        )

    def lines(self, frame: Frame) -> list[CastLine]:
        """The lines of the page with this frame."""
        limit = max(self._state.budget.pages[self._index].end, self._start.piece)
        start = self._start._replace(waiting=())
        return self._caster.page_lines(
            start, frame, recto=self._index % 2 == 0, limit=limit, skip=self._skip, fixed=self._fixed
        )

    def widest(self, placement: Placement, empty: Iterable[CastLine]) -> float | None:
        """The width in mm a space may have so that no line beside it stays empty; None where there is none."""
        measure, narrowed = self._state.layout.measure, placement
        for _ in range(_TRIES):
            room = max(self._share_wanted(line) for line in empty)
            width = int((1.0 - room) * measure * _TENTHS) / _TENTHS
            if width <= 0:
                return None
            narrowed = placement._replace(share=width / measure)
            others = (narrowed if each == placement else each for each in self.frame.fixed)
            frame = self.frame._replace(fixed=tuple(others))
            beside = set(frame.lines_of(narrowed))
            empty = [
                line for line in self.lines(frame) if line.start == line.end and (line.column, line.line) in beside
            ]
            if not empty:
                return width
        return None

    def _share_wanted(self, line: CastLine) -> float:
        """The share of the measure that the word next to a line needs, or the part of it that may stand there."""
        copy, end = self._caster.lines.copy, line.start + 1
        while end in copy.forced:
            end += 1
        width = copy.sums[end] - copy.sums[line.start] + (copy.hyphen if end in copy.inner else -copy.space)
        return width / self._caster.lines.measure


def narrow_words(state: BookState, place: NarrowPlace) -> str:
    """As in ``3 lines beside space frost on 2r stay empty: too narrow for the next word; 14.5 mm wide leaves none``."""
    many = place.lines > 1
    beside = f"space {place.space}" if place.space else "a hole"
    page = state.book.named(place.page)
    said = f"{count_of(place.lines, 'line')} beside {beside} on {page} {'stay' if many else 'stays'} empty, too narrow"
    said += " for the next word"
    if not place.space:
        return said
    if place.widest is None:
        return sanitize(f"{said}; no width of the space would cure that")
    return sanitize(f"{said}; a space at most {show_length(place.widest, state.book.unit)} wide would leave none")
