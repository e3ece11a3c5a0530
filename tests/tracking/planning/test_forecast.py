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
from copydesk.tracking.planning.forecast import FORECAST, Finish, forecast, needed_for, skins_needed
from copydesk.tracking.planning.work_runs import NEVER, HandWork, WorkLeft, simulated
from copydesk.tracking.planning.working_days import WorkingDays
from copydesk.tracking.scribes.hours import Hours
from copydesk.tracking.scribes.pace import Pace

MONDAY = date(2026, 11, 23)
SURE = Pace(20, 0.0, math.inf, 0.0)
TEN_HOURS = Hours(10, 0.0, 0.0, sits=5.0)
UNSURE = Pace(20, 1.5, 9, 30.0)
ABOUT_TEN = Hours(10, 1.0, 2.5)


def task(lines: float, hand: str = "A", pace: Pace = UNSURE, hours: Hours = ABOUT_TEN) -> HandWork:
    return HandWork(hand, lines, 0.0, pace, hours)


def work(
    *writing: HandWork, checking: tuple[HandWork, ...] = (), painting: tuple[HandWork, ...] = (), dry: float = 0
) -> WorkLeft:
    return WorkLeft(MONDAY, WorkingDays(), writing, checking, painting, dry)


def test_sure_work_has_one_day() -> None:
    """160 lines at 20 an hour, two hours on each of five days: done on Thursday, unless the hand is away."""
    found = forecast(work(task(160, pace=SURE, hours=TEN_HOURS)))
    thursday = date(2026, 11, 26)
    assert found.written == Finish(thursday, thursday, thursday)


def test_days_off_and_weekends_put_it_off() -> None:
    off = WorkingDays(off=frozenset({date(2026, 11, 25)}))
    found = forecast(replace(work(task(200, pace=SURE, hours=TEN_HOURS)), days=off))
    assert found.written.expected == date(2026, 11, 30)


def test_a_hands_own_days_off_put_off_that_hand_alone() -> None:
    away = replace(task(200, pace=SURE, hours=TEN_HOURS), off=frozenset({date(2026, 11, 25)}))
    there = task(200, "B", SURE, TEN_HOURS)
    assert forecast(work(away)).written.expected == date(2026, 11, 30)
    hands = {hand.hand: hand.calendar.day(hand.written[0]) for hand in simulated(work(away, there)).hands}
    assert hands == {"A": 7, "B": 4}


def test_two_hands_are_done_when_the_slower_is() -> None:
    found = forecast(work(task(200, "A", SURE, TEN_HOURS), task(400, "B", SURE, TEN_HOURS)))
    assert found.written.expected == date(2026, 12, 4)


def test_checking_follows_when_the_ink_is_dry() -> None:
    writing = task(200, pace=SURE, hours=TEN_HOURS)
    checker = task(240, "B", replace(SURE, lines_an_hour=120), Hours(5, 0, 0, sits=5.0))
    found = forecast(work(writing, checking=(checker,), dry=1))
    assert found.written.expected == date(2026, 11, 27)
    assert found.checked.expected == date(2026, 11, 30)


def test_a_slow_checker_holds_it_up() -> None:
    writing = task(200, pace=SURE, hours=TEN_HOURS)
    checker = task(1200, "B", replace(SURE, lines_an_hour=120), Hours(5, 0, 0, sits=5.0))
    found = forecast(work(writing, checking=(checker,)))
    assert found.checked.expected == date(2026, 12, 1)  # half of it is left when A is free to help


def test_the_whole_waits_for_the_artist() -> None:
    writing = task(200, pace=SURE, hours=TEN_HOURS)
    artist = task(15, "Artist", Pace(1, 0.0, math.inf, 0.0), Hours(5, 0.0, 0.0, sits=5.0))
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
    assert forecast(work(task(2000)), due=MONDAY).chance_by_due == pytest.approx(0, abs=1e-3)


def test_what_would_meet_the_due_date() -> None:
    needed = needed_for(work(task(2000)), date(2027, 1, 1), 0.8)
    assert needed is not None
    assert 1.5 < needed.times < 2.5
    assert needed.hours_a_week["A"] == pytest.approx(10 * needed.times, abs=0.06)
    assert needed.lines_an_hour["A"] == pytest.approx(20 * needed.times, abs=0.11)
    hours = Hours(10 * needed.times, needed.times, 2.5 * needed.times)
    chance = forecast(work(task(2000, hours=hours)), due=date(2027, 1, 1)).chance_by_due
    assert chance == pytest.approx(0.8, abs=0.06)


def test_a_due_date_gone_by_cannot_be_met() -> None:
    assert needed_for(work(task(2000)), MONDAY - timedelta(days=3)) is None


def test_skins_are_there_before_a_quick_hand_wants_them() -> None:
    batches = [(4, 0.0), (4, 400.0), (3, 900.0)]
    needs = skins_needed(work(task(1500)), batches, days_to_make=15)
    assert [need.skins for need in needs] == [4, 4, 3]
    assert needs[0].needed_by == MONDAY
    assert needs[0].needed_by < needs[1].needed_by < needs[2].needed_by
    assert all(need.needed_by - need.begin_by == timedelta(days=15) for need in needs)
    ends = simulated(work(task(1500))).reaches(900)
    assert sum(MONDAY + timedelta(days=end) <= needs[2].needed_by for end in ends) >= 0.1 * len(ends)


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


def test_what_three_hands_must_all_do_is_less_likely_than_what_one_must() -> None:
    """Their chances multiply, and are not that of the slowest."""
    due = date(2027, 2, 12)
    one = forecast(work(task(2000)), due).chance_by_due
    three = forecast(work(*(task(2000, hand) for hand in "ABC")), due).chance_by_due
    assert one is not None
    assert three == pytest.approx(one**3, abs=0.03)


def test_the_same_seed_gives_the_same_answer_and_another_nearly() -> None:
    left = work(task(2000), task(900, "B"))
    assert simulated(left, seed=4).written == simulated.__wrapped__(left, seed=4).written
    first, other = (sorted(simulated(left, seed=seed).written) for seed in (1, 2))
    assert first != other
    assert first[1000] == pytest.approx(other[1000], rel=0.03)


def test_what_an_artist_adds_changes_nothing_of_the_hands() -> None:
    artist = HandWork("Ines", 30, 9, Pace(1, 0.0, math.inf, 0.0), Hours(5, 0.5, 1))
    assert simulated(work(task(900))).written == simulated(work(task(900), painting=(artist,))).written


def test_who_holds_the_date_is_named() -> None:
    slow, quick = task(2000, "A"), task(300, "B")
    assert forecast(work(slow, quick)).held_by == "A, writing"
    artist = HandWork("Ines", 900, 90, Pace(1, 0.0, math.inf, 0.0), Hours(5, 0.5, 1))
    assert forecast(work(slow, quick, painting=(artist,))).held_by == "Ines, painting"
    assert forecast(work(quick, checking=(task(3000, "B"),))).held_by == "checking"
    waiting = replace(work(quick), lines_to_skins=50.0, skin_days=300.0)
    assert forecast(waiting).held_by == "skins"
    assert forecast(waiting).written.expected > forecast(work(quick)).written.expected  # type: ignore[operator]
    assert forecast(work()).held_by == ""


def test_checking_done_alongside_delays_the_writing_and_not_the_end() -> None:
    left = work(task(1000), checking=(task(1400),))
    beside = replace(left, alongside=1.0)
    one, other = forecast(left), forecast(beside)
    assert other.written.expected > one.written.expected  # type: ignore[operator]
    assert abs((other.checked.expected - one.checked.expected).days) <= 4  # type: ignore[operator]


def test_whoever_is_free_checks() -> None:
    """B has written all and takes the checking over, so that it is done before A alone could do it."""
    checking = (task(1500), task(300, "B"))
    alone, helped = work(task(1200), checking=(task(1800),)), work(task(1200), task(0, "B"), checking=checking)
    assert forecast(helped).checked.expected < forecast(alone).checked.expected  # type: ignore[operator]


def test_a_hand_sits_on_its_own_weekdays() -> None:
    """A hand that sits on Thursdays alone is done on one."""
    thursdays = replace(TEN_HOURS, pattern=(0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0), sits=7.0)
    found = forecast(work(task(200, pace=SURE, hours=thursdays))).written
    assert found.expected == date(2026, 11, 26)


@given(st.floats(1, 5000), st.floats(0, 5000), st.integers(0, 9))
@settings(max_examples=20, deadline=None)
def test_nothing_is_whole_before_it_is_checked_nor_checked_before_it_is_written(
    lines: float, others: float, dry: int
) -> None:
    artist = HandWork("Ines", 30, 9, Pace(1, 0.0, math.inf, 0.0), Hours(5, 0.5, 1))
    checking = (task(1.2 * lines), task(1.2 * others, "B"))
    left = work(task(lines), task(others, "B"), checking=checking, painting=(artist,), dry=dry)
    runs = simulated(left, runs=50)
    for written, checked, painted, whole in zip(runs.written, runs.checked, runs.painted, runs.whole, strict=True):
        assert 0 <= written <= written + dry <= checked <= NEVER
        assert max(checked, painted) + dry == whole


@given(st.floats(50, 3000))
@settings(max_examples=20, deadline=None)
def test_the_ends_of_the_range_have_their_chance(lines: float) -> None:
    left = work(task(lines))
    found, ends = forecast(left).written, simulated(left).written
    for day, share in ((found.low, 0.1), (found.expected, 0.5), (found.high, 0.9)):
        assert day is not None
        assert sum(end <= (day - MONDAY).days for end in ends) >= share * len(ends)
        assert day == MONDAY or sum(end < (day - MONDAY).days for end in ends) < share * len(ends)
