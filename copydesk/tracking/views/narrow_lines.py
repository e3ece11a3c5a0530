"""Lines without text beside spaces and flaws, and what width of these would cure that.

They stay empty since the next word has no room there, or since a flaw leaves less of the line than is written on.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report, rows_of
from copydesk.book.common.phrases import count_of
from copydesk.book.common.sanitize import sanitize
from copydesk.book.common.units import show_length
from copydesk.book.layout.flaws import LEAST_SHARE, kept_edges, narrower, room_around, shares_left, width_leaving
from copydesk.book.structure.page import Page, Side

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from copydesk.book.casting.page_casting import Caster
    from copydesk.book.layout.page_frame import CastLine, Frame, PageCast, Placement
    from copydesk.book.plan import Flaw
    from copydesk.tracking.state.book_state import BookState


_TRIES = 12
"""Widths tried for a space; each leaves room for a word that the one before had not."""

_TENTHS = 10
"""A width is given in tenths of a millimetre, rounded down, so that it surely cures."""


class NarrowPlace(NamedTuple):
    """Lines left empty beside one space of a page, or beside one flaw of its leaf where ``space`` is empty.

    ``widest`` is the width in mm that the space or the flaw may have for every line beside it to hold a word; None
    where no width does.
    """

    page: Page
    lines: int
    space: str
    widest: float | None
    flaw: Flaw | None = None


NARROW: Report[NarrowPlace] = rows_of(
    "plan, narrow lines",
    "Lines of pages still to be written that stay empty, since the next word has no room beside a space or a flaw.",
    Column("page", Cell.PAGE, "the page", lambda each: str(each.page)),
    Column("lines", Cell.NUMBER, "lines that stay empty"),
    Column("space", Cell.TEXT, "the space beside them; null for a flaw", lambda each: each.space or None),
    Column(
        "flaw",
        Cell.NUMBER,
        "how far from the head edge the flaw beside them begins, in mm; null for a space",
        lambda each: each.flaw.from_head if each.flaw else None,
    ),
    Column("widest", Cell.NUMBER, "the width in mm that would leave none empty; null where none would"),
)


def narrow_lines(state: BookState) -> list[NarrowPlace]:
    """Every place of the book where lines are planned to stay empty, in the order of the pages."""
    pages = enumerate(state.budget.pages)
    there = (index for index, page in pages if page.empty or Page.at(index).leaf in state.flaws)
    return [found for index in there for found in narrow_on(state, index)]


def narrow_on(state: BookState, index: int) -> list[NarrowPlace]:
    """The same on one page, by its index."""
    cast = state.budget.casts[index]
    flaws = [found.flaw for found in state.flaws.get(Page.at(index).leaf, ())]
    if cast is None or not (cast.empty or flaws):
        return []
    page = _TrialPage(state, index, cast)
    empty, lost = page.empty(), page.lost()
    found = []
    for placement in (each for each in page.frame.fixed if each.share > 0.0):
        here = {at: line for at, line in empty.items() if at in page.frame.lines_of(placement)}
        empty = {at: line for at, line in empty.items() if at not in here}
        if here:
            found.append(NarrowPlace(Page.at(index), len(here), placement.id, page.widest(placement, here.values())))
    for flaw in flaws:
        beside = page.beside(flaw)
        here = {at: line for at, line in empty.items() if at in beside}
        if many := len(here) + len(lost & beside):
            widest = page.widest_flaw(flaw, here.values())
            found.append(NarrowPlace(Page.at(index), many, "", widest, flaw))
        empty, lost = {at: line for at, line in empty.items() if at not in beside}, lost - beside
    return found


class _TrialPage:
    """A page cast as planned, and again with a space or a flaw of another width."""

    def __init__(self, state: BookState, index: int, cast: PageCast) -> None:
        frame, pages = state.frame_of(index), state.budget.pages
        self.layout = state.layout_on(index)
        self._state = state
        self._page = Page.at(index)
        self._start = cast.start
        self._skip = pages[index].written
        self._end = max(pages[index].end, cast.start.piece)
        # With more room the text of the next page comes up here, unless it is held there.
        more = pages[index + 1 : index + 2]
        self._next_end = max([self._end, *(page.end for page in more if page.stretch == pages[index].stretch)])
        self._caster: Caster = state.budgeter.caster(state.hand_on(index), state.agreed.get(index))
        self._fixed = state.budget.fixed | {placement.id for placement in cast.placed}
        self.frame: Frame = frame._replace(
            fixed=(*frame.fixed, *(each for each in cast.placed if each not in frame.fixed))
        )

    def _lines(self, frame: Frame, limit: int) -> list[CastLine]:
        """The lines of the page with this frame, those left blank between stanzas aside."""
        start, recto = self._start._replace(waiting=()), self._page.side is Side.RECTO
        lines = self._caster.page_lines(start, frame, recto=recto, limit=limit, skip=self._skip, fixed=self._fixed)
        copy = self._caster.lines.copy
        return [line for line in lines if line.start < line.end or not copy.blank_before(line.start)]

    def empty(self) -> dict[tuple[int, int], CastLine]:
        """The lines that stay empty as planned, by column and line."""
        return {(line.column, line.line): line for line in self._lines(self.frame, self._end) if line.start == line.end}

    def lost(self) -> set[tuple[int, int]]:
        """Column and line of those that flaws take whole where text would stand, beyond what is written."""
        places, gone = self.frame.text_places(), self.frame.lost
        cast = [(line.column, line.line) for line in self._lines(self.frame, self._end)]
        if not gone or not cast:
            return set()
        full, written = cast[-1] == places[-1], places[self._skip - 1] if self._skip else (0, 0)
        return {at for at in gone if written < at and (full or at < cast[-1])}

    def widest(self, placement: Placement, empty: Iterable[CastLine]) -> float | None:
        """The width in mm a space may have so that no line beside it stays empty; None where there is none."""

        def with_width(width: float) -> tuple[Frame, set[tuple[int, int]]]:
            other = placement._replace(share=width / self.layout.measure)
            fixed = (other if each == placement else each for each in self.frame.fixed)
            frame = self.frame._replace(fixed=tuple(fixed))
            return frame, set(frame.lines_of(other))

        return self._widest(with_width, lambda room: self.layout.measure - room, empty)

    def widest_flaw(self, flaw: Flaw, empty: Iterable[CastLine]) -> float | None:
        """The width in mm a flaw may have, as narrow as it is made from one side, so that no line stays empty."""
        side, found, beside = self._page.side, list[float](), self.beside(flaw)
        others = [each.flaw for each in self._state.flaws[flaw.leaf] if each.flaw != flaw]
        for at_fold in kept_edges(self.layout, flaw):

            def with_width(width: float, at_fold: bool = at_fold) -> tuple[Frame, set[tuple[int, int]]]:
                return self._with_flaws([*others, narrower(flaw, width, at_fold=at_fold)]), beside

            def width_for(room: float, at_fold: bool = at_fold) -> float:
                return width_leaving(self.layout, flaw, side, room, at_fold=at_fold)

            width = self._widest(with_width, width_for, empty)
            found += [width] if width is not None else []
        return max(found, default=None)

    def beside(self, flaw: Flaw) -> set[tuple[int, int]]:
        """Column and line of every line a flaw touches."""
        return {(each.column, each.line) for each in room_around(self.layout, (flaw,), self._page.side)}

    def _with_flaws(self, flaws: Iterable[Flaw]) -> Frame:
        """The page with narrower flaws: each line that flaws touch has the room it had, or more."""
        both = self._state.book.flow.both_sides
        shares = shares_left(self.layout, flaws, self._page.side, both_sides=both)
        now = {(column, line): share for column, line, share in shares}
        room = ((column, line, max(now.get((column, line), 1.0), share)) for column, line, share in self.frame.flaws)
        return self.frame._replace(flaws=tuple(room))

    def _widest(
        self,
        with_width: Callable[[float], tuple[Frame, set[tuple[int, int]]]],
        width_for: Callable[[float], float],
        empty: Iterable[CastLine],
    ) -> float | None:
        """The width at which no line beside it stays empty, from the words that want room; None without one."""
        least = LEAST_SHARE * self.layout.measure
        room = 0.0 if empty else least
        for _ in range(_TRIES):
            room = max([room, *(self._room_wanted(line) for line in empty)])
            width = int(width_for(room) * _TENTHS) / _TENTHS
            if width <= 0:
                return None
            frame, beside = with_width(width)
            lines = self._lines(frame, self._next_end)
            empty = [line for line in lines if line.start == line.end and (line.column, line.line) in beside]
            if beside & frame.lost:
                room = max(room, least)
            elif not empty:
                return width
        return None

    def _room_wanted(self, line: CastLine) -> float:
        """The room in mm that the word next to a line needs, or the part of it that may stand there."""
        copy, end = self._caster.lines.copy, line.start + 1
        while end in copy.forced:
            end += 1
        return copy.width(line.start, end) / self._caster.lines.measure * self.layout.measure


def narrow_sentences(state: BookState, index: int) -> list[str]:
    """What there is to say of the lines left empty on one page, by its index."""
    return [narrow_words(state, place) for place in narrow_on(state, index)]


def narrow_words(state: BookState, place: NarrowPlace) -> str:
    """As in ``3 lines beside space frost on 2r stay empty: too narrow for the next word; 14.5 mm wide leaves none``."""
    many = place.lines > 1
    page, unit = state.book.named(place.page), state.book.unit
    beside, kind = f"space {place.space} on {page}", "space"
    if place.flaw is not None:
        beside, kind = f"the flaw {show_length(place.flaw.from_head, unit)} from the head of {page}", "flaw"
    said = f"{count_of(place.lines, 'line')} beside {beside} {'stay' if many else 'stays'} empty, too narrow"
    said += " for the next word"
    if place.widest is None:
        return sanitize(f"{said}; no width of the {kind} would cure that")
    return sanitize(f"{said}; a {kind} at most {show_length(place.widest, unit)} wide would leave none")
