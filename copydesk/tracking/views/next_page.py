"""The next page on which something is to be done. Pages that cannot be meant are passed over at a glance."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.tracking.state.space_places import placements_on
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.tracking.state.book_state import Standing


def next_to_write(standing: Standing, after: int) -> int | None:
    """The index of the next page to be ruled or written after the page at ``after``; -1 begins with the first.

    Behind the last page the search goes on from the first; None where there is no such page.
    """
    return _next(standing, after, _is_to_write)


def next_with_space(standing: Standing, after: int) -> int | None:
    """The same for the next page with a space that waits for the artist."""
    return _next(standing, after, _has_space_waiting)


def _next(standing: Standing, after: int, wanted: Callable[[Standing, int], bool]) -> int | None:
    pages = standing.collation.pages
    places = ((after + step) % pages for step in range(1, pages + 1))
    return next((index for index in places if wanted(standing, index)), None)


def _is_to_write(standing: Standing, index: int) -> bool:
    if standing.record(standing.skin_at(index)).whole:
        return False
    bears = standing.budget.pages[index].planned or placements_on(standing, index)
    return bool(bears) and page_account(standing, index).next_act in ("write", "rule")


def _has_space_waiting(standing: Standing, index: int) -> bool:
    return bool(placements_on(standing, index)) and page_account(standing, index).spaces_waiting > 0
