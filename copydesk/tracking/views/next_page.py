"""The next page on which something is to be done. Pages that cannot be meant are passed over at a glance."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.tracking.state.space_places import placements_on
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.tracking.state.book_state import BookState


def next_to_write(state: BookState, after: int) -> int | None:
    """The index of the next page to be ruled or written after the page at ``after``; -1 begins with the first.

    Behind the last page the search goes on from the first; None where there is no such page.
    """
    return _next(state, after, _is_to_write)


def next_with_space(state: BookState, after: int) -> int | None:
    """The same for the next page with a space that waits for the artist."""
    return _next(state, after, _has_space_waiting)


def _next(state: BookState, after: int, wanted: Callable[[BookState, int], bool]) -> int | None:
    pages = state.collation.pages
    places = ((after + step) % pages for step in range(1, pages + 1))
    return next((index for index in places if wanted(state, index)), None)


def _is_to_write(state: BookState, index: int) -> bool:
    if state.record(state.skin_at(index)).whole:
        return False
    bears = state.budget.pages[index].planned or placements_on(state, index)
    return bool(bears) and page_account(state, index).next_act.is_writing


def _has_space_waiting(state: BookState, index: int) -> bool:
    return bool(placements_on(state, index)) and page_account(state, index).spaces_waiting > 0
