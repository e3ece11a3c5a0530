"""The end of the book."""

from __future__ import annotations

import pytest

from copydesk.book.common.distributions import Mixture
from copydesk.book.hands.hand_set import HandSet
from copydesk.tracking.fit.book_end import LinesToWrite, ending, lines_sd

HAND = HandSet(34, spread=0.8, error=0.34, freedom=1e9, source="pages", pages=8)


def test_room_enough_is_likely_to_fit() -> None:
    found = ending(room=1000, lines=960, off=Mixture.normal(20))
    assert found.chance_text_fits == pytest.approx(0.9786, abs=0.001)
    assert found.blank_lines.expected == 40
    assert found.blank_lines.low < 40 < found.blank_lines.high


def test_a_text_as_long_as_its_room_is_as_likely_as_not_to_fit() -> None:
    assert ending(1000, 1000.5, Mixture.normal(20)).chance_text_fits == pytest.approx(0.5)
    assert ending(1000, 1060, Mixture.normal(20)).chance_text_fits < 0.01
    assert ending(1000, 1060, Mixture.normal(20)).blank_lines.expected == -60


@pytest.mark.parametrize(("lines", "chance"), [(999, 1.0), (1000, 1.0), (1001, 0.0)])
def test_without_doubt_it_fits_or_not(lines: float, chance: float) -> None:
    assert ending(1000, lines, Mixture.normal(0)).chance_text_fits == chance


def test_doubt_of_the_mean_bears_on_all_lines_alike() -> None:
    """A hundredth of 2,000 lines is 20."""
    sure_pages = HandSet(34, spread=0.0, error=0.34, freedom=1e9)
    assert lines_sd([LinesToWrite(sure_pages, 2000, 60)]) == pytest.approx(20, abs=0.01)


def test_scatter_of_pages_evens_out() -> None:
    sure_mean = HandSet(34, spread=0.68, error=0.0)
    assert lines_sd([LinesToWrite(sure_mean, 3200, 100)]) == pytest.approx(3200 * 0.02 / 10)
    assert lines_sd([LinesToWrite(sure_mean, 32, 1)]) == pytest.approx(0.64)


def test_two_hands_err_apart() -> None:
    one, two = [LinesToWrite(HAND, 1000, 30)], [LinesToWrite(HAND, 500, 15), LinesToWrite(HAND, 500, 15)]
    assert lines_sd(two) < lines_sd(one)


def test_few_pages_seen_make_the_end_less_sure() -> None:
    few = HandSet(34, spread=0.8, error=0.34, freedom=4)
    assert lines_sd([LinesToWrite(few, 1000, 30)]) > lines_sd([LinesToWrite(HAND, 1000, 30)])


def test_a_ragged_line_feels_it_more() -> None:
    assert lines_sd([LinesToWrite(HAND, 1000, 30, ragged=3.5)]) > lines_sd([LinesToWrite(HAND, 1000, 30)])


def test_no_lines_left_leave_no_doubt() -> None:
    assert lines_sd([]) == 0
    assert lines_sd([LinesToWrite(HAND, 0, 0), LinesToWrite(HandSet(3, 0.1, 0.1), 10, 1, ragged=4)]) == 0
