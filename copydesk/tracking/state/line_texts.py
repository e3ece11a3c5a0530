"""The words of each line of a page as they stand on it: indented, and with what is turned into it from another."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.casting.line_breaking import line_end
from copydesk.tracking.state.page_content import lines_of_page

if TYPE_CHECKING:
    from copydesk.book.layout.page_frame import CastLine
    from copydesk.tracking.state.book_state import BookState


class LineText(NamedTuple):
    """A line of a page: letters by which it is indented, its words, and those of a verse beside it that end in it."""

    line: CastLine
    indent: int
    words: str
    turned: str = ""

    def __str__(self) -> str:
        """As it stands on the page; a bracket marks words that belong to a verse above or below."""
        return " " * self.indent + self.words + (f"  [{self.turned}" if self.turned else "")


def line_texts(state: BookState, index: int) -> list[LineText]:
    """Every text line of the page at ``index`` in reading order, blank lines among them."""
    copy = state.copy
    lines = lines_of_page(state, index)
    if not copy.shaped:
        return [LineText(line, 0, copy.line_text(line.start, line.end)) for line in lines]
    step = -1 if copy.flow.long_verses == "line above" else 1
    found = [LineText(line, 0, "") for line in lines]
    for at, line in enumerate(lines):
        end, there = _own_end(state, index, line), at + step
        if end < line.end and 0 <= there < len(lines):
            found[there] = found[there]._replace(turned=copy.line_text(end, line.end))
        else:
            end = line.end
        indent = round(copy.indent_of(line.start) / copy.mean) if line.start < line.end else 0
        found[at] = found[at]._replace(indent=indent, words=copy.line_text(line.start, end))
    return found


def _own_end(state: BookState, index: int, line: CastLine) -> int:
    """Where the words of a line end that stand on it; the others are of a verse that ends in the line beside it."""
    copy = state.copy
    if copy.flow.long_verses == "next line" or line.start >= line.end or copy.run_of(line.start).kind != "verse":
        return line.end
    width = state.letters_on(index) * copy.mean
    return line_end(copy, line.start, width, line.end, alone=True)
