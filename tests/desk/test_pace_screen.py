"""Pace and forecast at the desk: the sentences, the plots one after another, and the way back."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from textual.widgets import Static

from copydesk.book.structure.page import Page
from copydesk.desk.book_screens.pace import PaceScreen
from copydesk.desk.widgets.braille_plot import draw_plot
from copydesk.desk.widgets.plots import PLOTS, PlotKind
from copydesk.tracking.planning.pace_series import Day, Drift, HandPace, PaceSeries, PagesWritten

if TYPE_CHECKING:
    from copydesk.desk.app import Desk

DAY = date(2026, 3, 2)
PAGES = PagesWritten(10, (Day(DAY, 2.0),), (), (), (), ())


def shown(kind: PlotKind, series: PaceSeries, size: tuple[int, int] = (80, 20)) -> list[str]:
    return ["".join(piece.text for piece in row) for row in draw_plot(kind.plot(series, DAY, *size), *size)]


def test_pages_are_drawn_to_their_total_with_the_plan_beside_them() -> None:
    pages = PAGES._replace(plan=(Day(DAY, 0.0), Day(date(2026, 4, 2), 10.0)), expected=(Day(DAY, 2.0),) * 2)
    rows = shown(PLOTS[0], PaceSeries(pages, (), ()))
    assert [each for each in ("plan", "expected", "written", "80 % range") if each in rows[0]] == [
        "plan",
        "expected",
        "written",
    ]
    assert rows[1].split()[0] == "10"
    assert "9 Mar" in rows[-1]
    assert PLOTS[0].says(PaceSeries(pages, (), ()), DAY) == "2 of 10 pages are written; the plan asks for 0 by today."
    assert "no due date" in PLOTS[0].says(PaceSeries(PAGES, (), ()), DAY)


def test_each_hand_has_its_own_sign_and_each_page_its_place() -> None:
    hands = (HandPace("A", (Day(DAY, 20.0),), 22.4), HandPace("B", (Day(DAY, 30.0),), 28.0))
    series = PaceSeries(PAGES, hands, ())
    rows = shown(PLOTS[1], series)
    assert "● A, 22 lines an hour" in rows[0]
    assert "○ B, 28 lines an hour" in rows[0]
    assert sum(row.count("○") for row in rows[1:]) == 1
    said = "A writes 22 lines an hour over 1 sitting and B 28 lines an hour over 1 sitting."
    assert PLOTS[1].says(series, DAY) == said
    series = PaceSeries(PAGES, (), (Drift(Page.at(0), 0.5, "1r"), Drift(Page.at(1), -2.5, "1v")))
    rows = shown(PLOTS[2], series)
    ahead, behind = (next(at for at, row in enumerate(rows[1:]) if sign in row) for sign in "●○")
    assert ahead < behind
    assert rows[-1].split() == ["1r", "1v"]
    assert PLOTS[2].says(series, DAY) == (
        "1v ends 2.5 lines behind the first plan; furthest off is 1v, 2.5 lines behind it."
    )


def test_what_is_not_there_yet_is_said() -> None:
    empty = PaceSeries(PAGES, (), ())
    assert PLOTS[0].missing(empty) == ""
    assert "stint clock" in PLOTS[1].missing(empty)
    assert "No page" in PLOTS[2].missing(empty)


async def test_the_plots_follow_one_another_and_escape_leads_back(desk: Desk) -> None:
    async with desk.run_test(size=(100, 36)) as pilot:
        grid = desk.screen
        await pilot.press("v", "d")
        screen = desk.screen
        assert isinstance(screen, PaceScreen)
        assert "Written" in str(screen.query_one("#forecast", Static).content)
        titles = []
        for _ in PLOTS:
            titles.append(str(screen.query_one("#plot", Static).content))
            await pilot.press("right")
        assert [kind.title in title for kind, title in zip(PLOTS, titles, strict=True)] == [True] * 3
        assert screen.plot_at == 0
        await pilot.press("left", "escape")
        assert desk.screen is grid
