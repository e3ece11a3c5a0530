"""Pace from sittings."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.tracking.scribes.pace import GUESSED_PACE, Sitting, moves, pace_of

START = datetime(2026, 11, 2, 9, 0)
SITTINGS = st.lists(st.tuples(st.integers(1, 80), st.integers(10, 180)), min_size=1, max_size=12)


def sat(*lines_and_minutes: tuple[float, float]) -> list[Sitting]:
    return [
        Sitting("A", lines, minutes, START + timedelta(days=day))
        for day, (lines, minutes) in enumerate(lines_and_minutes)
    ]


def test_nothing_known_is_a_guess() -> None:
    pace = pace_of([])
    assert (pace.lines_an_hour, pace.source) == (GUESSED_PACE, "guess")
    assert pace.range().low < 15
    assert pace.range().high > 35


def test_a_stated_pace_is_surer_than_a_guess() -> None:
    pace = pace_of([], stated=25)
    assert (pace.lines_an_hour, pace.source) == (25, "stated")
    assert pace.range().low > pace_of([]).range().low


def test_the_pace_is_all_lines_over_all_hours() -> None:
    """An hour counts as an hour: 60 lines in 3 hours, though the mean of the two paces would be 22.5."""
    pace = pace_of(sat(*((30, 60), (30, 120)) * 20), stated=20)
    assert pace.measured == pytest.approx(20)
    assert pace.lines_an_hour == pytest.approx(20, abs=0.7)
    assert (pace.hours, pace.lines, pace.sittings) == (60, 1200, 40)


def test_a_first_sitting_already_tells() -> None:
    pace = pace_of(sat((36, 60)), stated=20)
    assert pace.source == "sittings"
    assert 28 < pace.lines_an_hour < 36


def test_what_has_no_time_or_no_lines_tells_nothing() -> None:
    assert pace_of(sat((0, 60), (20, 0))) == pace_of([])


def test_more_sittings_make_it_surer() -> None:
    few, many = pace_of(sat((20, 60), (24, 60))), pace_of(sat(*((20, 60), (24, 60)) * 6))
    assert many.range().high - many.range().low < few.range().high - few.range().low


def test_a_hand_that_quickens_is_followed() -> None:
    quickening = sat(*((15 + step + step % 2, 60) for step in range(16)))
    pace = pace_of(quickening)
    assert pace.per_sitting == pytest.approx(1.0, abs=0.1)
    assert pace.lines_an_hour == pytest.approx(31.5, abs=1.5)
    steady = pace_of(sat(*((20 + step % 3, 60) for step in range(16))))
    assert steady.per_sitting == 0


@given(SITTINGS)
@settings(max_examples=50)
def test_the_order_told_in_does_not_matter(lines_and_minutes: list[tuple[int, int]]) -> None:
    sittings = sat(*lines_and_minutes)
    assert pace_of(sittings) == pace_of(sittings[::-1])
    found = pace_of(sittings).range()
    assert 0 <= found.low <= found.expected <= found.high


def test_sittings_of_one_day_are_no_independent_witnesses() -> None:
    """The same sittings, on days that differ, say less of the pace than if each were on a day of its own."""
    rates = [24.0] * 4 + [16.0] * 4 + [23.0] * 4 + [17.0] * 4
    apart = [Sitting("A", rate, 60, START + timedelta(days=at)) for at, rate in enumerate(rates)]
    together = [Sitting("A", rate, 60, START + timedelta(days=at // 4, hours=at % 4)) for at, rate in enumerate(rates)]
    assert pace_of(together).error > 1.3 * pace_of(apart).error
    assert pace_of(together).lines_an_hour == pytest.approx(20.5, abs=1.0)


def test_days_that_do_not_differ_cost_little() -> None:
    rates = [22.0, 18.0, 21.0, 19.0] * 6
    apart = [Sitting("A", rate, 60, START + timedelta(days=at)) for at, rate in enumerate(rates)]
    together = [Sitting("A", rate, 60, START + timedelta(days=at // 4, hours=at % 4)) for at, rate in enumerate(rates)]
    assert pace_of(together).error < 1.3 * pace_of(apart).error


def test_a_movement_is_the_same_in_any_unit_and_at_any_height() -> None:
    rising = [20.0 + step + step % 3 for step in range(14)]
    assert moves(rising, [1.0] * 14)
    assert moves([1000 + 60 * each for each in rising], [0.01] * 14)
    assert not moves([20.0 + step % 3 for step in range(14)], [1.0] * 14)
    assert not moves(rising[:3], [1.0] * 3)
    assert not moves([20.0] * 14, [1.0] * 14)
