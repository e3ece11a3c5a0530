"""A page as a person calls it, looked for in the book; and what is said where the book has no such page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import UnknownNameError
from copydesk.book.structure.foliation import page_label, read_leaf_label

if TYPE_CHECKING:
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
