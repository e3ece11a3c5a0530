"""What stands against a changed plan: pages ruled or written, spaces fixed on them, hands that wrote."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of
from copydesk.book.structure.page import Page
from copydesk.tracking.state.plan_conflicts import plan_conflicts

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.tracking.state.book_state import BookState


def objections(before: BookState, after: BookState) -> list[str]:
    """Why a book that stands as ``before`` cannot take the plan of ``after``, a sentence each without its capital.

    What the plan of ``before`` has otherwise than the skin already is no reason; what entries do not tell is held
    against the plan of ``before``, by which the pages were made.
    """
    known = plan_conflicts(before)
    found = [each for each in plan_conflicts(after) if each not in known]
    return found or list(_otherwise(before, after))


def _otherwise(before: BookState, after: BookState) -> Iterator[str]:
    old, new = before.book, after.book
    begun = sorted(index for index, record in before.recorded() if record.ruled or record.stints)
    if not begun:
        return
    said = f"{count_of(len(begun), 'page')} ruled or written so, the first {old.named(Page.at(begun[0]))}"
    for what, was, would_be, so in (
        ("the page and its margins", old.page, new.page, "leave them"),
        ("the columns", old.columns, new.columns, "leave them"),
        ("the ruling", old.ruling, new.ruling, "remedies can give other lines to pages still unruled"),
        ("the text", (old.exemplar.text, old.divisions), (new.exemplar.text, new.divisions), "leave it"),
    ):
        if was != would_be:
            yield f"{what} cannot change any more: {said}; {so}"
    for index in begun:
        if not _same_leaf(before, after, Page.at(index)):
            yield f"the leaf of {old.named(Page.at(index))} would be another; leave the gatherings that are begun"
            return


def _same_leaf(before: BookState, after: BookState, page: Page) -> bool:
    """Whether the page stands on the same leaf of the same sheet, the same surface up."""
    stays = after.page_of(before.skin_at(page.index)) == page
    return stays and before.collation.half(page.leaf) == after.collation.half(page.leaf)
