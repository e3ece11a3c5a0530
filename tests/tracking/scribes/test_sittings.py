"""Sittings out of ledger entries."""

from __future__ import annotations

from copydesk.tracking.ledger.entry import Entry
from copydesk.tracking.scribes.sittings import checking_sittings, writing_sittings


def entry(what: str, clock: str, hand: str = "A", desk: str = "d1", **facts: object) -> Entry:
    return Entry(f"{desk}-{clock}", 1, f"2026-11-25T{clock}:00+00:00", hand, desk, what, "1.1:r", "1r", facts)


def rows(*entries: Entry) -> list[tuple[str, float, float]]:
    return [(each.hand, each.lines, each.minutes) for each in writing_sittings(entries)]


def test_minutes_that_were_told_are_a_sitting() -> None:
    assert rows(entry("written", "10:00", from_line=1, to_line=30, minutes=70.0)) == [("A", 30, 70)]


def test_lines_without_time_are_left_out() -> None:
    assert rows(entry("written", "10:00", from_line=1, to_line=30)) == []


def test_the_clock_times_what_was_written_while_it_ran() -> None:
    told = rows(
        entry("stint-started", "09:00"),
        entry("written", "09:40", from_line=1, to_line=20),
        entry("stint-paused", "09:50"),
        entry("stint-started", "10:10"),
        entry("written", "10:30", from_line=21, to_line=32),
        entry("stint-stopped", "10:40"),
    )
    assert told == [("A", 32, 80)]


def test_minutes_given_when_the_stint_ends_stand() -> None:
    told = rows(
        entry("stint-started", "09:00"),
        entry("written", "09:40", from_line=1, to_line=20),
        entry("stint-stopped", "22:40", minutes=50.0),
    )
    assert told == [("A", 20, 50)]


def test_a_clock_left_running_tells_nothing() -> None:
    told = rows(
        entry("stint-started", "00:10"),
        entry("written", "01:00", from_line=1, to_line=20),
        entry("stint-stopped", "23:40"),
    )
    assert told == []


def test_lines_with_their_own_minutes_leave_the_rest_to_the_clock() -> None:
    told = rows(
        entry("stint-started", "09:00"),
        entry("written", "09:30", from_line=1, to_line=10, minutes=25.0),
        entry("written", "10:00", from_line=11, to_line=30),
        entry("stint-stopped", "10:00"),
    )
    assert told == [("A", 10, 25), ("A", 20, 35)]


def test_another_hand_or_desk_has_its_own_clock() -> None:
    told = rows(
        entry("stint-started", "09:00"),
        entry("written", "09:30", hand="B", desk="d2", from_line=1, to_line=10),
        entry("written", "09:40", hand="B", from_line=1, to_line=10),
        entry("stint-stopped", "10:00"),
    )
    assert told == []


def test_a_new_hand_at_the_desk_begins_another_stint() -> None:
    told = rows(
        entry("stint-started", "09:00"),
        entry("stint-started", "09:30", hand="B"),
        entry("written", "10:00", hand="B", from_line=1, to_line=12),
        entry("stint-stopped", "10:00", hand="B"),
    )
    assert told == [("B", 12, 30)]


def test_entries_that_make_no_sense_are_passed_over() -> None:
    odd = Entry("e", 1, "some day", "A", "d1", "written", "1.1:r", "1r", {"from_line": 1, "to_line": 3, "minutes": 9.0})
    assert rows(odd, entry("stint-stopped", "09:00"), entry("written", "09:10", from_line=9, to_line=3)) == []


def test_checks_with_their_minutes() -> None:
    entries = [entry("checked", "11:00", hand="B", minutes=12.0), entry("checked", "11:30", hand="B")]
    (found,) = checking_sittings(entries, lambda _: 32)
    assert (found.hand, found.lines, found.minutes) == ("B", 32, 12)
