"""What is written in a page's margins for the reader and the binder: its number, signature and catchword."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.structure.collation import Collation
from copydesk.book.structure.foliation import page_label
from copydesk.book.structure.page import Page
from copydesk.book.structure.signatures import gathering_numbers, leaf_signatures
from copydesk.tracking.views.catchwords import catchword_of

if TYPE_CHECKING:
    from copydesk.tracking.state.book_state import BookState


class PageMarks(NamedTuple):
    """A page's label as the book counts, its signature (or its gathering's number) and catchword, or empty texts."""

    label: str
    signature: str
    catchword: str


def page_marks(state: BookState, page: Page) -> PageMarks:
    """The marks of one page, by the book's habits of signing."""
    place = state.collation.place(page)
    last = page.leaf == state.collation.leaf_numbers(place.gathering)[-1]
    catchword = catchword_of(state, place.gathering) if last else None
    return PageMarks(
        page_label(page, state.book.signing.foliation),
        _signature(state, place.gathering, Page(place.leaf, page.side)),
        catchword.words if catchword is not None and catchword.page == page else "",
    )


def _signature(state: BookState, gathering: int, within: Page) -> str:
    """The signature of a page of one gathering, ``within`` counting its leaves from 1."""
    habit = state.book.signing.habit
    if habit == "none":
        return ""
    alone = Collation((state.collation.gathering(gathering),))
    marks = leaf_signatures(alone) if habit == "leaves" else gathering_numbers(alone)
    return marks.get(within, "")
