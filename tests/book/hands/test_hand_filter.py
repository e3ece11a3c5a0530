"""Following a hand from page to page."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.hands.hand_filter import COURSES, Course, beliefs, follow, followed
from copydesk.book.hands.hand_set import HandSet

LETTERS = st.lists(st.floats(20, 50), min_size=1, max_size=12)
STILL = Course(0.0, 0.0, 0.0)


def test_one_page_and_a_guess_meet_by_how_sure_each_is() -> None:
    found = followed(HandSet.from_letters(34), [30.0], [0.56])
    assert 30 < found.value < 31.5
    assert found.error < 1.0
    assert found.per_page == 0


def test_where_nothing_was_known_the_pages_have_it_all() -> None:
    blank = HandSet(34.0, 1.0, 0.0)
    assert followed(blank, [30.0, 30.0], [0.5, 0.5]).value == pytest.approx(30.0)


def test_a_hand_that_moves_is_expected_to_have_moved_on() -> None:
    found = followed(HandSet.from_letters(30), [30 + 0.2 * page for page in range(12)], [0.2] * 12)
    assert 32.2 < found.value < 32.6
    assert found.per_page == pytest.approx(0.2, abs=0.02)


def test_what_was_known_counts_less_of_a_hand_that_moved() -> None:
    """Both end at the same height: the one that came from afar owes its beginning less."""
    steady = followed(HandSet.from_letters(28), [33.0] * 10, [0.6] * 10)
    moving = followed(HandSet.from_letters(28), [28.5 + 0.5 * page for page in range(9)], [0.6] * 9)
    assert steady.value < 33.0
    assert moving.value > 32.6


def test_a_hand_that_hardly_moves_is_not_believed_to_wander() -> None:
    paths = [follow(course, [33.0, 33.1] * 20, [0.6] * 40, 33.0) for course in COURSES]
    belief = beliefs(paths, 41.0)
    assert belief[0] > belief[1] > belief[2]


def test_a_hand_that_leaps_is_believed_to_wander() -> None:
    paths = [follow(course, [30.0] * 12 + [34.0] * 12, [0.6] * 24, 32.0) for course in COURSES]
    belief = beliefs(paths, 25.0)
    assert belief[2] > 0.8


@given(LETTERS)
@settings(max_examples=40)
def test_a_course_that_cannot_move_is_the_mean(values: list[float]) -> None:
    path = follow(STILL, values, [0.5] * len(values), 30.0)
    assert path.mean == pytest.approx(math.fsum(values) / len(values))
    assert path.mean_variance == pytest.approx(0.5 / len(values))
    assert path.misfit == pytest.approx(sum((each - path.mean) ** 2 for each in values) / 0.5, abs=1e-6)


@given(LETTERS, st.floats(0.1, 10))
@settings(max_examples=40)
def test_the_unit_does_not_matter(values: list[float], times: float) -> None:
    before = HandSet.from_letters(33.0)
    found = followed(before, values, [0.6] * len(values))
    other = followed(before.scaled(times), [each * times for each in values], [0.6 * times**2] * len(values))
    assert other.value == pytest.approx(found.value * times)
    assert other.error == pytest.approx(found.error * times)
    assert other.scatter == pytest.approx(found.scatter)


@given(LETTERS)
@settings(max_examples=40)
def test_it_stays_finite_and_beliefs_are_shares(values: list[float]) -> None:
    found = followed(HandSet.from_letters(33.0), values, [0.6] * len(values))
    assert all(map(math.isfinite, found))
    assert found.error > 0
    assert found.freedom >= 2
    belief = beliefs([follow(course, values, [0.6] * len(values), 33.0) for course in COURSES], len(values) + 1.0)
    assert math.fsum(belief) == pytest.approx(1.0)
    assert min(belief) >= 0
