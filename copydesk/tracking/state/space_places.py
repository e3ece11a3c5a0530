"""Where each reserved space stands: fixed on a skin, brought by the text, or going with its text wherever that is."""

from __future__ import annotations

from bisect import bisect_right
from typing import TYPE_CHECKING

from copydesk.book.layout.page_frame import Placement
from copydesk.book.structure.page import Page

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.layout.page_frame import CastLine
    from copydesk.tracking.state.book_state import BookState


def placements_on(state: BookState, index: int) -> tuple[Placement, ...]:
    """Spaces on a page: those fixed there, those the casting puts there, those that go with its text.

    The last kind takes no lines; its line (0 here) is told by ``line_of``.
    """
    fixed = state.frames.get(index, state.frame).fixed
    page = state.budget.pages[index]
    found = (*fixed, *(each for each in page.placed if each not in fixed))
    loose = state.loose_spaces
    if not loose:
        return found
    here = (Placement(name, 0, 0, 0, 0.0) for name in loose.between(page.start, page.end))
    return (*(each for each in found if each.id not in loose), *here)


def page_of_word(state: BookState, word: int) -> Page | None:
    """The page on which a word of the exemplar stands, or is planned to stand; None where no page has room for it."""
    piece = state.copy.piece(word)
    found = [index for index, page in enumerate(state.budget.pages) if page.start <= piece < page.end]
    return Page.at(found[-1]) if found else None


def fixed_on(state: BookState, space: str) -> Page | None:
    """The ruled page on whose skin a space is fixed; None while it can still move."""
    for index, frame in state.frames.items():
        if any(placement.id == space for placement in frame.fixed):
            settled = state.record(state.skin_at(index)).placements or ()
            if any(placement.id == space for placement in settled):
                return Page.at(index)
    return None


def with_line(state: BookState, lines: Sequence[CastLine], placement: Placement) -> Placement:
    """The placement of a space that goes with its text, with the column and line where that stands on its page.

    ``lines`` are those of the page, as ``lines_of_page`` gives them.
    """
    piece = state.loose_spaces.get(placement.id)
    if piece is None or placement.from_line:
        return placement
    at = bisect_right(lines, piece, key=lambda line: line.start) - 1
    return placement._replace(column=lines[at].column, from_line=lines[at].line) if at >= 0 else placement
