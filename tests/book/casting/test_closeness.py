"""How close to write so that a text takes the lines there are."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.casting.closeness import count_lines, nearest_measure
from copydesk.book.casting.line_breaking import Lines
from copydesk.book.flow import CountedDivision, Flow
from copydesk.book.text.counted_text import lay_counts
from texts import copy_of, flows, texts

if TYPE_CHECKING:
    from copydesk.book.text.copy_text import CopyText

TEXT = " ".join(["ford"] * 60)  # lines of n words measure 5 n - 1 letters


def letters_needed(copy: CopyText, start: int, end: int, lines: int, expected: float) -> float | None:
    """Letters a line at which the text from ``start`` to ``end`` takes ``lines`` lines, nearest to ``expected``."""
    return nearest_measure(lambda letters: count_lines(copy, start, end, letters), lines, expected)


def test_lines_of_a_stretch_are_counted_from_a_new_line() -> None:
    copy = copy_of(TEXT)
    assert [count_lines(copy, 0, 60, letters) for letters in (4, 9, 14, 300)] == [60, 30, 20, 1]
    assert count_lines(copy, 1, 60, 9) == 30
    assert count_lines(copy, 5, 5, 9) == 0


def test_where_the_usual_closeness_does_nothing_changes() -> None:
    copy = copy_of(TEXT)
    for letters in (14.0, 15.3, 18.9):
        assert letters_needed(copy, 0, 60, 20, letters) == letters


def test_writing_closer() -> None:
    assert letters_needed(copy_of(TEXT), 0, 60, 15, 14) == pytest.approx(19, abs=0.01)


def test_writing_wider() -> None:
    assert letters_needed(copy_of(TEXT), 0, 60, 30, 20) == pytest.approx(14, abs=0.01)


def test_where_the_count_leaps_past_the_lines_there_are_no_line_is_too_many() -> None:
    copy = copy_of(TEXT)  # 20 lines at 14 letters, 15 at 19, none between
    assert letters_needed(copy, 0, 60, 17, 14) == pytest.approx(19, abs=0.01)
    assert letters_needed(copy, 0, 60, 17, 22) == pytest.approx(19, abs=0.01)


@pytest.mark.parametrize(("lines", "expected"), [(0, 14), (-3, 14), (1, 14), (61, 14)])
def test_what_nobody_can_write_is_none(lines: int, expected: float) -> None:
    assert letters_needed(copy_of(TEXT), 0, 60, lines, expected) is None


def test_counts_are_exact() -> None:
    copy = lay_counts([CountedDivision("", letters=1000)], Flow())
    assert letters_needed(copy, 0, copy.pieces, 25, 35) == pytest.approx(40, abs=0.01)


@given(texts, flows, st.integers(1, 40), st.integers(6, 40))
@settings(max_examples=80, deadline=None)
def test_the_measure_found_is_the_nearest_that_takes_the_lines(
    text: str, flow: Flow, lines: int, expected: int
) -> None:
    copy = copy_of(text, flow=flow)
    found = letters_needed(copy, 0, copy.pieces, lines, expected)
    if found is None:
        return
    assert count_lines(copy, 0, copy.pieces, found) <= lines
    assert expected / 3 <= found <= expected * 3
    between = [expected + (found - expected) * step / 10 for step in range(10)]
    if count_lines(copy, 0, copy.pieces, found) == lines:
        short = (found - expected) / expected
        counts = [count_lines(copy, 0, copy.pieces, each) for each in between if abs(each - found) > 0.01]
        assert short == 0 or all(count != lines for count in counts)


@given(texts, flows, st.integers(3, 40))
@settings(max_examples=60, deadline=None)
def test_lines_counted_are_lines_broken(text: str, flow: Flow, measure: int) -> None:
    copy = copy_of(text, flow=flow)
    assert count_lines(copy, 0, copy.pieces, measure) == len(Lines(copy, measure))


def test_lines_at_any_measure_that_never_come_down_to_what_there_is() -> None:
    assert nearest_measure(lambda _: 9, 5, 30) is None
    assert nearest_measure(lambda _: 5, 5, 30) == 30
    assert nearest_measure(lambda _: 2, 5, 30) is None


@pytest.mark.parametrize("about", [None, 0.4, 1.0, 1.3, 2.9, 50.0])
@pytest.mark.parametrize("lines", [20, 28, 36, 60, 85])
def test_where_the_answer_is_thought_to_lie_changes_nothing_but_the_way(about: float | None, lines: int) -> None:
    found = nearest_measure(lambda times: round(30 / times), lines, 1.0, about, fine=1e-4)
    assert found == pytest.approx(nearest_measure(lambda times: round(30 / times), lines, 1.0), abs=3e-4)
