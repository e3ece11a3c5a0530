"""The stint clock and its reminder."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.tracking.ledger.stint_clock import Turn, clock, rest_sentence

NINE = datetime(2026, 11, 25, 9, 0)


def at(minutes: float) -> datetime:
    return NINE + timedelta(minutes=minutes)


def test_before_anything_the_clock_stands() -> None:
    found = clock([], NINE)
    assert (found.running, found.minutes, found.since_rest, found.began) == (False, 0, 0, None)


def test_a_running_clock_counts_up_to_now() -> None:
    found = clock([("started", NINE)], at(25))
    assert (found.running, found.minutes, found.since_rest, found.began) == (True, 25, 25, NINE)


def test_a_pause_is_not_counted_and_is_a_rest() -> None:
    turns: list[tuple[Turn, datetime]] = [("started", NINE), ("paused", at(40)), ("started", at(50))]
    found = clock(turns, at(65))
    assert (found.minutes, found.since_rest) == (55, 15)
    assert found.began == NINE


def test_a_pause_of_a_minute_is_no_rest() -> None:
    turns: list[tuple[Turn, datetime]] = [("started", NINE), ("paused", at(40)), ("started", at(41))]
    assert clock(turns, at(56)).since_rest == 55


def test_a_rest_may_last() -> None:
    paused = clock([("started", NINE), ("paused", at(40))], at(43))
    assert (paused.running, paused.minutes, paused.since_rest) == (False, 40, 40)
    assert clock([("started", NINE), ("paused", at(40))], at(48)).since_rest == 0


def test_after_a_stop_comes_another_stint() -> None:
    turns: list[tuple[Turn, datetime]] = [("started", NINE), ("stopped", at(30))]
    assert clock(turns, at(90)).began is None
    assert clock(turns, at(90)).minutes == 30
    found = clock([*turns, ("started", at(100))], at(110))
    assert (found.minutes, found.began) == (10, at(100))


def test_stopping_and_starting_at_once_is_no_rest() -> None:
    turns: list[tuple[Turn, datetime]] = [("started", NINE), ("stopped", at(50)), ("started", at(51))]
    assert clock(turns, at(61)).since_rest == 60


def test_a_clock_left_running_overnight_is_not_believed() -> None:
    assert clock([("started", NINE)], at(60 * 15)).forgotten
    assert not clock([("started", NINE)], at(60 * 3)).forgotten


def test_a_desk_clock_set_back_counts_no_time() -> None:
    assert clock([("started", NINE)], at(-30)).minutes == 0


@given(st.lists(st.tuples(st.sampled_from(["started", "paused", "stopped"]), st.floats(0, 200)), max_size=10))
@settings(max_examples=60)
def test_no_more_minutes_than_have_passed(steps: list[tuple[Turn, float]]) -> None:
    now = 0.0
    turns: list[tuple[Turn, datetime]] = []
    for turn, after in steps:
        now += after
        turns.append((turn, at(now)))
    found = clock(turns, at(now + 10))
    assert 0 <= found.minutes <= now + 10 + 1e-6
    assert 0 <= found.since_rest <= now + 10 + 1e-6
    assert not found.running or found.began is not None


@pytest.mark.parametrize(("since", "after"), [(49.9, 50), (500, 0), (0, 30)])
def test_no_rest_is_asked_for_too_soon(since: float, after: float) -> None:
    assert rest_sentence(since, after) == ""


def test_a_rest_that_is_due_is_a_sentence() -> None:
    said = rest_sentence(52.4, 50)
    assert said.startswith("52 minutes without a rest")
    assert said.endswith(".")
