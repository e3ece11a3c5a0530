"""How the last lines ran and how the next are to run: what a hand that takes over looks at first."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.sanitize import plain
from copydesk.book.structure.page import Page
from copydesk.tracking.scribes.stopping_point import piece_after
from copydesk.tracking.state.page_lines import lines_of_page

if TYPE_CHECKING:
    from copydesk.tracking.state.book_state import BookState


class RunLine(NamedTuple):
    """A line of a page: where it stands, the words written in it, those still to come. Breaks are the likeliest."""

    page: Page
    column: int
    line: int
    written: str
    to_come: str

    def __str__(self) -> str:
        """The line with a stroke where the pen stopped within it."""
        return " | ".join(part for part in (self.written, self.to_come) if part)


def lines_ran(state: BookState, index: int, most: int = 8) -> tuple[RunLine, ...]:
    """The last full lines written on a page."""
    return tuple(line for line in _run(state, index) if not line.to_come)[-most:]


def lines_to_run(state: BookState, index: int, most: int = 6) -> tuple[RunLine, ...]:
    """The next lines of a page; the first of them may be written in part."""
    return tuple(line for line in _run(state, index) if line.to_come)[:most]


def _run(state: BookState, index: int) -> list[RunLine]:
    """Every line of a page, parted where the pen is; none where nobody typed the text."""
    if state.exemplar is None:
        return []
    record, copy = state.record(state.skin_at(index)), state.copy
    pen = piece_after(state, index) if record.stints else -1
    found: list[RunLine] = []
    for column, line, start, end in lines_of_page(state, index):
        stop = min(max(pen, start), end)
        written, to_come = plain(copy.line_text(start, stop)), plain(copy.line_text(stop, end))
        found.append(RunLine(Page.at(index), column, line, written, to_come))
    return found
