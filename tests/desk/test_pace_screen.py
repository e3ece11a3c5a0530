"""Pace and forecast at the desk: the sentences, the plots one after another, and the way back."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from textual.widgets import Static

from copydesk.book.structure.page import Page
from copydesk.desk.book_screens.pace import PaceScreen
from copydesk.desk.widgets.plots import PLOTS, Inks, draw_burn, draw_drift, draw_paces, nothing_to_plot
from copydesk.tracking.planning.pace_series import Burn, Day, Drift, HandPace, PaceSeries

if TYPE_CHECKING:
    from copydesk.desk.app import Desk

INKS = Inks((0, 0, 0), (1, 1, 1), (2, 2, 2), (3, 3, 3))
DAY = date(2026, 3, 2)
BURN = Burn(10, (Day(DAY, 2.0),), (), (), (), ())


class Plotted:
    """Notes what is drawn on it."""

    def __init__(self) -> None:
        self.labels: list[str] = []
        self.limits: tuple[float, float] = (0, 0)
        self.ticks: list[str] = []

    def plot(self, _x: list[float], _y: list[float], **given: object) -> None:
        self.labels.append(str(given.get("label") or ""))

    scatter = plot

    def ylim(self, least: float, most: float) -> None:
        self.limits = (least, most)

    def xticks(self, _at: list[float], said: list[str]) -> None:
        self.ticks = said

    def yticks(self, _at: list[float], said: list[str]) -> None:
        assert all(each.lstrip("-").isdigit() for each in said)


def test_the_burn_line_is_drawn_to_its_total() -> None:
    plot = Plotted()
    burn = BURN._replace(plan=(Day(DAY, 0.0), Day(date(2026, 4, 2), 10.0)), expected=(Day(DAY, 2.0),) * 2)
    draw_burn(plot, PaceSeries(burn, (), ()), INKS, DAY)
    assert plot.labels == ["the plan", "expected", "written"]
    assert plot.limits == (0, 10)
    assert plot.ticks[0] == "2 Mar"


def test_each_hand_and_each_page_is_drawn() -> None:
    plot = Plotted()
    hands = (HandPace("A", (Day(DAY, 20.0),), 22.4), HandPace("B", (Day(DAY, 30.0),), 28.0))
    draw_paces(plot, PaceSeries(BURN, hands, ()), INKS, DAY)
    assert {"A 22", "B 28"} <= set(plot.labels)
    plot = Plotted()
    drift = (Drift(Page.at(0), 0.5, "1r"), Drift(Page.at(1), -2.5, "1v"))
    draw_drift(plot, PaceSeries(BURN, (), drift), INKS, DAY)
    assert plot.labels[:2] == ["ahead", "behind"]
    assert plot.limits == (-3, 3)
    assert plot.ticks == ["1r", "1v"]


def test_what_is_not_there_yet_is_said() -> None:
    empty = PaceSeries(BURN, (), ())
    assert nothing_to_plot(empty, 0) == ""
    assert "stint clock" in nothing_to_plot(empty, 1)
    assert "No page" in nothing_to_plot(empty, 2)


async def test_the_plots_follow_one_another_and_escape_leads_back(desk: Desk) -> None:
    async with desk.run_test(size=(100, 36)) as pilot:
        grid = desk.screen
        await pilot.press("z")
        screen = desk.screen
        assert isinstance(screen, PaceScreen)
        assert "Written" in str(screen.query_one("#forecast", Static).content)
        titles = []
        for _ in PLOTS:
            titles.append(str(screen.query_one("#title", Static).content))
            await pilot.press("right")
        assert [kind.title in title for kind, title in zip(PLOTS, titles, strict=True)] == [True] * 3
        assert screen.plot_at == 0
        await pilot.press("left", "escape")
        assert desk.screen is grid
