"""Days worked and days off."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.tracking.planning.working_days import WorkingDays

WEEK = WorkingDays()
DAYS = st.dates(date(2020, 1, 1), date(2040, 1, 1))
SOME = st.builds(
    WorkingDays,
    st.frozensets(st.integers(0, 6), min_size=1),
    st.frozensets(st.dates(date(2025, 1, 1), date(2026, 12, 31)), max_size=30),
)


def test_a_week_has_five_days_unless_told() -> None:
    monday = date(2026, 11, 23)
    assert [WEEK.is_worked(monday + timedelta(days=step)) for step in range(7)] == [True] * 5 + [False] * 2
    assert WEEK.between(monday, monday + timedelta(days=13)) == 10


def test_the_same_day_where_it_is_worked() -> None:
    assert WEEK.first_from(date(2026, 11, 25)) == date(2026, 11, 25)
    assert WEEK.first_from(date(2026, 11, 28)) == date(2026, 11, 30)


def test_the_last_day_worked_before() -> None:
    assert WEEK.last_to(date(2026, 11, 25)) == date(2026, 11, 25)
    assert WEEK.last_to(date(2026, 11, 29)) == date(2026, 11, 27)
    assert WorkingDays(frozenset({6})).last_to(date(1, 1, 3)) is None


def test_days_off_are_passed_over() -> None:
    week = WorkingDays(off=frozenset({date(2026, 12, 25), date(2026, 12, 26)}))
    assert week.first_from(date(2026, 12, 25)) == date(2026, 12, 28)
    assert week.between(date(2026, 12, 24), date(2026, 12, 28)) == 2


def test_the_other_way_round_there_are_none() -> None:
    assert WEEK.between(date(2026, 11, 25), date(2026, 11, 24)) == 0


def test_past_the_end_of_the_calendar_there_is_no_date() -> None:
    assert WorkingDays(frozenset({6})).first_from(date(9999, 12, 27)) is None
    assert WEEK.first_from(date(9999, 12, 31)) == date(9999, 12, 31)


@pytest.mark.parametrize("weekdays", [frozenset(), frozenset({7}), frozenset({-1, 2})])
def test_a_week_without_work_is_refused(weekdays: frozenset[int]) -> None:
    with pytest.raises(CopydeskError, match="no day of the week"):
        WorkingDays(weekdays)


@given(SOME, st.dates(date(2024, 6, 1), date(2027, 6, 1)))
@settings(max_examples=60, deadline=None)
def test_the_first_and_the_last_day_worked_have_none_between_them_and_the_day(days: WorkingDays, day: date) -> None:
    first, last = days.first_from(day), days.last_to(day)
    assert first is not None
    assert last is not None
    assert last <= day <= first
    assert (days.between(day, first), days.between(last, day)) == (1, 1)


@given(SOME, DAYS, st.integers(0, 400))
@settings(max_examples=60, deadline=None)
def test_counting_is_counting_one_by_one(days: WorkingDays, first: date, length: int) -> None:
    each = [first + timedelta(days=step) for step in range(length)]
    assert days.between(first, first + timedelta(days=length - 1)) == sum(map(days.is_worked, each))
