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
    rate,
    rest_after,
)
from copydesk.tracking.ledger.page_record import Fault, PageRecord, Stint


def stint(hand: str, first: int, last: int, minutes: float | None = 40.0) -> Stint:
    return Stint(hand, first, last, 0, 90, "2026-11-25T10:20:00+00:00", minutes, f"e{first}")


def fault(line: int | None, kind: str = "omission") -> Fault:
    return Fault("f", "3r", kind, "", 1, line, None, "", "", "B", "", "", "", "")


def test_a_rate_is_per_hundred_lines_with_its_range() -> None:
    found = rate(6, 300)
    assert found is not None
    assert found.per_100 == pytest.approx(2)
    assert found.low < 2 < found.high
    assert rate(0, 0) is None


def test_no_fault_in_few_lines_promises_little() -> None:
    few, many = rate(0, 30), rate(0, 3000)
    assert few is not None
    assert many is not None
    assert few.high > 9
    assert many.high < 0.2


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


def test_rest_is_advised_only_where_the_record_shows_it() -> None:
    early = [CheckedLines("A", 20, (), sat_for=15)] * 20
    tired = [CheckedLines("A", 20, ("omission",), sat_for=70)] * 10
    found = rest_after(early + tired)
    assert found is not None
    assert 30 <= found.minutes <= 60
    assert found.chance < 0.01
    assert found.sentence().startswith(f"Rest after {found.minutes:.0f} minutes")


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
