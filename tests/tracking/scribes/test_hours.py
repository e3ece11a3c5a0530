"""Hours a week from the days of a record, and stated hours that are not kept."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.tracking.scribes.hours import GUESSED_HOURS, Sat, hours_a_week

MONDAY = date(2026, 11, 2)


def every_weekday(days: int, hours: float = 2.0) -> list[Sat]:
    worked = [day for step in range(2 * days + 2) if (day := MONDAY + timedelta(days=step)).weekday() < 5]
    return [Sat(day, hours) for day in worked[:days]]


def test_without_a_day_the_hours_are_a_guess_or_as_stated() -> None:
    guess, stated = hours_a_week([], MONDAY), hours_a_week([], MONDAY, stated=12)
    assert (guess.a_week, guess.source, guess.guessed) == (GUESSED_HOURS, "guess", True)
    assert (stated.a_week, stated.source, stated.guessed) == (12, "stated", False)


@pytest.mark.parametrize("hours", [1.5, 2.0, 3.0])
def test_a_part_of_a_week_is_not_a_week(hours: float) -> None:
    """Within a quarter after one day, within a tenth after five, for a scribe who sits every weekday."""
    one, five = (hours_a_week(every_weekday(days, hours), every_weekday(days)[-1].day) for days in (1, 5))
    assert 5 * hours / one.a_week == pytest.approx(1, abs=0.25)
    assert 5 * hours / five.a_week == pytest.approx(1, abs=0.10)
    assert one.error > five.error


def test_they_are_a_guess_with_its_range_until_two_weeks_are_known() -> None:
    week, fortnight = (hours_a_week(every_weekday(days), every_weekday(days)[-1].day) for days in (5, 11))
    assert (week.source, fortnight.source) == ("guess", "sittings")
    low, high = week.range()
    assert low < 10 < high
    assert high - low > fortnight.range()[1] - fortnight.range()[0]


def test_the_weekdays_of_a_hand_are_learnt() -> None:
    """Mondays and Thursdays: after ten weeks nearly all of its hours are on these."""
    days = [MONDAY + timedelta(days=7 * week + day) for week in range(10) for day in (0, 3)]
    found = hours_a_week([Sat(day, 3.0) for day in days], days[-1] + timedelta(days=3))
    assert found.a_week == pytest.approx(6, rel=0.1)
    assert found.pattern[0] + found.pattern[3] > 0.6
    assert sum(found.pattern) == pytest.approx(1)


def test_today_counts_only_where_something_is_written() -> None:
    sat = every_weekday(5)
    assert hours_a_week(sat, sat[-1].day).covered == hours_a_week(sat, sat[-1].day + timedelta(days=1)).covered == 5


def test_days_off_tell_nothing() -> None:
    sat = every_weekday(5) + [Sat(day.day + timedelta(days=14), 2.0) for day in every_weekday(5)]
    off = frozenset(MONDAY + timedelta(days=step) for step in range(7, 14))
    end = sat[-1].day
    assert hours_a_week(sat, end, off=off).a_week > 1.2 * hours_a_week(sat, end).a_week


def test_days_to_come_are_not_yet_hours() -> None:
    assert hours_a_week(every_weekday(1), MONDAY - timedelta(days=3)).a_week == GUESSED_HOURS


def test_stated_hours_that_are_kept_stand() -> None:
    sat = every_weekday(30)
    kept = hours_a_week(sat, sat[-1].day, stated=10)
    assert kept.a_week == pytest.approx(10, rel=0.05)
    assert not kept.doubted


def test_stated_hours_that_are_not_kept_are_doubted_and_given_up() -> None:
    sat = every_weekday(30, hours=0.6)
    found = hours_a_week(sat, sat[-1].day, stated=10)
    assert found.doubted
    assert found.a_week == pytest.approx(3, rel=0.2)


def test_a_long_silence_is_doubted_and_a_short_one_is_not() -> None:
    sat = every_weekday(40)
    for silent, doubted in ((4, False), (46, True)):
        found = hours_a_week(sat, sat[-1].day + timedelta(days=silent), stated=10)
        assert (found.silent, found.doubted) == (silent, doubted)
    assert hours_a_week(sat, sat[-1].day + timedelta(days=46)).doubted


@given(st.lists(st.tuples(st.integers(0, 60), st.floats(0.1, 12)), max_size=30), st.none() | st.floats(1, 40))
@settings(max_examples=60)
def test_the_order_told_in_does_not_matter_and_all_is_a_number(
    days: list[tuple[int, float]], stated: float | None
) -> None:
    sat = [Sat(MONDAY + timedelta(days=step), hours) for step, hours in days]
    found = hours_a_week(sat, MONDAY + timedelta(days=60), stated)
    again = hours_a_week(sat[::-1], MONDAY + timedelta(days=60), stated)
    assert found.a_week == pytest.approx(again.a_week)
    assert found.a_week > 0
    assert found.error > 0
    assert 0 <= found.kept <= 1
