"""The series that are plotted: pages by day, the plan's line, drift."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from copydesk.book.flow import ExemplarLoan
from copydesk.book.plan import Hand
from copydesk.book.structure.page import Page
from copydesk.tracking.planning.outlook import (
    outlook,
)
from copydesk.tracking.planning.pace_series import drift_by_page, pace_series
from text_book import TextBook, made_text

TODAY = date(2026, 3, 2)  # a Monday, the day on which the small book's entries are made
DUE = date(2026, 6, 1)


def a_book(words: int = 420, **changes: object) -> TextBook:
    given: dict[str, object] = {
        "hands": (Hand("A", "first", 20.0, hours_a_week=2.0, lines_an_hour=10.0), Hand("B", "second", 16.0)),
        "exemplar": ExemplarLoan("exemplar.txt", due=DUE),
        **changes,
    }
    return TextBook(made_text(words), **given)


def test_the_line_of_pages_written_counts_pages_by_day() -> None:
    book = a_book()
    for page in ("1r", "1v", "2r"):
        book.write(page)
    today = TODAY + timedelta(days=7)
    series = pace_series(book.state, outlook(book.state, today))
    assert [(each.day, each.value) for each in series.pages.written] == [(TODAY, 3.0), (today, 3.0)]
    assert series.pages.total == sum(1 for page in book.state.budget.pages if page.planned)
    assert series.pages.plan[-1] == (DUE, float(series.pages.total))
    early, expected, late = (way[-1].day for way in (series.pages.early, series.pages.expected, series.pages.late))
    assert early <= expected <= late
    assert series.hands == ()


def test_no_due_date_gives_no_plan_line() -> None:
    book = a_book(exemplar=ExemplarLoan("exemplar.txt"))
    assert pace_series(book.state, outlook(book.state, TODAY)).pages.plan == ()


def test_drift_is_how_far_the_text_is_from_the_first_plan() -> None:
    book = a_book()
    assert drift_by_page(book.state) == ()
    book.write("1r")
    start = book.state.copy.word(book.state.budget.pages[1].start)
    words = book.exemplar.words[start : start + 10]
    book.do(book.commands.write(Page.parse("1v"), ends=" ".join(words[-4:])))
    first, second = drift_by_page(book.state)
    assert first.lines == pytest.approx(0.0)
    assert second.lines < -2
