"""Pages looked for in the book: as a person calls them, and the next on which something is to be done."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import UnknownNameError
from copydesk.book.structure.foliation import page_label, read_leaf_label
from copydesk.tracking.state.page_content import placements_on
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.book.structure.page import Page
    from copydesk.tracking.state.book_state import BookState


def page_called(state: BookState, text: str, *, leaf_alone: bool = False) -> Page:
    """The page of this book called ``text``, as its leaves or pages are numbered, or as ``12r``.

    Raises:
        CopydeskError: where nothing is called so, or the book has no such page.
    """
    page = state.book.page_called(text, leaf_alone=leaf_alone)
    expect_page(state, page)
    return page


def expect_page(state: BookState, page: Page) -> None:
    """See that the book has a page.

    Raises:
        UnknownNameError: where it has not.
    """
    if not state.collation.has(page):
        book, leaves = state.book, range(1, state.collation.leaves + 1)
        label = page_label(page, book.signing.foliation)
        raise UnknownNameError(f"there is no page {label} in this book; it has {book.leaves_named(leaves)}")


def leaf_called(state: BookState, text: str) -> int:
    """The number of the leaf of this book called ``text``: ``5``, or as the book numbers its leaves ``v``.

    Raises:
        CopydeskError: where nothing is called so, or the book has no such leaf.
    """
    book, leaves = state.book, range(1, state.collation.leaves + 1)
    leaf = read_leaf_label(text, book.signing.foliation)
    if leaf not in leaves:
        raise UnknownNameError(f"there is no {book.leaf_named(leaf)} in this book; it has {book.leaves_named(leaves)}")
    return leaf


def next_to_write(state: BookState, after: int) -> int | None:
    """The index of the next page to be ruled or written after the page at ``after``; -1 begins with the first.

    After the last page the search goes on from the first; None where there is no such page.
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
    content = state.budget.pages[index].planned or placements_on(state, index)
    return bool(content) and page_account(state, index).next_act.is_writing


def _has_space_waiting(state: BookState, index: int) -> bool:
    return bool(placements_on(state, index)) and page_account(state, index).spaces_waiting > 0
