"""On every list and grid a click selects, and the second click on the same thing, or enter, acts."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from textual.widgets import OptionList

from copydesk.book.structure.page import Page
from copydesk.desk.base.book_screen import BookScreen
from copydesk.desk.base.screen_table import SCREENS
from copydesk.desk.page_screens.grid import GridScreen
from copydesk.desk.widgets.gathering_grid import GatheringGrid
from copydesk.desk.widgets.open_sheet import OpenSheetView
from copydesk.desk.widgets.pick_list import PickList, SecondClick

if TYPE_CHECKING:
    from textual.pilot import Pilot

    from copydesk.desk.app import Desk
    from copydesk.job import Job

SIZE = (140, 45)
LISTS = ("x", "vg", "vf", "vc", "vp", "ve", "vi", "vw", "vs", "va", "vb", "vu", "vr", "vy", "v", "m", "a", "mf")
"""Keys that lead from the gatherings to each screen or dialog with a list."""


async def click(pilot: Pilot[None], listed: OptionList, at: int) -> None:
    """Click on a row where it is drawn."""
    region = listed.scrollable_content_region
    strips = listed.screen._compositor.render_strips()
    for y in range(region.y, region.bottom):
        metas = {segment.style.meta.get("option") for segment in strips[y] if segment.style and segment.style.meta}
        if at in metas:
            await pilot.click(offset=(region.x + 2, y))
            return
    pytest.fail(f"row {at} is not drawn")


def drawn(listed: OptionList) -> list[int]:
    """The rows that are drawn."""
    region = listed.scrollable_content_region
    strips = listed.screen._compositor.render_strips()
    found = {
        segment.style.meta["option"]
        for y in range(region.y, region.bottom)
        for segment in strips[y]
        if segment.style and "option" in segment.style.meta
    }
    return sorted(at for at in found if not listed.get_option_at_index(at).disabled)


@pytest.mark.parametrize("keys", LISTS)
async def test_a_single_click_on_any_row_selects_and_does_nothing_else(desk: Desk, job: Job, keys: str) -> None:
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("g", "1", "2", "v", "enter", *keys)
        await pilot.pause()
        screen, before = desk.screen, len(job.ledger)
        listed = screen.query_one(OptionList)
        assert isinstance(listed, PickList)
        clicked = drawn(listed)[:4]
        for at in [*clicked, *reversed(clicked[:-1])]:
            await click(pilot, listed, at)
            await pilot.pause()
            assert (desk.screen, len(job.ledger)) == (screen, before)
            assert listed.highlighted == at


@pytest.mark.parametrize("keys", ["vg", "vf", "vi", "vw", "va", "vb", "vu", "vr", "v", "a"])
async def test_the_second_click_on_a_row_acts(desk: Desk, job: Job, keys: str) -> None:
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press(*keys)
        await pilot.pause()
        screen, before = desk.screen, len(job.ledger)
        listed = screen.query_one(OptionList)
        at = drawn(listed)[1]
        await click(pilot, listed, at)
        await click(pilot, listed, at)
        await pilot.pause()
        assert desk.screen is not screen or len(job.ledger) > before


async def test_a_click_on_a_page_of_the_grid_selects_and_the_second_does_what_comes_next(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.pause()
        grid = desk.screen.query_one(GatheringGrid)
        before = len(job.ledger)
        places = [(x, y) for y in range(1, 8) for x in range(6, 60, 9)]
        seen = set()
        for place in places:
            x, y = place
            if grid.index_at(x + grid.scroll_offset.x, y + grid.scroll_offset.y) in (None, *seen):
                continue
            seen.add(grid.index_at(x + grid.scroll_offset.x, y + grid.scroll_offset.y))
            await pilot.click(GatheringGrid, offset=place)
            assert len(job.ledger) == before
        assert seen
        assert isinstance(desk.screen, GridScreen)


async def test_a_click_on_a_half_of_the_sheet_selects(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("g", "1", "7", "r", "enter", "v", "v")
        await pilot.pause()
        before = len(job.ledger)
        for place in ((20, 5), (110, 5), (20, 5)):
            await pilot.click(OpenSheetView, offset=place)
            assert len(job.ledger) == before
        assert isinstance(desk.screen, BookScreen)
        assert desk.screen.page == Page.parse("24v")
        await pilot.click(OpenSheetView, offset=(20, 5))
        await pilot.pause()
        assert len(job.ledger) == before + 1


async def test_enter_in_the_log_shows_the_entry_and_u_takes_it_back(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("v", "u", "down", "down")
        before = len(job.ledger)
        entry = list(job.ledger)[-3]
        await pilot.press("enter")
        assert type(desk.screen).__name__ == "Told"
        assert len(job.ledger) == before
        await pilot.press("escape", "u")
        assert job.ledger.is_void(entry.entry)


async def test_u_takes_back_what_this_desk_recorded_last(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("w")
        newest = job.ledger.newest_standing(job.store.desk)
        assert newest is not None
        await pilot.press("v", "g", "u")
        assert job.ledger.is_void(newest.entry)


def test_a_click_elsewhere_or_a_move_between_makes_the_next_one_a_first() -> None:
    click = SecondClick()
    assert [click.is_second(thing) for thing in ("a", "b", "b", "b", "b")] == [False, False, True, False, True]
    assert not click.is_second("a")
    click.moved_to("b")
    assert not click.is_second("a")
    click.moved_to(None)
    assert not click.is_second("a")


def test_every_list_of_the_desk_is_clicked() -> None:
    letters = {keys[1] for keys in LISTS if len(keys) == 2 and keys[0] == "v"}
    without_a_list = {"v", "t", "n", "o", "d", "r"}  # remedies: empty where the page fits its room

    assert {entry.letter for entry in SCREENS if entry.letter} == letters | without_a_list | {"x"}
