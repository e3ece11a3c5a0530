"""The passes under the hand: pages down, passes across, recorded with one key."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from textual.widgets import Input, Static

from copydesk.desk.book_screens.passes import PassesScreen
from copydesk.desk.dialogs.form import Form
from copydesk.desk.page_screens.grid import GridScreen
from copydesk.job import Job
from seen import listed, panel, said

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from textual.pilot import Pilot

from copydesk.desk.app import Desk

WIDE = (150, 40)
PLAN = """title: Snow and mud
exemplar: {text: exemplar.txt}
page: {width: 100, height: 140, margins: {inner: 10, head: 10, outer: 20, foot: 30}}
ruling: {lines: 10}
hands: {A: {letters_per_line: 20}, B: {letters_per_line: 16}}
gatherings: {sheets: 2, count: 3}
workshop: {drying_days: 0}
passes: [text, {name: rubrics, ink: vermilion, hand: B}, {name: capitals, ink: azurite}]
"""
TEXT = "\n\n".join(f"# Part {number}\n\n" + "Snow lies deep. " * 12 for number in range(12))


@pytest.fixture
def job(tmp_path: Path, open_job: Callable[..., Job]) -> Job:
    folder = tmp_path / "passes"
    folder.mkdir()
    (folder / "book.yaml").write_text(PLAN, encoding="utf-8")
    (folder / "exemplar.txt").write_text(TEXT, encoding="utf-8")
    return Job.open(folder, desk="window")


async def opened(desk: Desk, pilot: Pilot[None]) -> PassesScreen:
    assert isinstance(desk.screen, GridScreen)
    await pilot.press("v", "y", "home")
    await pilot.pause()
    assert isinstance(desk.screen, PassesScreen)
    return desk.screen


def heading(desk: Desk) -> str:
    return str(desk.screen.query_one("#title", Static).render())


async def test_a_page_is_gone_over_with_one_key_and_taken_back(job: Job) -> None:
    from copydesk.book.structure.page import Page

    job.record(job.commands.write(Page.parse("1r")))
    desk = Desk(job)
    async with desk.run_test(size=WIDE) as pilot:
        await opened(desk, pilot)
        assert "In hand: rubrics, vermilion; pages: may begin 1, waits " in heading(desk)
        assert "[1 may begin]" in listed(desk)[0]
        assert '1: col. 1 l. 1, "Part 0"' in panel(desk)
        await pilot.press("enter")
        await pilot.pause()
        assert "1r rubrics done by B" in said(desk)
        assert "[1 done]" in listed(desk)[0]
        await pilot.press("u")
        await pilot.pause()
        assert "[1 may begin]" in listed(desk)[0]


async def test_what_waits_is_refused_with_what_it_waits_for(job: Job) -> None:
    desk = Desk(job)
    async with desk.run_test(size=WIDE) as pilot:
        await opened(desk, pilot)
        await pilot.press("enter")
        await pilot.pause()
        assert "1r is unruled, not written whole" in said(desk)
        await pilot.press("right")
        await pilot.pause()
        assert "In hand: capitals, azurite" in heading(desk)
        assert "waits for 1r written, 1r rubrics" in panel(desk)
        await pilot.press("o")
        await pilot.pause()
        assert not listed(desk)
        assert said(desk) == "No sheet may take capitals now."


async def test_something_is_left_open_in_a_form_and_only_ready_sheets_are_shown(job: Job) -> None:
    from copydesk.book.structure.page import Page

    for page in ("1r", "3r"):
        job.record(job.commands.write(Page.parse(page)))
        job.record(job.commands.go_over(Page.parse(page), "rubrics"))
    desk = Desk(job)
    async with desk.run_test(size=WIDE) as pilot:
        await opened(desk, pilot)
        await pilot.press("right", "o")
        await pilot.pause()
        rows = listed(desk)
        assert [row.strip() for row in rows if "sheet" in row] == [
            "sheet 1.1: capitals on 1r, 1 thing; other pages of it wait",
            "sheet 1.2: capitals on 3r, 1 thing; other pages of it wait",
        ]
        await pilot.press("o", "home", "m", "e")
        await pilot.pause()
        assert isinstance(desk.screen, Form)
        desk.screen.query_one("#left", Input).value = "4"
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert "so there is no 4" in said(desk)


async def test_a_book_without_passes_says_how_to_have_them(open_job: Callable[..., Job]) -> None:
    plain = open_job()
    desk = Desk(plain)
    async with desk.run_test(size=WIDE) as pilot:
        await opened(desk, pilot)
        if not plain.book.later_passes:
            assert "No passes: all is written with the text" in heading(desk)
