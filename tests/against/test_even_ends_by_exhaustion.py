"""Even line ends against all ways to break a paragraph there are.

Source: the rule itself, as D. E. Knuth and M. F. Plass state it for lines of one width ("Breaking paragraphs into
lines", *Software: Practice and Experience* 11, 1981; from memory): the least sum of squares of what lines are short,
the last aside; here among the ways that take the fewest lines. Every way is tried and summed with exact fractions.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations, pairwise
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.casting.line_breaking import Lines
from copydesk.book.flow import Flow
from copydesk.book.text.copy_text import lay_text
from copydesk.book.text.exemplar import read_exemplar
from copydesk.book.text.hyphenation import divider
from copydesk.book.text.letter_widths import WordWidths, width_table

if TYPE_CHECKING:
    from copydesk.book.text.copy_text import CopyText
    from copydesk.book.text.letter_widths import TableName

words = st.lists(st.text("abcimw", min_size=1, max_size=5), min_size=1, max_size=12).map(" ".join)


def width(copy: CopyText, start: int, end: int) -> Fraction:
    taken = Fraction(copy.sums[end]) - Fraction(copy.sums[start])
    return taken + Fraction(copy.hyphen) if end in copy.inner else taken - Fraction(copy.space)


def cost(copy: CopyText, starts: list[int], end: int, measure: float, *, closes: bool) -> Fraction:
    lines = list(pairwise([*starts, end]))
    return sum((Fraction(measure) - width(copy, *line)) ** 2 for line in (lines[:-1] if closes else lines)) or Fraction(
        0
    )


def best(copy: CopyText, start: int, end: int, measure: float, *, closes: bool) -> tuple[int, Fraction]:
    """The fewest lines, and the least cost among all ways to break the text into so many."""
    for lines in range(1, end - start + 1):
        ways = (
            [start, *cuts]
            for cuts in combinations(range(start + 1, end), lines - 1)
            if all(width(copy, *line) <= measure for line in pairwise([start, *cuts, end]))
        )
        found = [cost(copy, way, end, measure, closes=closes) for way in ways]
        if found:
            return lines, min(found)
    raise AssertionError


def chosen(copy: CopyText, start: int, end: int, measure: float) -> list[int]:
    lines, starts, at = Lines.as_needed(copy, measure), [], start
    while at < end:
        starts.append(at)
        at = min(lines.advance(at, 1, end, end)[0], end)
    return starts


@given(words, st.sampled_from(("equal", "relative")), st.integers(10, 24))
@settings(max_examples=150, deadline=None)
def test_no_way_is_more_even(text: str, table: TableName, measure: int) -> None:
    copy = lay_text(read_exemplar(text), WordWidths(width_table(table)), Flow(line_ends="even"))
    starts = list(Lines(copy, measure).starts)
    assert (len(starts), cost(copy, starts, copy.pieces, measure, closes=True)) == best(
        copy, 0, copy.pieces, measure, closes=True
    )


@given(words, st.integers(10, 20), st.data())
@settings(max_examples=100, deadline=None)
def test_nor_from_any_word_on_or_up_to_any_word_that_begins_a_held_page(
    text: str, measure: int, data: st.DataObject
) -> None:
    copy = lay_text(read_exemplar(text), WordWidths(width_table("relative")), Flow(line_ends="even"))
    start = data.draw(st.integers(0, copy.pieces - 1))
    end = data.draw(st.integers(start + 1, copy.pieces))
    starts, closes = chosen(copy, start, end, measure), end == copy.pieces
    assert (len(starts), cost(copy, starts, end, measure, closes=closes)) == best(
        copy, start, end, measure, closes=closes
    )


@pytest.mark.parametrize("measure", [9, 10, 11, 13, 16])
def test_nor_where_words_are_broken_by_syllables(measure: int) -> None:
    text = "parchment makers remember another winter"
    widths = WordWidths(width_table("relative"))
    copy = lay_text(read_exemplar(text), widths, Flow(line_ends="even"), divide=divider("en"), hyphen=widths["-"])
    starts = list(Lines(copy, measure).starts)
    assert (len(starts), cost(copy, starts, copy.pieces, measure, closes=True)) == best(
        copy, 0, copy.pieces, measure, closes=True
    )


def test_the_example_of_the_textbooks() -> None:
    """Words of 3, 2, 2 and 5 letters on lines of 6: as they come 0 and 4 are short, 16 in squares; else 3 and 1, 10.

    From memory: the example usual where this way of breaking lines is taught.
    """
    copy = lay_text(read_exemplar("aaa bb cc ddddd"), WordWidths(width_table("equal")), Flow(line_ends="even"))
    assert list(Lines(copy, 6).starts) == [0, 1, 3]
    assert list(Lines(copy._replace(flow=Flow()), 6).starts) == [0, 2, 3]
