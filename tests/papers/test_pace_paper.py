"""The charts of a book's progress: on the drawing, as SVG, and what they show."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

import pytest
from lxml import etree

from copydesk.book.structure.page import Page
from copydesk.job import Job
from copydesk.papers.catalogue import PaperRequest, make
from copydesk.papers.drawing.shapes import DrawnLine, Mark, Ring, Words, lowered
from copydesk.papers.pace import DONE, EXPECTED, HEIGHT, RANGE, WIDTH, drift_chart, pace_chart, pages_chart
from copydesk.store.folder.new_book import shipped_book
from copydesk.tracking.planning.pace_series import Day, Drift, HandPace, PagesWritten

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

MONDAY = date(2026, 3, 2)
PAGES = PagesWritten(
    total=40,
    written=(Day(MONDAY, 4.0), Day(MONDAY + timedelta(days=7), 10.0)),
    plan=(Day(MONDAY, 0.0), Day(MONDAY + timedelta(days=70), 40.0)),
    early=(Day(MONDAY + timedelta(days=7), 10.0), Day(MONDAY + timedelta(days=30), 40.0)),
    expected=(Day(MONDAY + timedelta(days=7), 10.0), Day(MONDAY + timedelta(days=40), 40.0)),
    late=(Day(MONDAY + timedelta(days=7), 10.0), Day(MONDAY + timedelta(days=50), 40.0)),
)
TODAY = MONDAY + timedelta(days=7)


def lines(marks: Iterable[Mark], pen: str) -> list[DrawnLine]:
    """The lines drawn with a pen, those of the key left out."""
    return [mark for mark in marks if isinstance(mark, DrawnLine) and mark.pen == pen and mark.x1 > 25]


def test_the_lines_go_where_the_figures_say() -> None:
    marks = pages_chart(PAGES, TODAY)
    (written,) = [mark for mark in marks if isinstance(mark, DrawnLine) and mark.pen == DONE and mark.y1 != mark.y2]
    (expected,) = lines(marks, EXPECTED)
    early, late = lines(marks, RANGE)
    assert (written.x2, written.y2) == (expected.x1, expected.y1)
    assert early.x2 < expected.x2 < late.x2
    assert early.y2 == expected.y2 == late.y2 == min(line.y2 for line in (early, expected, late))


def test_nothing_is_drawn_beside_the_chart() -> None:
    hands = [HandPace("A", (Day(MONDAY, 20.0), Day(TODAY, 26.0)), 23.0)]
    drift = [Drift(Page.at(index), lines, str(Page.at(index))) for index, lines in enumerate((0.0, 2.5, -4.0))]
    for chart in (pages_chart(PAGES, TODAY), pace_chart(hands, TODAY), drift_chart(drift)):
        for mark in chart:
            xs = (mark.x1, mark.x2) if isinstance(mark, DrawnLine) else (getattr(mark, "x", 0.0),)
            assert all(0 <= x <= WIDTH for x in xs)
            ys = (mark.y1, mark.y2) if isinstance(mark, DrawnLine) else (getattr(mark, "y", 0.0),)
            assert all(0 <= y <= HEIGHT for y in ys)


def test_each_hand_has_its_own_sign_and_its_pace() -> None:
    hands = [HandPace("A", (Day(MONDAY, 20.0),), 22.0), HandPace("B", (Day(TODAY, 30.0),), 28.0)]
    marks = pace_chart(hands, TODAY)
    assert {"A 22", "B 28"} <= {mark.text for mark in marks if isinstance(mark, Words)}
    assert [mark.pen for mark in marks if isinstance(mark, Ring)] == [DONE, DONE, EXPECTED, EXPECTED]


def test_pages_ahead_stand_above_those_behind() -> None:
    drift = [Drift(Page.at(0), 2.0, "1r"), Drift(Page.at(1), -2.0, "1v")]
    ahead, behind = (mark for mark in drift_chart(drift) if isinstance(mark, Ring))
    assert ahead.y < behind.y
    assert ahead.pen != behind.pen


@pytest.mark.parametrize("empty", [[], [Drift(Page.at(0), 0.0, "1r")]])
def test_little_to_show_is_no_mistake(empty: list[Drift]) -> None:
    assert drift_chart(empty)
    assert pace_chart([], TODAY)
    assert pages_chart(PagesWritten(0, (), (), (), (), ()), TODAY)


def test_marks_are_moved_whole() -> None:
    assert lowered(DrawnLine(1, 2, 3, 4, DONE), 10, 5) == DrawnLine(6, 12, 8, 14, DONE)
    assert lowered(Words(1, 2, "a", 3), 10) == Words(1, 12, "a", 3)


def test_the_paper_is_an_svg_of_the_shipped_book(tmp_path: Path) -> None:
    import shutil

    folder = shutil.copytree(shipped_book(), tmp_path / "book", ignore=shutil.ignore_patterns(".*"))
    job = Job.open(folder)
    root = etree.fromstring(make("pace", PaperRequest(job, "svg")))
    said = ["".join(map(str, element.itertext())) for element in root.iter("{*}text")]
    assert "Pages written, against the plan" in said
    assert any(text.startswith("Written: ") for text in said)
    text = make("pace", PaperRequest(job, "text")).decode()
    assert text.splitlines()[1].startswith("Written ")
    job.close()
