"""What the faults of a book tell, and how long a hand had sat when it wrote."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone

import pytest

from copydesk.book.structure.page import Page
from copydesk.tracking.checking.fault_rates import SittingTime
from copydesk.tracking.checking.fault_rates_report import (
    FAULT_RATES,
    fault_rate_rows,
    fault_rate_sentences,
    fault_rates,
)
from copydesk.tracking.ledger.entry import Entry
from copydesk.tracking.ledger.stint import Stint
from text_book import TextBook

MORNING = datetime(2026, 11, 25, 9, 0, tzinfo=timezone(timedelta(hours=1)))


def entry(what: str, minute: float, hand: str = "A", **facts: object) -> Entry:
    at = (MORNING + timedelta(minutes=minute)).isoformat()
    about = "1.1:r" if what == "written" else "window"
    return Entry(f"{what}{minute}", int(minute * 10) + 1, at, hand, "window", what, about, "1r", facts)


def sat(*entries: Entry) -> list[float | None]:
    known = SittingTime(entries)
    stints = [Stint("A", 1, 9, 0, 9, "", None, each.entry) for each in entries if each.what == "written"]
    return [known.at_middle_of(stint) for stint in stints]


def test_the_stint_clock_tells_how_long_one_sat() -> None:
    assert sat(
        entry("stint-started", 0),
        entry("written", 40, minutes=40.0),
        entry("stint-paused", 60),
        entry("stint-started", 75),
        entry("written", 95, minutes=20.0),
    ) == [20.0, 10.0]


def test_without_the_clock_pages_told_one_after_another_add_up() -> None:
    assert sat(
        entry("written", 40, minutes=40.0),
        entry("written", 82, minutes=40.0),
        entry("written", 140, minutes=20.0),
    ) == [20.0, 60.0, 10.0]


def test_pages_recorded_together_afterwards_are_not_one_long_sitting() -> None:
    assert sat(entry("written", 200, minutes=90.0), entry("written", 201, minutes=80.0)) == [45.0, 40.0]


def test_nothing_told_nothing_known() -> None:
    assert sat(entry("written", 40)) == [None]
    assert sat(entry("stint-started", -2000), entry("written", 40)) == [None]


def test_a_time_that_is_none_is_passed_over() -> None:
    broken = Entry("w", 1, "yesterday", "A", "window", "written", "1.1:r", "1r", {"minutes": 5.0})
    assert sat(broken) == [None]


def a_book() -> TextBook:
    book = TextBook()
    for page in ("1r", "1v", "2r"):
        book.write(page, hand="A" if page != "2r" else "B")
    book.do(book.commands.fault(Page.parse("1r"), "omission", column=1, line=3), "B")
    book.do(book.commands.fault(Page.parse("2r"), "addition", column=1, line=3), "A")
    return book


def test_only_checked_pages_count() -> None:
    book = a_book()
    nothing = ["No page is checked by reading yet, so there are no fault rates yet."]
    assert fault_rate_sentences(fault_rates(book.state)) == nothing
    book.do(book.commands.check(Page.parse("1r"), read=True), "B")
    told = fault_rates(book.state)
    assert (told.lines, told.hands["A"].faults, told.kinds["omission"].per_100) == (10, 1, pytest.approx(10.0))
    book.do(book.commands.check(Page.parse("1v"), read=True), "B")
    book.do(book.commands.check(Page.parse("2r"), read=True), "A")
    told = fault_rates(book.state)
    assert {hand: (rate.faults, rate.lines) for hand, rate in told.hands.items()} == {"A": (1, 20), "B": (1, 10)}
    assert fault_rate_sentences(told)[0].startswith("2 faults found in 30 lines checked.")


def test_a_page_ticked_without_reading_counts_neither_its_lines_nor_its_faults() -> None:
    book = a_book()
    for page in ("1r", "1v"):
        book.do(book.commands.check(Page.parse(page)), "B")
    assert (fault_rates(book.state).lines, fault_rates(book.state).hands) == (0, {})
    book.do(book.commands.check(Page.parse("1v"), read=True), "B")
    told = fault_rates(book.state)
    assert {hand: (rate.faults, rate.lines) for hand, rate in told.hands.items()} == {"A": (0, 10)}


def test_the_rates_as_rows_and_as_data() -> None:
    book = a_book()
    for page, hand in (("1r", "B"), ("2r", "A")):
        book.do(book.commands.check(Page.parse(page), read=True), hand)
    told = fault_rates(book.state)
    rows = [(by, name) for by, name, _ in fault_rate_rows(told)]
    assert rows == [
        ("hand", "A"),
        ("hand", "B"),
        ("kind", "addition"),
        ("kind", "omission"),
        ("hand, kind", "A, omission"),
        ("hand, kind", "B, addition"),
        ("time of day", "9 to 12 h"),
    ]
    data = FAULT_RATES.data(told)
    assert list(data) == ["lines_checked", "hands", "kinds", "hands_and_kinds", "day", "sitting", "rest_after"]
    assert data["rest_after"] == {}
    assert data["hands"]["A"].keys() == {"faults", "lines", "per_100_lines", "low", "high"}  # type: ignore[index]


def test_rest_is_spoken_of_only_where_the_record_shows_it() -> None:
    book = TextBook(sheets=4, count=2)
    pages = [Page.at(index) for index in range(12)]
    for page in pages:
        book.do(book.commands.write(page, minutes=30.0 if page.index % 2 else 200.0))
    assert not fault_rates(book.state).rests
    for page in pages:
        for line in range(1, 6) if page.index % 2 == 0 else ():
            book.do(book.commands.fault(page, "omission", column=1, line=line), "B")
        book.do(book.commands.check(page, read=True), "B")
    told = fault_rates(book.state)
    assert told.rests["A"].after.per_100 > told.rests["A"].before.per_100
    assert fault_rate_sentences(told)[1].startswith("A: Rest after ")
