"""Where each reserved space stands: fixed on a skin, brought by the text, or going with its text wherever that is."""

from __future__ import annotations

from bisect import bisect_right
from typing import TYPE_CHECKING

from copydesk.book.layout.page_frame import Placement
from copydesk.book.structure.page import Page

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.layout.page_frame import CastLine
    from copydesk.tracking.state.book_state import Standing


def placements_on(standing: Standing, index: int) -> tuple[Placement, ...]:
    """Spaces on a page: those fixed there, those the casting puts there, those that go with its text.

    The last kind takes no lines; its line (0 here) is told by ``line_of``.
    """
    fixed = standing.frames.get(index, standing.frame).fixed
    page = standing.budget.pages[index]
    found = (*fixed, *(each for each in page.placed if each not in fixed))
    loose = standing.loose_spaces
    if not loose:
        return found
    here = (Placement(name, 0, 0, 0, 0.0) for name in loose.between(page.start, page.end))
    return (*(each for each in found if each.id not in loose), *here)


def page_of_word(standing: Standing, word: int) -> Page | None:
    """The page on which a word of the exemplar stands, or is planned to stand; None where no page has room for it."""
    piece = standing.copy.piece(word)
    found = [index for index, page in enumerate(standing.budget.pages) if page.start <= piece < page.end]
    return Page.at(found[-1]) if found else None


def fixed_on(standing: Standing, space: str) -> Page | None:
    """The ruled page on whose skin a space is fixed; None while it can still move."""
    for index, frame in standing.frames.items():
        if any(placement.id == space for placement in frame.fixed):
            settled = standing.record(standing.skin_at(index)).placements or ()
            if any(placement.id == space for placement in settled):
                return Page.at(index)
    return None


def with_line(standing: Standing, lines: Sequence[CastLine], placement: Placement) -> Placement:
    """The placement of a space that goes with its text, with the column and line where that stands on its page.

    ``lines`` are those of the page, as ``lines_of_page`` gives them.
    """
    piece = standing.loose_spaces.get(placement.id)
    if piece is None or placement.from_line:
        return placement
    at = bisect_right(lines, piece, key=lambda line: line.start) - 1
    return placement._replace(column=lines[at].column, from_line=lines[at].line) if at >= 0 else placement
