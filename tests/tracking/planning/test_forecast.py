"""When it will be done."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.columns import Report
from copydesk.tracking.planning.forecast import (
    FORECAST,
    Finish,
    HandWork,
    WorkLeft,
    chance_checked,
    chance_painted,
    chance_reached,
    chance_whole,
    chance_written,
    forecast,
    needed_for,
    skins_needed,
)
from copydesk.tracking.planning.working_days import WorkingDays
from copydesk.tracking.scribes.pace import Hours, Pace

MONDAY = date(2026, 11, 23)
SURE = Pace(20, 0.0, math.inf, 0.0)
TEN_HOURS = Hours(10, 0.0, 0.0)
UNSURE = Pace(20, 1.5, 9, 30.0)
ABOUT_TEN = Hours(10, 1.0, 2.5)


def task(lines: float, hand: str = "A", pace: Pace = UNSURE, hours: Hours = ABOUT_TEN) -> HandWork:
    return HandWork(hand, lines, 0.0, pace, hours)


def work(
    *writing: HandWork, checking: tuple[HandWork, ...] = (), painting: tuple[HandWork, ...] = (), dry: float = 0
) -> WorkLeft:
    return WorkLeft(MONDAY, WorkingDays(), writing, checking, painting, dry)


def test_sure_work_has_one_day() -> None:
    """200 lines at 20 an hour, two hours on each of five days: done on Friday."""
    found = forecast(work(task(200, pace=SURE, hours=TEN_HOURS)))
    friday = date(2026, 11, 27)
    assert found.written == Finish(friday, friday, friday)


def test_days_off_and_weekends_put_it_off() -> None:
    off = WorkingDays(off=frozenset({date(2026, 11, 25)}))
    found = forecast(replace(work(task(200, pace=SURE, hours=TEN_HOURS)), days=off))
    assert found.written.expected == date(2026, 11, 30)


def test_two_hands_are_done_when_the_slower_is() -> None:
    found = forecast(work(task(200, "A", SURE, TEN_HOURS), task(400, "B", SURE, TEN_HOURS)))
    assert found.written.expected == date(2026, 12, 4)


def test_checking_follows_when_the_ink_is_dry() -> None:
    writing = task(200, pace=SURE, hours=TEN_HOURS)
    checker = task(240, "B", replace(SURE, lines_an_hour=120), Hours(5, 0, 0))
    found = forecast(work(writing, checking=(checker,), dry=1))
    assert found.written.expected == date(2026, 11, 27)
    assert found.checked.expected == date(2026, 11, 30)


@given(st.floats(1, 500), st.floats(0, 400), st.integers(0, 120), st.floats(0, 5))
@settings(max_examples=40)
def test_the_chance_that_all_is_painted_is_one_and_never_falls(
    hours: float, lines: float, days: int, dry: float
) -> None:
    artist = HandWork("Ines", hours, 0.3 * hours, Pace(1.0, 0.0, math.inf, 0.0), ABOUT_TEN)
    left = replace(work(task(lines), painting=(artist,), dry=dry), lines_to_spaces=lines)
    now, later = (chance_painted(left, MONDAY + timedelta(days=ahead)) for ahead in (days, days + 7))
    assert 0 <= now <= later + 1e-9 <= 1 + 1e-9
    assert now <= chance_painted(replace(left, lines_to_spaces=0.0), MONDAY + timedelta(days=days)) + 1e-9


def test_a_slow_checker_holds_it_up() -> None:
    writing = task(200, pace=SURE, hours=TEN_HOURS)
    checker = task(1200, "B", replace(SURE, lines_an_hour=120), Hours(5, 0, 0))
    assert forecast(work(writing, checking=(checker,))).checked.expected == date(2026, 12, 4)


def test_the_whole_waits_for_the_artist() -> None:
    writing = task(200, pace=SURE, hours=TEN_HOURS)
    artist = task(15, "Artist", Pace(1, 0.0, math.inf, 0.0), Hours(5, 0.0, 0.0))
    found = forecast(work(writing, painting=(artist,), dry=2))
    assert found.checked.expected == date(2026, 11, 27)
    assert found.whole.expected == date(2026, 12, 13)


def test_nothing_left_is_done_today() -> None:
    assert forecast(work(task(0))).written == Finish(MONDAY, MONDAY, MONDAY)
    assert forecast(work()).whole.high == MONDAY


def test_a_hand_without_hours_never_ends() -> None:
    found = forecast(work(task(100, hours=Hours(0, 0, 0))), due=date(2027, 3, 1))
    assert found.written == Finish(None, None, None)
    assert found.chance_by_due == 0
    assert found.needed is None


def test_a_finish_past_the_calendar_is_out_of_sight() -> None:
    end = date(9999, 12, 1)
    late = replace(work(task(100_000)), start=end)
    assert forecast(late).written == Finish(None, None, None)


def test_the_chance_by_the_due_date() -> None:
    found = forecast(work(task(2000)), due=date(2027, 2, 12))
    assert found.chance_by_due is not None
    assert 0.5 < found.chance_by_due < 1
    assert forecast(work(task(2000)), due=MONDAY).chance_by_due == pytest.approx(0, abs=1e-6)


def test_what_would_meet_the_due_date() -> None:
    needed = needed_for(work(task(2000)), date(2027, 1, 1), 0.8)
    assert needed is not None
    assert 1.5 < needed.times < 2.5
    assert needed.hours_a_week["A"] == pytest.approx(10 * needed.times, abs=0.06)
    assert needed.lines_an_hour["A"] == pytest.approx(20 * needed.times, abs=0.11)
    hours = Hours(10 * needed.times, needed.times, 2.5 * needed.times)
    assert chance_checked(work(task(2000, hours=hours)), date(2027, 1, 1)) == pytest.approx(0.8, abs=0.02)


def test_a_due_date_gone_by_cannot_be_met() -> None:
    assert needed_for(work(task(2000)), MONDAY - timedelta(days=3)) is None


def test_skins_are_there_before_a_quick_hand_wants_them() -> None:
    batches = [(4, 0.0), (4, 400.0), (3, 900.0)]
    needs = skins_needed(work(task(1500)), batches, days_to_make=15)
    assert [need.skins for need in needs] == [4, 4, 3]
    assert needs[0].needed_by == MONDAY
    assert needs[0].needed_by < needs[1].needed_by < needs[2].needed_by
    assert all(need.needed_by - need.begin_by == timedelta(days=15) for need in needs)
    assert chance_reached(work(task(1500)), 900, needs[2].needed_by) >= 0.1


def test_the_json_has_the_documented_keys() -> None:
    found = forecast(work(task(900)), due=date(2027, 3, 31), chance_text_fits=0.97123)
    text = json.loads(json.dumps(Report("forecast", "", FORECAST).data(found)))
    assert set(text) >= {"written", "checked", "whole", "exemplar_due", "chance_by_due", "chance_text_fits"}
    assert set(text["written"]) == {"low", "expected", "high"}
    assert text["exemplar_due"] == "2027-03-31"
    assert text["chance_text_fits"] == 0.9712
    assert date.fromisoformat(text["written"]["low"]) <= date.fromisoformat(text["written"]["high"])


def test_without_a_due_date_there_is_no_chance_of_it() -> None:
    found = Report("forecast", "", FORECAST).data(forecast(work(task(900))))
    assert (found["exemplar_due"], found["chance_by_due"], found["needed"]) == (None, None, None)


@given(st.floats(1, 5000), st.integers(0, 700), st.integers(1, 60))
@settings(max_examples=50, deadline=None)
def test_a_chance_never_falls(lines: float, ahead: int, later: int) -> None:
    all_of_it = work(task(lines), task(lines / 2, "B"), checking=(task(lines, "B", replace(UNSURE, lines_an_hour=90)),))
    day, after = MONDAY + timedelta(days=ahead), MONDAY + timedelta(days=ahead + later)
    for chance in (chance_written, chance_checked, chance_whole):
        assert 0 <= chance(all_of_it, day) <= chance(all_of_it, after) + 1e-12 <= 1 + 1e-12
    assert chance_whole(all_of_it, day) <= chance_checked(all_of_it, day) <= chance_written(all_of_it, day)


@given(st.floats(50, 3000))
@settings(max_examples=30, deadline=None)
def test_the_ends_of_the_range_have_their_chance(lines: float) -> None:
    found = forecast(work(task(lines)))
    for day, share in ((found.written.low, 0.1), (found.written.expected, 0.5), (found.written.high, 0.9)):
        assert day is not None
        assert chance_written(work(task(lines)), day) >= share
        assert day == MONDAY or chance_written(work(task(lines)), day - timedelta(days=1)) < share
