"""The plan changed at the desk: forms made from the table of keys, checked as one types, kept and taken back."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from textual.widgets import Input, OptionList

from copydesk.book.structure.page import Page
from copydesk.desk.app import Desk
from copydesk.desk.base.screen_foot import SayLine
from copydesk.desk.book_screens.plan_file import PlanFileScreen
from copydesk.desk.dialogs.form import Form
from copydesk.job import Job
from idling import until_drawn

if TYPE_CHECKING:
    from pathlib import Path

    from textual.pilot import Pilot

SIZE = (120, 40)
PLAN = """\
# the small book
title: A small book
exemplar: {text: exemplar.txt}   # typed by hand
page: {width: 7 in, height: 240, margins: ninths}

ruling: {lines: 10}   # counted
hands:
  # who begins
  A: {name: first, letters_per_line: 20, gatherings: 1}
skins: {width: 500, height: 400, days: {soak: 1, lime: 9}}
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    (tmp_path / "book.yaml").write_text(PLAN, "utf-8")
    (tmp_path / "exemplar.txt").write_text(" ".join(f"w{number}" for number in range(900)), "utf-8")
    return tmp_path / "book.yaml"


async def go_to(pilot: Pilot[None], name: str) -> None:
    screen = pilot.app.screen
    assert isinstance(screen, PlanFileScreen)
    rows = [row.text for row in screen._rows]
    screen.query_one(OptionList).highlighted = next(at for at, row in enumerate(rows) if row.startswith(f" {name}"))
    await pilot.pause()


async def fill(pilot: Pilot[None], **given: str) -> None:
    """Fill the lines of the form in, by the name of the key each begins with."""
    form = pilot.app.screen
    assert isinstance(form, Form)
    for name, text in given.items():
        field = next(each for each in form._lines_asked if each.label.startswith(f"{name}:"))
        form.query_one(f"#{field.name}", Input).value = text
        await pilot.pause()


def said(pilot: Pilot[None]) -> str:
    return pilot.app.screen.query_one(SayLine).said


async def test_a_part_is_changed_checked_while_one_types_kept_and_taken_back(file: Path) -> None:
    async with Desk(Job.open(file.parent)).run_test(size=SIZE) as pilot:
        await pilot.press("v", "e")
        await go_to(pilot, "page")
        await pilot.press("enter")
        await pilot.pause()
        await fill(pilot, width="wide")
        assert "width under page cannot be 'wide'; write a length above 0" in said(pilot)
        await fill(pilot, width="6,5 in")
        assert said(pilot) == (
            '-page: {width: 7 in, height: 240, margins: ninths}\n+page: {width: "6,5 in", height: 240, margins: ninths}'
        )
        assert file.read_text("utf-8") == PLAN
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert "Kept in book.yaml" in said(pilot)
        assert file.read_text("utf-8") == PLAN.replace("width: 7 in", 'width: "6,5 in"')
        assert pilot.app.job.book.page.width == pytest.approx(165.1)
        await pilot.press("u")
        assert file.read_text("utf-8") == PLAN


async def test_what_pages_stand_against_a_change_is_said_while_one_types(file: Path) -> None:
    async with Desk(Job.open(file.parent)).run_test(size=SIZE) as pilot:
        job = pilot.app.job
        job.record(job.commands.rule(Page.at(0)))
        await pilot.press("v", "e")
        await go_to(pilot, "ruling")
        await pilot.press("enter")
        await pilot.pause()
        await fill(pilot, lines="12")
        await until_drawn(pilot, lambda: "this cannot be kept: 1r was ruled with 10 lines" in said(pilot))
        await fill(pilot, lines="10")
        assert said(pilot) == ""
        assert file.read_text("utf-8") == PLAN


async def test_what_is_allowed_is_typed_in_a_form_of_its_own(file: Path) -> None:
    async with Desk(Job.open(file.parent)).run_test(size=SIZE) as pilot:
        await pilot.press("v", "e")
        await go_to(pilot, "allow")
        await pilot.press("enter")
        await pilot.pause()
        form = pilot.app.screen
        assert isinstance(form, Form)
        names = {each.label.partition(":")[0]: each.name for each in form._lines_asked}
        form.query_one(f"#{names['u/v']}", Input).value = "no"
        form.query_one(f"#{names['spellings']}", Input).value = "colour color, grey gray"
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert pilot.app.job.book.allow == {"u/v": False, "spellings": [["colour", "color"], ["grey", "gray"]]}


async def test_lists_and_margins_by_canon_are_typed_as_they_are_said(file: Path) -> None:
    async with Desk(Job.open(file.parent)).run_test(size=SIZE) as pilot:
        await pilot.press("v", "e")
        await go_to(pilot, "skins")
        await pilot.press("enter")
        await pilot.pause()
        await fill(pilot, days="soak 2, lime: 9, dry 3", spoilage="0,1")
        await pilot.press("ctrl+s")
        await pilot.pause()
        await go_to(pilot, "page")
        await pilot.press("enter")
        await pilot.pause()
        await fill(pilot, canon="johnston")
        await pilot.press("ctrl+s")
        await pilot.pause()
        book = pilot.app.job.book
        assert book.skins.days == {"soak": 2, "lime": 9, "dry": 3}
        assert book.skins.spoilage == 0.1
        assert book.page.margins.canon == "johnston"
        assert "# who begins" in file.read_text("utf-8")


async def test_a_hand_is_added_and_taken_out(file: Path) -> None:
    async with Desk(Job.open(file.parent)).run_test(size=SIZE) as pilot:
        await pilot.press("v", "e", "i")
        await pilot.pause()
        await pilot.press("1")
        await pilot.pause()
        await pilot.press("B", "enter")
        await pilot.pause()
        await fill(pilot, name="Bea", letters_per_line="24", hours_a_week="12")
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert "  B: {name: Bea, letters_per_line: 24, hours_a_week: 12}\n" in file.read_text("utf-8")
        await go_to(pilot, "hands B")
        await pilot.press("delete")
        await pilot.pause()
        await pilot.press("y")
        await pilot.pause()
        assert file.read_text("utf-8") == PLAN


async def test_what_the_file_refuses_the_form_refuses_and_nothing_is_written(file: Path) -> None:
    async with Desk(Job.open(file.parent)).run_test(size=SIZE) as pilot:
        await pilot.press("v", "e")
        await go_to(pilot, "exemplar")
        await pilot.press("enter")
        await pilot.pause()
        await fill(pilot, text="other.txt")
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert "names 'other.txt', and there is no such file in the folder" in said(pilot)
        assert isinstance(pilot.app.screen, Form)
    assert file.read_text("utf-8") == PLAN
