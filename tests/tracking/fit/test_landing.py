"""The chances told of a stretch, and how simulated stretches land."""

from __future__ import annotations

import pytest

from copydesk.tracking.fit.landing import FAIRLY_SURE, Landing, chances, closer_for_margin, landing_words
from landing_trials import agreed, followed, share_within

GOAL = 0.95


def apart(share: float, count: int) -> float:
    """How far a share found in so many trials may well be from the true one: three standard deviations of it."""
    return 3 * (share * (1 - share) / count) ** 0.5


@pytest.mark.parametrize(("counts", "seed"), [(True, 611), (False, 612)])
def test_scribes_who_follow_the_advice_page_by_page_land_within_a_line(*, counts: bool, seed: int) -> None:
    found = followed(40, seed, counts=counts)
    assert share_within(found) >= GOAL - apart(GOAL, len(found))


def test_what_is_said_of_scribes_who_do_not_look_again_comes_true() -> None:
    found = agreed(70, 613)
    far = apart(0.5, len(found))
    fits, within = (sum(values) / len(found) for values in ([e.fits for e in found], [e.within or 0 for e in found]))
    assert sum(each.over <= 0 for each in found) / len(found) == pytest.approx(fits, abs=far)
    assert share_within([each.over for each in found]) == pytest.approx(within, abs=far)


@pytest.mark.parametrize("over", [-3, 0, 2])
def test_written_with_the_margin_it_fits_nine_times_in_ten(over: int) -> None:
    sd, lines = 1.4, 120
    times = closer_for_margin(over, sd, lines)
    gained = lines - lines / times
    assert chances(over - gained, sd).fits == pytest.approx(max(FAIRLY_SURE, chances(over, sd).fits))


def test_without_doubt_it_lands_or_not() -> None:
    assert chances(0, 0.0) == Landing(1.0, 1.0, None)
    assert chances(1, 0.0) == Landing(0.0, 1.0, None)
    assert chances(-4, 0.0) == Landing(1.0, 0.0, None)


def test_chances_in_words() -> None:
    said = "fits 4 times in 10; within a line 7 in 10; for a margin (9 in 10) write 33.9 letters a line"
    assert landing_words(Landing(0.41, 0.72, 33.92)) == said
    assert landing_words(Landing(0.997, None, None)) == "fits nearly always"
    assert landing_words(Landing(0.02, 0.1, None)) == "fits 2 times in 100; within a line 1 in 10"
    assert landing_words(Landing(0.01, 0.012, None)) == "fits 1 time in 100; within a line 1 in 100"
