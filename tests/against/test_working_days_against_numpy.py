"""Working days against NumPy's business-day calendar."""

from __future__ import annotations

import random
from datetime import date, timedelta

import numpy as np
import pytest

from copydesk.tracking.planning.working_days import WorkingDays

# Monday, Wednesday, Friday from Wednesday 25 November 2026: the date of session k (0 is the first), as
# numpy.busday_offset(..., roll="forward") and dateutil's rrule both give it.
SESSIONS = {0: date(2026, 11, 25), 1: date(2026, 11, 27), 5: date(2026, 12, 7)}
ENGLISH_HOLIDAYS = frozenset({date(2026, 12, 25), date(2026, 12, 28), date(2027, 1, 1)})


def session_of(days: WorkingDays, start: date, session: int) -> date | None:
    """The day of a session counted from the first day worked from ``start`` on, which is session 0."""
    found = days.first_from(start)
    for _ in range(session):
        assert found is not None
        found = days.first_from(found + timedelta(days=1))
    return found


@pytest.mark.parametrize("session", SESSIONS)
def test_sessions_of_a_three_day_week(session: int) -> None:
    assert session_of(WorkingDays(frozenset({0, 2, 4})), date(2026, 11, 25), session) == SESSIONS[session]


def test_holidays_push_the_end_back() -> None:
    """Three of the sessions up to the thirtieth fall on holidays of England and Wales (gov.uk/bank-holidays)."""
    week = frozenset({0, 2, 4})
    assert session_of(WorkingDays(week), date(2026, 11, 25), 30) == date(2027, 2, 3)
    assert session_of(WorkingDays(week, ENGLISH_HOLIDAYS), date(2026, 11, 25), 30) == date(2027, 2, 10)


def test_against_the_business_day_calendar() -> None:
    rng = random.Random(3)
    for _ in range(400):
        weekdays = frozenset(rng.sample(range(7), rng.randint(1, 7)))
        off = frozenset(date(2026, 1, 1) + timedelta(days=rng.randrange(900)) for _ in range(rng.randint(0, 40)))
        days = WorkingDays(weekdays, off)
        mask = [day in weekdays for day in range(7)]
        holidays = [np.datetime64(day) for day in off]
        start = date(2026, 1, 1) + timedelta(days=rng.randrange(700))
        steps = rng.randrange(200)
        expected = np.busday_offset(np.datetime64(start), steps, roll="forward", weekmask=mask, holidays=holidays)
        found = session_of(days, start, steps)
        assert found == expected.astype(date)
        assert found is not None
        count = np.busday_count(start, found + timedelta(days=1), weekmask=mask, holidays=holidays)
        assert days.between(start, found) == count
