"""The pile under the hand: sheets by place, moved with one key, told where another has them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from textual.widgets import Input, Static

from copydesk.book.structure.page import Page
from copydesk.desk.base.screen_foot import FootLine
from copydesk.desk.book_screens.pile import PileScreen
from copydesk.desk.dialogs.form import Form
from copydesk.desk.page_screens.grid import GridScreen
from copydesk.desk.widgets.gathering_grid import GatheringGrid
from seen import listed, panel, said

if TYPE_CHECKING:
    from collections.abc import Callable

    from textual.pilot import Pilot

    from copydesk.desk.app import Desk
    from copydesk.job import Job
    from copydesk.tracking.ledger.entry import Act

WIDE = (120, 40)


async def open_at(desk: Desk, pilot: Pilot[None], page: str) -> None:
    screen = desk.screen
    assert isinstance(screen, GridScreen)
    screen.go_to(Page.parse(page))
    await pilot.press("v", "w")
    assert isinstance(desk.screen, PileScreen)


async def test_sheets_are_listed_by_place(desk: Desk) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await open_at(desk, pilot, "9r")
        heads = [row for row in listed(desk) if not row.startswith("  ")]
        assert heads == [
            " At the desk: 11 sheets",
            " Drying: 1 sheet",
            " With the artist: 3 sheets",
            " In the press: 1 sheet",
        ]
        assert "desk 11, drying 1, artist 3, press 1" in str(desk.screen.query_one("#title", Static).render())
        assert "Sheet 2.1, drying (B) since 16 October 15:40" in panel(desk)
        assert "Ink dry since 17 October 15:40" in panel(desk)


async def test_the_foot_offers_the_acts_on_the_sheet_in_hand_from_the_beginning(desk: Desk) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await open_at(desk, pilot, "9r")
        await pilot.pause()
        offered = [key.id for key in desk.screen.query_one(FootLine).acts]
        assert offered[:4] == ["pile.artist", "pile.desk", "pile.more", "pile.go"]


@pytest.mark.parametrize(
    ("keys", "place", "head"),
    [
        ("t", "artist", "with the artist (Ines Calloway)"),
        ("mc", "checker", "with the checker"),
        ("md", "drying", "drying"),
        ("mp", "press", "in the press"),
    ],
)
async def test_one_key_moves_a_sheet_and_the_cursor_stays_on_it(
    desk: Desk, job: Job, keys: str, place: str, head: str
) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await open_at(desk, pilot, "10r")
        await pilot.press(*keys)
        assert job.state.sheet_record("2.2").place == place
        assert f"sheet 2.2 {head}" in said(desk)
        assert f"Sheet 2.2, {head}" in panel(desk)
        await pilot.press("b")
        assert job.state.sheet_record("2.2").place == "desk"
        await pilot.press("u")
        assert job.state.sheet_record("2.2").place == place


async def test_who_has_it_can_be_named(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await open_at(desk, pilot, "10r")
        await pilot.press("m", "s")
        form = desk.screen
        assert isinstance(form, Form)
        who, place = form.query_one("#who", Input), form.query_one("#place", Input)
        assert who.placeholder == job.hand
        place.value = "artist"
        await pilot.pause()
        assert who.placeholder == "Ines Calloway"
        who.value = "Zoe [of the mill]"
        form.query_one("#place", Input).value = "cellar"
        form.action_done()
        assert "'cellar' is not where a sheet can be" in str(form.query_one("#refusal").render())
        form.query_one("#place", Input).value = "checker"
        form.action_done()
        await pilot.pause()
        assert job.state.sheet_record("2.2").who == "Zoe [of the mill]"
        assert "with the checker (Zoe [of the mill])" in panel(desk)


async def test_enter_goes_to_the_page_that_waits(desk: Desk) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await open_at(desk, pilot, "16v")
        await pilot.press("enter")
        assert isinstance(desk.screen, GridScreen)
        assert str(desk.screen.query_one(GatheringGrid).page) == "9v"


async def test_the_second_to_take_a_sheet_is_told(desk: Desk, job: Job, open_job: Callable[..., Job]) -> None:
    other = open_job("stove")
    async with desk.run_test(size=WIDE) as pilot:
        await open_at(desk, pilot, "10r")
        other.record(other.commands.sheet("2.2", "checker", "Bea Lindqvist"), hand="B")
        await pilot.press("m", "c")
        assert "sheet 2.2 has been with the checker (Bea Lindqvist)" in said(desk)
        assert job.state.sheet_record("2.2").who == "Bea Lindqvist"
        assert "with the checker (Bea Lindqvist)" in panel(desk)


async def test_two_who_took_it_at_once_are_shown_both(desk: Desk, open_job: Callable[..., Job]) -> None:
    other = open_job("stove")
    unknowing: Act = other.commands.sheet("2.2", "checker", "Bea Lindqvist")
    async with desk.run_test(size=WIDE) as pilot:
        await open_at(desk, pilot, "10r")
        await pilot.press("t")
        other.record(unknowing, hand="B")
        for _ in range(50):
            if any("taken twice" in row for row in listed(desk)):
                break
            await pilot.pause(0.1)
        assert any("taken twice: Bea Lindqvist and Ines Calloway" in row for row in listed(desk))
        assert "Ines Calloway had it put down as with the artist at the same time" in panel(desk)


async def test_the_page_panel_says_where_the_sheet_is(desk: Desk) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        screen = desk.screen
        assert isinstance(screen, GridScreen)
        screen.go_to(Page.parse("1r"))
        await pilot.pause()
        assert "Sheet with the artist (Ines Calloway) since 9 October 15:19" in panel(desk)
        screen.go_to(Page.parse("10r"))
        await pilot.pause()
        assert "Sheet" not in panel(desk)


@pytest.mark.parametrize("size", [(80, 24), (200, 60), (40, 10)])
async def test_every_size_draws(desk: Desk, size: tuple[int, int]) -> None:
    async with desk.run_test(size=size) as pilot:
        await pilot.press("v", "w", "down", "up")
        assert panel(desk)
