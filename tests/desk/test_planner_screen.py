"""The planner under the hand: figures turned, typed and turned back, ways chosen, what is liked kept."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.widgets import Input, Label, OptionList, Static

from copydesk.book.structure.page import Page
from copydesk.desk.app import Desk
from copydesk.desk.base.screen_foot import SayLine
from copydesk.desk.book_screens.planner import PlannerScreen
from copydesk.desk.dialogs.form import Choice, Form
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.job import Job
from copydesk.store.folder.new_book import copy_demo

if TYPE_CHECKING:
    from pathlib import Path

    from textual.pilot import Pilot


SIZE = (120, 40)


def screen(desk: Desk) -> PlannerScreen:
    assert isinstance(desk.screen, PlannerScreen)
    return desk.screen


def told(desk: Desk) -> dict[str, str]:
    """What the panel says, by heading."""
    return {line.head: line.says for line in screen(desk).query_one(LinesPanel).lines_shown}


def row(desk: Desk, name: str) -> str:
    options = screen(desk).query_one(OptionList)
    rows = [str(options.get_option_at_index(at).prompt) for at in range(options.option_count)]
    return next(row for row in rows if name in row)


def said(desk: Desk) -> str:
    return screen(desk).query_one(SayLine).said


async def go_to(pilot: Pilot[None], name: str) -> None:
    """Put the cursor on a figure."""
    options = pilot.app.screen.query_one(OptionList)
    rows = [str(options.get_option_at_index(at).prompt) for at in range(options.option_count)]
    options.highlighted = next(at for at, each in enumerate(rows) if name in each)
    await pilot.pause()


async def test_a_figure_turned_moves_the_rest_and_back(desk: Desk, folder: Path) -> None:
    before = (folder / "book.yaml").read_bytes()
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("v", "p")
        planned = told(desk)
        assert row(desk, "lines a column").split() == ["lines", "a", "column", "24", "24"]
        await pilot.press("right", "plus")
        assert row(desk, "lines a column").split()[-2:] == ["26", "◂"]
        assert "as planned" in told(desk)["Blank"]
        assert "5.85 mm high, 52 a page; as planned 6.33 mm high, 48 a page" in told(desk)["Lines"]
        assert "ascender to descender" in " ".join(
            line.says for line in screen(desk).query_one(LinesPanel).lines_shown if line.head == "Advice"
        )
        await pilot.press("backspace")
        assert told(desk) == planned
        await pilot.press("escape")
    assert (folder / "book.yaml").read_bytes() == before


async def test_a_page_that_cannot_be_says_so_and_nothing_breaks(desk: Desk) -> None:
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("v", "p")
        await go_to(pilot, "columns")
        await pilot.press("greater_than_sign", "right")
        shown = screen(desk).query_one(LinesPanel).lines_shown
        assert [line.head for line in shown] == ["Refused"]
        assert shown[0].wrong
        assert row(desk, "columns").split()[-2:] == ["13", "◂"]
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert "cannot be kept" in said(desk)
        await pilot.press("0")
        assert "Leaves" in told(desk)


async def test_a_figure_is_typed_with_its_unit_and_what_it_refuses_is_said_in_the_form(desk: Desk) -> None:
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("v", "p")
        await go_to(pilot, "inner margin")
        await pilot.press("enter")
        assert isinstance(desk.screen, Form)
        desk.screen.query_one(Input).value = "wide"
        await pilot.press("enter")
        assert "'wide', which is not a length" in str(desk.screen.query_one("#refusal", Static).content)
        desk.screen.query_one(Input).value = "1/2 in"
        await pilot.press("enter")
        assert "12.7 mm" in row(desk, "inner margin")
        assert "26.6" in row(desk, "letters a line, A")  # 26.0 on 52 mm; the measure is 53.15 mm now


def note(desk: Desk) -> list[str]:
    """The lines that a question shows as changing."""
    return str(desk.screen.query_one("#note", Label).content).splitlines()


async def test_a_plan_that_stands_against_pages_is_refused_with_the_reason(desk: Desk, folder: Path) -> None:
    before = (folder / "book.yaml").read_bytes()
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("v", "p", "ctrl+s")
        await pilot.pause()
        assert "says so already" in said(desk)
        await pilot.press("right", "ctrl+s")
        await pilot.pause()
        assert "the ruling cannot change any more" in said(desk)
        assert "the first 1r" in said(desk)
    assert (folder / "book.yaml").read_bytes() == before


async def test_what_was_turned_is_kept_shown_first_and_taken_back_by_one_key(tmp_path: Path) -> None:
    folder = copy_demo(tmp_path / "book")
    (folder / "ledger.jsonl").unlink()
    before = (folder / "book.yaml").read_text("utf-8")
    desk = Desk(Job.open(folder))
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("v", "p", "right", "ctrl+s")
        await pilot.pause()
        assert note(desk)[1:3] == ["-ruling: {lines: 24, first_line: below}", "+ruling: {lines: 25, first_line: below}"]
        await pilot.press("n", "ctrl+s")
        assert (folder / "book.yaml").read_text("utf-8") == before
        await pilot.pause()
        await pilot.press("y")
        await pilot.pause()
        assert "Kept in book.yaml" in said(desk)
        assert (folder / "book.yaml").read_text("utf-8") == before.replace("lines: 24,", "lines: 25,")
        assert row(desk, "lines a column").split() == ["lines", "a", "column", "25", "25"]
        await pilot.press("u")
        assert "book.yaml is as it was" in said(desk)
        assert (folder / "book.yaml").read_text("utf-8") == before
        assert row(desk, "lines a column").split() == ["lines", "a", "column", "24", "24"]
        await pilot.press("y")
        assert "Kept in book.yaml again" in said(desk)
        assert desk.job.state.layout.lines == 25


async def test_a_way_is_chosen_and_kept(desk: Desk, folder: Path) -> None:
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("v", "p", "o")
        await pilot.pause()
        assert isinstance(desk.screen, Choice)
        await pilot.press("enter", "ctrl+s")
        await pilot.pause()
        assert note(desk)[2].startswith('+gatherings: {outside: hair, formula: "1-2^8 ')
        await pilot.press("y")
        await pilot.pause()
        assert "Chosen" not in told(desk)
        assert desk.job.book.gatherings.formula in (folder / "book.yaml").read_text("utf-8")


async def test_skins_wanted_by_a_day_and_a_small_bath(desk: Desk) -> None:
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("v", "p")
        assert told(desk)["Begin"] == "start today, ready on 9 December"
        assert "│" in str(screen(desk).query_one("#cutting", Static).content)
        await go_to(pilot, "skins ready by")
        await pilot.press("right")
        assert told(desk)["Begin"] == "by 21 November, to be ready on 10 December"
        await go_to(pilot, "skins at once")
        await pilot.press("right", "right")
        assert told(desk)["Begin"].startswith("3 batches, on")
        assert "the first was due" in told(desk)["Begin"]


async def test_what_another_screen_records_is_reckoned_with(desk: Desk) -> None:
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("v", "p")
        assert "from gathering 3 on" in str(screen(desk).query_one("#title", Static).content)
        desk.job.record(desk.job.commands.rule(Page.parse("17r")))
        screen(desk).renew()
        assert "from gathering 4 on" in str(screen(desk).query_one("#title", Static).content)


async def test_on_a_small_terminal_the_rest_is_reached_with_the_space_bar(desk: Desk) -> None:
    async with desk.run_test(size=(80, 24)) as pilot:
        await pilot.press("v", "p", "space")
        follows = screen(desk).query_one("#follows")
        assert follows.scroll_offset.y > 0
        assert follows.max_scroll_x == 0
