"""Trial casting: pages cast as if their hands wrote closer, or wider, than expected."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.casting.line_breaking import Lines
from copydesk.book.casting.line_budget import lines_left
from copydesk.book.casting.page_casting import Caster

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.book.layout.page_frame import PageCast
    from copydesk.tracking.state.book_state import BookState


class Closer(NamedTuple):
    """Pages cast so: each page, text lines in all less those written before, and lines that found no room on them."""

    pages: tuple[PageCast, ...]
    lines: int
    over: int

    @property
    def beyond(self) -> int:
        """Lines by which the text passes its room; negative where lines are left after it."""
        return self.over or -lines_left([(page.lines, page.room) for page in self.pages])


def cast_closer(state: BookState, first: int, last: int, end: int, letters_on: Callable[[int], float]) -> Closer | None:
    """Cast the pages from ``first`` to ``last`` (indices) at other letters a line than the book is cast off at.

    Args:
        state: the book.
        first: a page whose text is still open; what is written on it stays.
        last: the last page.
        end: the piece where the text ends that belongs there.
        letters_on: letters a line of each page, by its index.

    Returns:
        The pages; None where there is nothing open on the first.
    """
    copy, budget = state.copy, state.budget
    begun = budget.casts[first]
    if begun is None:
        return None
    casters: dict[float, Caster] = {}
    cursor, caster = begun.start, None
    pages: list[PageCast] = []
    written = budget.pages[first].written
    for index in range(first, last + 1):
        letters = letters_on(index)
        if letters not in casters:
            width = letters * copy.mean * copy.grain
            casters[letters] = Caster(Lines.as_needed(copy, width), state.budgeter.anchors)
        caster = casters[letters]
        frame, recto, skip = state.frame_of(index), index % 2 == 0, 0 if pages else written
        cast = caster.page(cursor, frame, recto=recto, limit=end, skip=skip, fixed=budget.fixed)
        pages.append(cast)
        cursor = cast.end
    over = caster.lines.count(cursor.piece, end) if caster is not None else 0
    return Closer(tuple(pages), max(sum(page.lines for page in pages) - written, 0), over)


def first_free(state: BookState) -> int:
    """The index of the page from which on no beginning is fixed, one past the last where all are written."""
    pages = state.collation.pages
    held = max((index for index in state.pins if index < pages), default=None)
    return 0 if held is None else held + state.pins[held].whole
