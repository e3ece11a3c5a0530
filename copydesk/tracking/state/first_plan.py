"""The book as first planned: by the hands as they were thought to write, whatever was recorded since."""

from __future__ import annotations

from bisect import bisect_right
from typing import TYPE_CHECKING

from copydesk.book.casting.line_budget import Budgeter
from copydesk.book.layout import spaces as spaces_of
from copydesk.book.layout.flaws import shares_left
from copydesk.book.layout.page_frame import Cursor, Frame
from copydesk.book.structure.page import Page, Side
from copydesk.tracking.state.text_layout import anchors_of, lay_copy, new_lines_at

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from copydesk.book.layout.page_frame import PageCast
    from copydesk.book.plan import Book
    from copydesk.tracking.state.text_state import TextState


MOST_PAGES = 100_000

_TURN = 250
"""Pages cast between two reports of progress."""


def first_ends(state: TextState, pages: int = MOST_PAGES) -> list[int]:
    """The word of the exemplar after the last of each page of the first plan, for its first ``pages``."""
    budgeter = _budgeter(state)
    return [budgeter.copy.word(cast.end.piece) for cast in _casts(state, budgeter, pages)]


def pages_needed(state: TextState) -> int:
    """Pages the whole text takes as the book plans it."""
    return sum(1 for _ in _casts(state, _budgeter(state), MOST_PAGES))


def _casts(state: TextState, budgeter: Budgeter, pages: int) -> Iterator[PageCast]:
    """The pages of the first plan in order, as many as the text takes but no more than ``pages``."""
    book = state.book
    usual, frames = Frame(state.layout.columns, state.layout.lines), _frames(state)
    hand_of, cursor, index = _planned_hands(book), Cursor(0), 0
    starts = {at: budgeter.copy.piece(word) for at, word in state.page_starts.items()}
    held, total = sorted(starts), budgeter.copy.pieces
    while (cursor.piece < total or cursor.waiting or index <= max(held, default=-1)) and index < pages:
        if index in starts:
            cursor = budgeter.cursor(starts[index], cursor.anchor)._replace(waiting=cursor.waiting, held=True)
        following = bisect_right(held, index)
        limit = starts[held[following]] if following < len(held) else total
        if not index % _TURN:
            state.progress.casting(cursor.piece / max(budgeter.copy.pieces, 1))
        frame = frames.get(index, usual)
        caster = budgeter.caster(hand_of(index))
        cast = caster.page(cursor, frame, recto=index % 2 == 0, limit=max(limit, cursor.piece))
        yield cast
        cursor, index = cast.end, index + 1


def _planned_hands(book: Book) -> Callable[[int], str]:
    """Who is to write the page at an index, the gatherings being all of the sheets planned for one."""
    planned = {number: hand.id for hand in book.hands for number in hand.gatherings}
    first, pages = book.hands[0].id, 4 * (book.gatherings.sheets or 4)
    return lambda index: planned.get(index // pages + 1, first)


def _budgeter(state: TextState) -> Budgeter:
    plans, changes, exemplar = state.book.spaces, state.book.changes, state.exemplar
    same = state.plans == plans and state.changes == changes
    copy = state.copy if same else lay_copy(state.book, exemplar, changes, new_lines_at(plans, exemplar))
    letters = {name: known.letters_per_line for name, known in state.first_sets.items()}
    known = state.known_lines if same else None
    return Budgeter(copy, letters, anchors_of(plans, exemplar, copy, state.layout), known, state.progress.breaking)


def _frames(state: TextState) -> dict[int, Frame]:
    """Pages on which the plan puts spaces itself, and those of leaves it knows to be flawed."""
    usual, frames = Frame(state.layout.columns, state.layout.lines), dict[int, Frame]()
    for plan in state.book.spaces:
        if plan.at.page is not None:
            index = Page.parse(plan.at.page).index
            frame = frames.get(index, usual)
            placement = spaces_of.placed_on_page(plan, state.shape(plan), frame.fixed)
            frames[index] = frame._replace(fixed=(*frame.fixed, placement))
    for leaf in {flaw.leaf for flaw in state.book.flaws}:
        flaws = [flaw for flaw in state.book.flaws if flaw.leaf == leaf]
        for side in Side:
            index = Page(leaf, side).index
            lost = shares_left(state.layout, flaws, side, both_sides=state.book.flow.both_sides)
            frames[index] = frames.get(index, usual)._replace(flaws=lost)
    return frames
