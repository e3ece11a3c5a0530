"""The words of each line of a page as they stand on it: indented, and with what is turned into it from another."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.casting.line_breaking import line_end
from copydesk.book.casting.long_verses import TURN_MARK
from copydesk.tracking.state.page_content import lines_of_page

if TYPE_CHECKING:
    from copydesk.book.layout.page_frame import CastLine
    from copydesk.book.text.copy_text import CopyText
    from copydesk.tracking.state.book_state import BookState


class LineText(NamedTuple):
    """A line of a page: letters by which it is indented, its words, and those of a verse beside it that end in it.

    ``width`` is that of all of them, the indent left out, in the units of ``CopyText.sums``.
    """

    line: CastLine
    indent: int
    words: str
    width: float
    turned: str = ""

    def __str__(self) -> str:
        """As it stands on the page; a bracket marks words that belong to a verse above or below."""
        return " " * self.indent + self.words + (f"  [{self.turned}" if self.turned else "")


def line_texts(state: BookState, index: int) -> list[LineText]:
    """Every text line of the page at ``index`` in reading order, blank lines among them."""
    lines = lines_of_page(state, index)
    if not state.copy.shaped:
        return [_text(state.copy, line, line.end) for line in lines]
    ends = [_own_end(state, index, line) for line in lines]
    found = [_text(state.copy, line, end) for line, end in zip(lines, ends, strict=True)]
    step = -1 if state.copy.flow.long_verses == "line above" else 1
    for at, (line, end) in enumerate(zip(lines, ends, strict=True)):
        if end < line.end and 0 <= at + step < len(lines):
            host = found[at + step]
            more = TURN_MARK * state.copy.mean + state.copy.width(end, line.end)
            found[at + step] = host._replace(turned=state.copy.line_text(end, line.end), width=host.width + more)
    return found


def _text(copy: CopyText, line: CastLine, end: int) -> LineText:
    if line.start >= line.end:
        return LineText(line, 0, "", 0.0)
    indent = round(copy.indent_of(line.start) / copy.mean) if copy.shaped else 0
    return LineText(line, indent, copy.line_text(line.start, end), copy.width(line.start, end))


def _own_end(state: BookState, index: int, line: CastLine) -> int:
    """Where the words of a line end that stand on it; the others are of a verse that ends in the line beside it."""
    copy = state.copy
    if copy.flow.long_verses == "next line" or line.start >= line.end or copy.run_of(line.start).kind != "verse":
        return line.end
    width = state.letters_on(index) * copy.mean
    return line_end(copy, line.start, width, line.end, alone=True)
