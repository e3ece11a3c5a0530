"""The stint clock of a desk, read off its entries."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.tracking.ledger.entry import Act, Entry
from copydesk.tracking.ledger.entry_kinds import check_facts
from copydesk.tracking.ledger.ledger import Ledger
from copydesk.tracking.scribes.desk_clock import desk_clock, minutes_since_written, pause_stint, start_stint, stop_stint

ZONE = timezone(timedelta(hours=1))
NINE = datetime(2026, 11, 23, 9, 0, tzinfo=ZONE)


class Desk:
    """A ledger with one desk and a clock that is turned on by hand."""

    def __init__(self) -> None:
        self.ledger = Ledger()
        self.now = NINE

    def after(self, minutes: float, act: Act, hand: str = "A", desk: str = "window") -> None:
        self.now += timedelta(minutes=minutes)
        check_facts(act.what, act.facts)
        tick = self.ledger.last_tick + 1
        at = self.now.isoformat(timespec="seconds")
        self.ledger.add(Entry(f"e{tick}", tick, at, hand, desk, act.what, act.about, act.page, act.facts))

    def written(self, minutes: float, hand: str = "A") -> None:
        self.after(minutes, Act("written", "1.1:r", "1r", {"from_line": 1, "to_line": 30}), hand)


def test_no_stint_shows_nothing() -> None:
    now = desk_clock(Ledger(), "window", NINE, 45)
    assert not now.open
    assert (now.in_short(), now.rest_after) == ("", 45)


def test_a_stint_runs_rests_and_goes_on() -> None:
    desk = Desk()
    desk.after(0, start_stint("window", 50))
    now = desk_clock(desk.ledger, "window", NINE + timedelta(minutes=31), 45)
    assert (now.in_short(), now.rest_after, now.hand) == ("A 31 min", 50, "A")
    desk.after(40, pause_stint("window"))
    now = desk_clock(desk.ledger, "window", NINE + timedelta(minutes=55), 45)
    assert now.paused
    assert now.in_short() == "A paused at 40 min"
    desk.after(20, start_stint("window", 50))
    now = desk_clock(desk.ledger, "window", NINE + timedelta(minutes=70), 45)
    assert (now.shows.minutes, now.shows.since_rest) == (50, 10)
    desk.after(10, stop_stint("window"))
    assert not desk_clock(desk.ledger, "window", NINE + timedelta(minutes=80), 45).open


def test_each_desk_has_its_own_clock() -> None:
    desk = Desk()
    desk.after(0, start_stint("window", 50))
    assert not desk_clock(desk.ledger, "stove", NINE + timedelta(minutes=5), 45).open


def test_minutes_are_offered_since_the_last_page() -> None:
    desk = Desk()
    desk.after(0, start_stint("window", 50))
    assert minutes_since_written(desk.ledger, "window", NINE + timedelta(minutes=20)) == 20
    desk.written(60)
    assert minutes_since_written(desk.ledger, "window", NINE + timedelta(minutes=75)) == 15
    desk.after(30, pause_stint("window"))
    desk.after(10, start_stint("window", 50))
    assert minutes_since_written(desk.ledger, "window", NINE + timedelta(minutes=105)) == 35


def test_what_was_written_before_the_stint_is_not_counted() -> None:
    desk = Desk()
    desk.written(0)
    desk.after(60, start_stint("window", 50))
    assert minutes_since_written(desk.ledger, "window", NINE + timedelta(minutes=80)) == 20


def test_a_clock_left_running_offers_nothing() -> None:
    desk = Desk()
    desk.after(0, start_stint("window", 50))
    assert minutes_since_written(desk.ledger, "window", NINE + timedelta(hours=20)) == 0


def test_an_entry_taken_back_turns_no_clock() -> None:
    desk = Desk()
    desk.after(0, start_stint("window", 50))
    desk.after(1, Act("voided", "e1", "", {}))
    assert not desk_clock(desk.ledger, "window", NINE + timedelta(minutes=5), 45).open


def test_times_without_a_zone_are_the_machines_own() -> None:
    ledger = Ledger([Entry("e1", 1, "2026-11-23T09:00:00", "A", "window", "stint-started", "window", "", {})])
    now = datetime(2026, 11, 23, 9, 30).astimezone()
    assert desk_clock(ledger, "window", now, 45).shows.minutes == 30


@pytest.mark.parametrize("minutes", [-1, 481])
def test_no_rest_comes_after_that_long(minutes: int) -> None:
    with pytest.raises(CopydeskError, match="a rest after"):
        start_stint("window", minutes)
