"""What faults tell."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.tracking.checking.fault_rates import (
    DAY_BANDS,
    SITTING_BANDS,
    CheckedLines,
    by_hand,
    by_hand_and_kind,
    by_kind,
    checked_lines,
    over_the_day,
    over_the_sitting,
    rate_of,
    rest_after,
)
from copydesk.tracking.ledger.page_record import Fault, PageRecord
from copydesk.tracking.ledger.stint import Stint


def stint(hand: str, first: int, last: int, minutes: float | None = 40.0) -> Stint:
    return Stint(hand, first, last, 0, 90, "2026-11-25T10:20:00+00:00", minutes, f"e{first}")


def fault(line: int | None, kind: str = "omission") -> Fault:
    return Fault("f", "3r", kind, "", 1, line, None, "", "", "B", "", "", "", "")


def test_a_rate_is_per_hundred_lines_with_its_range() -> None:
    found = rate_of([CheckedLines("A", 300, ("omission",) * 6)])
    assert found is not None
    assert found.per_100 == pytest.approx(2)
    assert found.low < 2 < found.high
    assert rate_of([]) is None


def test_no_fault_in_few_lines_promises_little() -> None:
    few, many = (rate_of([CheckedLines("A", lines)]) for lines in (30, 3000))
    assert few is not None
    assert many is not None
    assert few.high > 9
    assert many.high < 0.3


def test_rates_by_hand_and_kind() -> None:
    checked = [
        CheckedLines("A", 100, ("omission", "omission")),
        CheckedLines("B", 50, ("addition",)),
        CheckedLines("A", 60),
    ]
    assert {hand: (found.faults, found.lines) for hand, found in by_hand(checked).items()} == {
        "A": (2, 160),
        "B": (1, 50),
    }
    assert list(by_kind(checked)) == ["omission", "addition"]
    assert by_kind(checked)["addition"].lines == 210
    assert list(by_hand_and_kind(checked)["A"]) == ["omission"]
    assert by_hand_and_kind(checked)["B"]["addition"].lines == 50


def test_a_page_tells_only_when_it_is_checked() -> None:
    record = PageRecord(stints=(stint("A", 1, 20), stint("B", 21, 32)), faults=(fault(5), fault(25), fault(None)))
    assert checked_lines(record, lambda each: each.line) == []
    told = checked_lines(PageRecord(stints=record.stints, faults=record.faults, checked_by="B"), lambda each: each.line)
    assert [(each.hand, each.lines, len(each.faults)) for each in told] == [("A", 20, 2), ("B", 12, 1)]
    assert told[0].hour == pytest.approx(10.0)
    assert told[0].sat_for == 20


def test_a_stint_of_unknown_time_still_counts() -> None:
    record = PageRecord(stints=(stint("A", 1, 20, minutes=None)._replace(at="lately"),), checked_by="B")
    (told,) = checked_lines(record, lambda each: each.line)
    assert (told.hour, told.sat_for, told.lines) == (None, None, 20)


def test_over_the_day_and_the_sitting() -> None:
    checked = [
        CheckedLines("A", 30, ("omission",), hour=9.5, sat_for=10),
        CheckedLines("A", 30, (), hour=8.9, sat_for=95),
        CheckedLines("A", 30, ("omission",), hour=None, sat_for=None),
    ]
    assert [(band.start, band.rate.faults) for band in over_the_day(checked)] == [(0, 0), (9, 1)]
    assert [(band.start, band.rate.lines) for band in over_the_sitting(checked)] == [(0, 30), (90, 30)]


def test_the_bands_leave_no_gap() -> None:
    assert [bands[at][at] for bands in (DAY_BANDS, SITTING_BANDS) for at in (0, -1)] == [0.0, 24.0, 0.0, float("inf")]
    assert all(one[1] == other[0] for bands in (DAY_BANDS, SITTING_BANDS) for one, other in pairwise(bands))


@pytest.mark.parametrize("begins", [45.0, 60.0, 90.0])
def test_rest_is_advised_from_the_very_minute_faults_begin(begins: float) -> None:
    fresh = [CheckedLines("A", 20, (), sat_for=sat) for sat in (10.0, 29.0, 31.0, begins - 1)] * 6
    tired = [CheckedLines("A", 20, ("omission",) * 2, sat_for=sat) for sat in (begins, begins + 40)] * 6
    found = rest_after(fresh + tired)
    assert found is not None
    assert (found.minutes, found.before.faults, found.after.faults) == (begins, 0, 24)


def days(number: int, faults: dict[int, int]) -> list[CheckedLines]:
    """Days of four pages, written at 15, 45, 75 and 105 minutes, with so many faults on each of them."""
    return [
        CheckedLines("A", 20, ("omission",) * faults.get(minutes, 0), sat_for=minutes, day=f"2026-03-{day:02}")
        for day in range(1, number + 1)
        for minutes in (15, 45, 75, 105)
    ]


def test_rest_is_advised_only_where_the_record_shows_it() -> None:
    found = rest_after(days(9, {75: 1, 105: 1}))
    assert found is not None
    assert 45 < found.minutes <= 75
    assert found.chance < 0.05
    assert found.after.per_100 > found.before.per_100
    assert found.sentence().startswith(f"Rest after {found.minutes:.0f} minutes")
    assert rest_after(days(3, {75: 1, 105: 1})) is None
    assert rest_after(days(9, dict.fromkeys((15, 45, 75, 105), 2))) is None


def test_a_bad_day_and_the_newest_are_no_evidence() -> None:
    """All faults on days of long sitting, or all on the last day: nothing that days themselves could not have done."""
    short = [each._replace(day=f"2026-02-{at:02}") for at, each in enumerate(days(9, {})) if (each.sat_for or 0) < 50]
    long = [each for each in days(9, dict.fromkeys((75, 105), 3)) if (each.sat_for or 0) > 50]
    assert rest_after(short[:9] + long) is None
    last = [each._replace(day="2026-04-01") for each in days(1, {75: 9, 105: 9})]
    assert rest_after(days(9, {}) + last) is None


def test_pages_that_differ_make_the_range_wider() -> None:
    even = rate_of([CheckedLines("A", 30, ("omission",), day=str(at)) for at in range(20)])
    odd = rate_of([CheckedLines("A", 30, ("omission",) * (4 * (at % 4 == 0)), day=str(at)) for at in range(20)])
    assert even is not None
    assert odd is not None
    assert even.per_100 == odd.per_100
    assert odd.high - odd.low > 1.3 * (even.high - even.low)


@pytest.mark.parametrize(
    "checked",
    [
        [],
        [CheckedLines("A", 20, ("omission",), sat_for=15)],
        [CheckedLines("A", 20, ("omission",), sat_for=None)] * 30,
        [CheckedLines("A", 20, ("omission",), sat_for=15), CheckedLines("A", 20, ("omission",), sat_for=100)],
        [CheckedLines("A", 20, ("omission",) * 3, sat_for=15)] * 9 + [CheckedLines("A", 20, (), sat_for=100)] * 9,
    ],
)
def test_no_rest_is_advised_without_grounds(checked: list[CheckedLines]) -> None:
    assert rest_after(checked) is None


@given(st.lists(st.tuples(st.integers(1, 40), st.integers(0, 3), st.floats(0, 150)), max_size=20))
@settings(max_examples=40)
def test_no_fault_is_lost_between_the_bands(rows: list[tuple[int, int, float]]) -> None:
    checked = [CheckedLines("A", lines, ("omission",) * faults, sat_for=sat) for lines, faults, sat in rows]
    bands = over_the_sitting(checked)
    assert sum(band.rate.faults for band in bands) == sum(faults for _, faults, _ in rows)
    assert sum(band.rate.lines for band in bands) == sum(lines for lines, _, _ in rows)
