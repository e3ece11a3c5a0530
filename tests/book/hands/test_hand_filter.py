"""Following a hand from page to page."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.hands.hand_filter import Followed, followed
from copydesk.book.hands.hand_set import HandSet

LETTERS = st.lists(st.floats(20, 50), min_size=1, max_size=12)
WOBBLE = (0.3, -0.5, 0.2, 0.6, -0.7, 0.1, -0.2, 0.4, -0.4, 0.5, -0.3, 0.0)


def after(values: list[float], stated: float = 33.0) -> Followed:
    return followed(HandSet.from_letters(stated), values, [0.6] * len(values))


def around(letters: float) -> list[float]:
    return [letters + each for each in WOBBLE]


def test_one_page_and_a_guess_meet_by_how_sure_each_is() -> None:
    found = followed(HandSet.from_letters(34), [32.0], [0.56])
    assert 32 < found.value < 33
    assert found.error < 1.0


def test_a_hand_stated_quite_wrongly_is_at_home_after_a_page() -> None:
    found = after([28.0], stated=33.0)
    assert abs(found.value - 28.0) < 1.2 < 1.645 * found.error


def test_where_nothing_was_known_the_pages_have_it_all() -> None:
    blank = HandSet(34.0, 1.0, 0.0)
    assert followed(blank, [30.0, 30.0], [0.5, 0.5]).value == pytest.approx(30.0, abs=0.01)


def test_a_hand_that_moves_is_expected_to_have_moved_on() -> None:
    found = followed(HandSet.from_letters(30), [30 + 0.2 * page for page in range(12)], [0.2] * 12)
    assert 32.1 < found.value < 32.6
    assert found.per_page == pytest.approx(0.2, abs=0.03)


def test_a_steady_hand_is_not_thought_to_move() -> None:
    assert abs(after(around(33.0)).per_page) < 0.01
    assert after(around(33.0)).value == pytest.approx(33.0, abs=0.1)


@pytest.mark.parametrize("off", [4.0, 8.0])
def test_one_strange_page_moves_a_hand_little_and_two_are_believed(off: float) -> None:
    before = after(around(33.0)).value
    one, two = after([*around(33.0), 33.0 + off]), after([*around(33.0), 33.0 + off, 32.8 + off])
    back = after([*around(33.0), 33.0 + off, 33.1])
    assert before < one.value < before + 1.0
    assert two.value > 33.0 + 0.6 * off
    assert back.value == pytest.approx(before, abs=0.4)


def test_a_hand_that_changes_is_followed_within_five_pages() -> None:
    found = after([*around(33.0), 35.3, 35.9, 34.8, 35.6, 35.2])
    assert found.value == pytest.approx(35.4, abs=0.5)


def test_where_it_was_thought_to_stand_before_each_page_is_told() -> None:
    values = around(31.0)
    found = after(values, stated=34.0)
    assert len(found.foretold) == len(values)
    assert found.foretold[0][0] == pytest.approx(34.0)
    assert abs(found.foretold[-1][0] - 31.0) < 0.4
    assert found.foretold[-1][1] < found.foretold[0][1]


@given(LETTERS, st.floats(0.1, 10))
@settings(max_examples=40, deadline=None)
def test_the_unit_does_not_matter(values: list[float], times: float) -> None:
    before = HandSet.from_letters(33.0)
    found = followed(before, values, [0.6] * len(values))
    other = followed(before.scaled(times), [each * times for each in values], [0.6 * times**2] * len(values))
    assert other.value == pytest.approx(found.value * times)
    assert other.error == pytest.approx(found.error * times)
    assert other.scatter == pytest.approx(found.scatter)


@given(st.lists(st.floats(0.01, 1e6), min_size=1, max_size=12))
@settings(max_examples=40, deadline=None)
def test_it_stays_finite_whatever_the_pages(values: list[float]) -> None:
    found = after(values)
    assert all(map(math.isfinite, (*found[:5], *(each for stands in found.foretold for each in stands))))
    assert found.error > 0
    assert found.freedom >= 2
