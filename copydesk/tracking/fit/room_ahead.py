"""How tight the room is from a page on, and how close to write so as to land right."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.casting.closeness import letters_needed
from copydesk.book.structure.page import Page
from copydesk.tracking.fit.stretches import need_at

if TYPE_CHECKING:
    from copydesk.tracking.state.book_state import BookState


class Room(NamedTuple):
    """The pages up to the next text that is settled, the lines over, and letters a line.

    ``last`` is the last of those pages; None where nothing is settled further on and the text fits: then there is
    nothing to land on. ``over`` is below 0 where room is left. ``usual`` is what the hand writes of itself (or what
    was agreed on for the page), ``needed`` what lands right, None where no closeness within reason does.
    """

    first: Page
    last: Page | None
    over: int
    needed: float | None
    usual: float


def room_ahead(state: BookState, index: int, hand: str = "") -> Room:
    """The room from the page at ``index`` on, for the hand expected there, or for ``hand``."""
    budget = state.budget
    usual = state.agreed.get(index) or state.letters_of(hand or pen_of(state, index))
    held = need_at(state, index)
    if held is not None:
        return Room(Page.at(held.first), Page.at(held.last), held.over, held.needed if held.over else usual, usual)
    if budget.lines_without_room and _is_open(state, index):
        return _to_the_end(state, index, usual)
    return Room(Page.at(index), None, 0, usual, usual)


def pen_of(state: BookState, index: int) -> str:
    """The hand that goes on with a page."""
    record = state.record(state.skin_at(index))
    return record.pen if record.stints and record.pen else state.hand_of(index)


def _is_open(state: BookState, index: int) -> bool:
    """Whether nothing is settled on the pages after this one."""
    return not any(at > index for at in state.pins)


def _to_the_end(state: BookState, index: int, usual: float) -> Room:
    """The rest of the book as one stretch, where its text does not fit."""
    budget, pages = state.budget, state.budget.pages[index:]
    cast = budget.casts[index]
    start = cast.start.piece if cast is not None else pages[0].end
    room = sum(page.room - page.written for page in pages)
    needed = letters_needed(state.copy, start, state.copy.pieces, room, usual)
    last = Page.at(state.collation.pages - 1)
    return Room(Page.at(index), last, budget.lines_without_room, needed, usual)
