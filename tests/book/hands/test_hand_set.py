"""A hand's set, guessed, stated, and carried to other sizes."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.hands.hand_set import HandSet, size_factor


def test_a_stated_set_is_a_guess_with_a_range() -> None:
    hand = HandSet.from_letters(34)
    assert hand.letters_per_line == 34
    assert hand.source == "guess"
    assert hand.pages == 0
    assert 31 < hand.low < 34 < hand.high < 37


def test_a_guess_from_the_script_is_wider_than_a_stated_one() -> None:
    guess = HandSet.from_script(nib=0.4, x_height=4.5, measure=60)
    assert guess.letters_per_line == pytest.approx(34.4, abs=0.1)
    stated = HandSet.from_letters(guess.letters_per_line)
    assert guess.high - guess.low > 2 * (stated.high - stated.low)


def test_no_range_goes_below_nothing() -> None:
    assert HandSet(10, 1, 20, 3, "pages").low == 0


@pytest.mark.parametrize(
    ("measure", "nib", "letters"), [(120, 0.5, 68), (60, 1.0, 17), (30, 0.25, 34), (0, 0, 34), (0, 1.0, 17)]
)
def test_another_size_carries_over(measure: float, nib: float, letters: float) -> None:
    hand = HandSet.from_letters(34, measure=60, nib=0.5)
    there = hand.at(measure, nib)
    assert there.letters_per_line == pytest.approx(letters)
    assert there.low / there.letters_per_line == pytest.approx(hand.low / hand.letters_per_line)


def test_a_size_nobody_gave_changes_nothing() -> None:
    hand = HandSet.from_letters(34).at(measure=80, nib=0.7)
    assert hand.letters_per_line == 34
    assert (hand.measure, hand.nib) == (80, 0.7)


@given(st.floats(20, 200), st.floats(20, 200), st.floats(0.2, 3), st.floats(0.2, 3))
@settings(max_examples=40)
def test_there_and_back_is_the_same_hand(measure: float, other: float, nib: float, other_nib: float) -> None:
    hand = HandSet.from_letters(34, measure, nib)
    back = hand.at(other, other_nib).at(measure, nib)
    assert back.letters_per_line == pytest.approx(hand.letters_per_line)
    assert size_factor(measure, other, nib, other_nib) * size_factor(other, measure, other_nib, nib) == pytest.approx(1)
    assert math.isclose(back.error, hand.error)
