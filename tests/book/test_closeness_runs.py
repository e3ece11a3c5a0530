"""Lines are counted alike whether or not other runs lie before and behind the text counted."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.casting.closeness import count_lines
from copydesk.book.casting.line_breaking import Lines, line_end
from copydesk.book.flow import Flow
from copydesk.book.text.copy_text import CopyText, lay_text
from copydesk.book.text.exemplar import read_exemplar
from copydesk.book.text.letter_widths import WordWidths, width_table

SHORT = "one two three\n\nfour five six seven eight nine ten\n\neleven\n\ntwelve thirteen fourteen fifteen sixteen"
FLOW = Flow(paragraphs="line")


def laid(text: str) -> CopyText:
    return lay_text(read_exemplar(text), WordWidths(width_table("equal")), FLOW)


def counted_one_by_one(copy: CopyText, start: int, end: int, measure: float) -> int:
    """Line after line, each ending where its run or the text ends."""
    width, lines, piece = measure * copy.mean * copy.grain, 0, start
    while piece < end:
        later = [run.start for run in copy.runs if run.start > piece]
        piece = line_end(copy, piece, width, min([*later, end]))
        lines += 1
    return lines


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 16), st.integers(0, 16), st.floats(4.0, 40.0))
def test_lines_counted_are_those_counted_one_by_one(start: int, end: int, measure: float) -> None:
    copy = laid(SHORT)
    start, end = min(start, copy.pieces), min(end, copy.pieces)
    assert count_lines(copy, start, end, measure) == counted_one_by_one(copy, start, end, measure)


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 15), st.integers(1, 12), st.floats(4.0, 40.0))
def test_lines_broken_when_asked_for_are_those_broken_beforehand(start: int, most: int, measure: float) -> None:
    copy = laid(SHORT)
    width = measure * copy.mean * copy.grain
    whole, needed = Lines(copy, width), Lines.as_needed(copy, width)
    assert needed.advance(start, most, copy.pieces) == whole.advance(start, most, copy.pieces)
