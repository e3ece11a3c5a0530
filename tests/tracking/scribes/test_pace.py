"""Pace and hours from sittings."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.tracking.scribes.pace import GUESSED_HOURS, GUESSED_PACE, Sitting, hours_a_week, pace_of

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
    assert pace.lines_an_hour == pytest.approx(20)
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


def test_stated_hours_stand() -> None:
    hours = hours_a_week(sat((20, 60)), date(2026, 12, 1), stated=12)
    assert (hours.a_week, hours.source) == (12, "stated")


def test_hours_come_from_the_weeks_that_were() -> None:
    """Two hours in each of three weeks."""
    sittings = [Sitting("A", 40, 120, START + timedelta(days=day)) for day in (0, 9, 15)]
    hours = hours_a_week(sittings, date(2026, 11, 22))
    assert (hours.a_week, hours.source) == (2, "sittings")
    assert hours.error > 0


def test_a_week_without_work_counts_as_one() -> None:
    sittings = [Sitting("A", 40, 120, START + timedelta(days=day)) for day in (0, 14)]
    assert hours_a_week(sittings, date(2026, 11, 22)).a_week == pytest.approx(4 / 3)


def test_the_first_week_counts_as_far_as_it_goes() -> None:
    assert hours_a_week(sat((40, 120)), START.date()).a_week == 2


def test_sittings_to_come_are_not_yet_hours() -> None:
    assert hours_a_week(sat((40, 120)), date(2026, 10, 1)).a_week == GUESSED_HOURS


def test_without_sittings_the_hours_are_a_guess() -> None:
    hours = hours_a_week([], date(2026, 11, 22))
    assert (hours.a_week, hours.source) == (GUESSED_HOURS, "guess")
