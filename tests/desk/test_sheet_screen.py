"""The sheet view under the hand: turning, the pile, acts on either page, leaves changed, the way back."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from textual.containers import VerticalScroll
from textual.widgets import Input, OptionList, Static
from textual.widgets._toast import Toast

from copydesk.book.structure.page import Page
from copydesk.desk.base.screen_foot import SayLine
from copydesk.desk.page_screens.grid import GridScreen
from copydesk.desk.page_screens.sheet import SheetScreen
from copydesk.desk.widgets.gathering_grid import GatheringGrid
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.desk.widgets.open_sheet import OpenSheetView
from seen import said

if TYPE_CHECKING:
    from collections.abc import Callable

    from textual.pilot import Pilot

    from copydesk.desk.app import Desk
    from copydesk.job import Job

WIDE = (120, 40)


async def open_sheet(pilot: Pilot[None], page: str) -> None:
    grid = pilot.app.screen
    assert isinstance(grid, GridScreen)
    grid.go_to(Page.parse(page))
    await pilot.press("v", "v")
    assert isinstance(pilot.app.screen, SheetScreen)


def text(desk: Desk, name: str) -> str:
    return str(desk.screen.query_one(name, Static).content)


def heading(desk: Desk) -> str:
    return text(desk, "#where")


def at(desk: Desk) -> str:
    screen = desk.screen
    assert isinstance(screen, SheetScreen)
    return str(screen.page)


def words(desk: Desk, name: str) -> dict[str, str]:
    return {line.head: line.says for line in desk.screen.query_one(f"#{name}", LinesPanel).lines_shown}


async def test_opens_with_the_cursors_side_up_and_escape_leads_back_to_the_page_one_was_on(desk: Desk) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await open_sheet(pilot, "17r")
        assert heading(desk).startswith(" Gathering 3, sheet 1   outer side up, hair   pile: 4 3 2 [1]")
        await pilot.press("space", "right")
        assert "inner side up, flesh" in heading(desk)
        assert at(desk) == "24r"
        await pilot.press("escape")
        assert desk.screen.query_one(GatheringGrid).page == Page.parse("24r")


async def test_the_pile_is_walked_outward_and_into_the_next_gathering(desk: Desk) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await open_sheet(pilot, "12v")
        walked = [at(desk)]
        for _ in range(4):
            await pilot.press("down")
            walked.append(at(desk))
        assert walked == ["12v", "11v", "10v", "9v", "20v"]
        await pilot.press("up", "pageup")
        assert at(desk) == "4v"
        await pilot.press("up")
        assert said(desk) == "This is the first sheet on top."


async def test_a_click_chooses_the_half(desk: Desk) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await open_sheet(pilot, "17r")
        await pilot.click(OpenSheetView, offset=(20, 5))
        assert at(desk) == "24v"


async def test_acts_work_on_the_page_chosen_and_say_what_comes_next_on_the_sheet(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await open_sheet(pilot, "17r")
        assert text(desk, "#next").startswith(" Next: 17r, rule 24 lines across 2 columns")
        await pilot.press("enter", "w")
        assert said(desk).startswith("17r written by")
        assert job.state.record(job.state.skin_at(Page.parse("17r").index)).whole
        assert text(desk, "#next").startswith(" Next: 17v on the other side, rule 24 lines across 2 columns")
        await pilot.press("u")
        assert words(desk, "right")["Next"].startswith("write")


async def test_a_caution_hides_no_reply(desk: Desk) -> None:
    async with desk.run_test(size=WIDE, notifications=True) as pilot:
        await open_sheet(pilot, "10r")
        await pilot.press("m", "f", "down", "enter", "down", "enter", *"torn", "enter")
        await pilot.pause()
        reply, toasts = desk.screen.query_one(SayLine).region, desk.screen.query(Toast)
        assert reply.height > 1
        assert toasts
        assert not any(toast.region.overlaps(reply) for toast in toasts)


async def test_a_cancelled_leaf_leaves_its_stub_says_what_follows_and_comes_back(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await open_sheet(pilot, "10r")
        await pilot.press("m", "f", "down", "enter")
        meant = desk.screen.query_one(OptionList)
        assert str(meant.get_option_at_index(0).prompt) == "1  leave leaf 10 as it is"
        assert "96 written lines of 10r and 10v go with it" in str(meant.get_option_at_index(1).prompt)
        await pilot.press("down", "enter")
        await pilot.press(*"torn", "enter")
        assert "leaf 10 cancelled, its stub kept, by" in said(desk)
        assert "Caution: Blade: " in next(iter(desk._notifications)).message
        assert "torn. " in said(desk)
        assert "96 written lines went with it" in said(desk)
        assert "The book has 31 leaves now" in said(desk)
        desk.screen._page = Page.parse("14v")
        desk.screen.renew()
        assert words(desk, "right")[""] == "a stub: the leaf was cancelled"
        await pilot.press("u")
        assert job.state.collation.leaves == 32


async def test_a_leaf_is_added_as_it_is_asked_for(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await open_sheet(pilot, "20r")
        screen = desk.screen
        screen.action_leaf("added-after")
        await pilot.pause()
        await pilot.press("down", "enter")
        likely = str(desk.screen.query_one(OptionList).get_option_at_index(0).prompt)
        await pilot.press("down", "enter")
        added = job.state.collation.half(21)
        assert not added.folded
        assert not likely.startswith(added.recto.value)
        assert "Hair faces flesh now at" in said(desk)


async def test_a_flaw_is_refused_in_the_form_and_shown_in_place_once_right(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await open_sheet(pilot, "20r")
        desk.screen.action_leaf("flaw")
        await pilot.pause()
        for name, value in (("from_head", "90"), ("from_fold", "1.5 cm"), ("width", "900"), ("height", "20")):
            desk.screen.query_one(f"#{name}", Input).value = value
        await pilot.press("ctrl+s")
        assert "beyond a leaf" in text(desk, "#refusal")
        desk.screen.query_one("#width", Input).value = "1 in"
        await pilot.press("ctrl+s")
        assert job.state.flaws[20][0].flaw.width == pytest.approx(25.4)
        assert job.state.flaws[20][0].flaw.from_fold == pytest.approx(15)
        assert "The leaf's flaws take" in said(desk)
        drawn = desk.screen.query_one(OpenSheetView)
        assert any("╳" in segment.text for y in range(drawn.size.height) for segment in drawn.render_line(y))


async def test_what_another_desk_does_to_the_leaf_is_shown(desk: Desk, open_job: Callable[..., Job]) -> None:
    from copydesk.tracking.commands.leaf_commands import cancel_leaf

    other = open_job("stove")
    async with desk.run_test(size=WIDE) as pilot:
        await open_sheet(pilot, "32v")
        other.record(cancel_leaf(other.state, 32))
        desk.look_round()
        await pilot.pause()
        assert at(desk) == "31v"


@pytest.mark.parametrize(("size", "lines"), [((80, 24), 2), ((120, 40), 1), ((200, 60), 1)])
async def test_fits_small_and_large_screens(desk: Desk, size: tuple[int, int], lines: int) -> None:
    async with desk.run_test(size=size) as pilot:
        await open_sheet(pilot, "17v")
        view = desk.screen.query_one(OpenSheetView)
        assert view.lines_a_row == lines
        assert ("2 lines a row" in heading(desk)) is (lines == 2)
        for name in ("left", "right"):
            parent = desk.screen.query_one(f"#{name}").parent
            assert isinstance(parent, VerticalScroll)
            assert parent.region.height >= 6
        assert desk.screen.query_one("#under-left").region.height > 0 or size[1] < 50


async def test_the_sheet_is_ruled_whole(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await open_sheet(pilot, "25r")
        before = len(job.ledger)
        await pilot.press("m", "r")
        assert said(desk).startswith("25r, 25v, 32r and 32v ruled by A.")
        assert len(job.ledger) == before + 4
