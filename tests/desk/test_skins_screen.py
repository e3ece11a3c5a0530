"""Skins in the making under the hand: batches begun, moved on, changed, cut up, and taken back."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from textual.widgets import Input, OptionList, Static

from copydesk.desk.base.screen_foot import SayLine
from copydesk.desk.book_screens.skins import SkinsScreen
from copydesk.desk.dialogs.form import Form
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.tracking.commands.skin_commands import move_skins

if TYPE_CHECKING:
    from textual.pilot import Pilot

    from copydesk.desk.app import Desk

SIZE = (100, 30)


def told(desk: Desk) -> list[str]:
    return [line.says for line in desk.screen.query_one(LinesPanel).lines_shown]


def rows(desk: Desk) -> list[list[str]]:
    options = desk.screen.query_one(OptionList)
    return [str(options.get_option_at_index(at).prompt).split() for at in range(options.option_count)]


def begin(desk: Desk, batch: str, step: str, skins: int, since: date | None = None) -> None:
    desk.job.record(move_skins(desk.job.state, batch, step, skins, since))


async def fill(pilot: Pilot[None], **values: str) -> None:
    for name, value in values.items():
        pilot.app.screen.query_one(f"#{name}", Input).value = value
    await pilot.press("ctrl+s")


def notices(desk: Desk) -> list[str]:
    return [notice.message for notice in desk._notifications]


async def test_a_batch_is_begun_moved_on_and_taken_back(desk: Desk) -> None:
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("v", "s")
        assert isinstance(desk.screen, SkinsScreen)
        assert "i adds a batch" in desk.screen.query_one(SayLine).said
        await pilot.press("i")
        await fill(pilot, batch="A", skins="6")
        assert rows(desk) == [["A", "6", "soak", "20", "Nov", "lime", "21", "Nov,", "tomorrow", "9", "Dec"]]
        await pilot.press("enter")
        assert rows(desk)[0][2] == "lime"
        assert "into the step lime by A" in desk.screen.query_one(SayLine).said
        await pilot.press("u")
        assert rows(desk)[0][2] == "soak"


async def test_a_step_shows_its_cautions_once_since_the_desk_was_opened(desk: Desk) -> None:
    begin(desk, "A", "lime", 6)
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("v", "s", "m", "s")
        await fill(pilot, step="lime", skins="5")
        assert "Caution: Lime: burns skin and can blind" in notices(desk)[0]
        await pilot.press("m", "s")
        await fill(pilot, step="lime", skins="4")
        assert len(notices(desk)) == 1


async def test_the_lime_is_warned_of_and_the_cautions_stand_there(desk: Desk) -> None:
    begin(desk, "B", "lime", 4, date(2026, 11, 12))
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("v", "s")
        lines = desk.screen.query_one(LinesPanel).lines_shown
        assert lines[0].wrong
        assert lines[0].says.startswith("Batch B (4 skins) must leave the lime tomorrow, for rinse")
        assert any(words.startswith("Lime: burns skin and can blind") for words in told(desk))


async def test_what_is_refused_is_said_in_the_form(desk: Desk) -> None:
    begin(desk, "A", "soak", 6)
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("v", "s", "m", "s")
        await fill(pilot, step="tan")
        assert isinstance(desk.screen, Form)
        assert "'tan' is no step" in str(desk.screen.query_one("#refusal", Static).content)
        await fill(pilot, step="stretch", skins="a few")
        assert "the number of skins is 'a few', which is not a whole number" in str(
            desk.screen.query_one("#refusal", Static).content
        )
        await fill(pilot, skins="5", note="one tore")
        assert isinstance(desk.screen, SkinsScreen)
        assert rows(desk)[0][:3] == ["A", "5", "stretch"]
        assert any('"one tore"' in words for words in told(desk))


async def test_a_sheet_is_cut_from_a_skin_of_a_batch_that_is_ready(desk: Desk) -> None:
    begin(desk, "A", "ready", 6)
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("v", "s", "enter")
        assert "no step after that" in desk.screen.query_one(SayLine).said
        await pilot.press("m", "c")
        await fill(pilot, sheet="3.2", skin="4")
        assert "from skin 4: 3.2" in told(desk)
        await pilot.press("escape", "g")
        await fill(pilot, page="18r")
        await pilot.press("v", "v")
        assert "Gathering 3, sheet 2" in str(desk.screen.query_one("#where", Static).content)
        assert "from skin A 4" in str(desk.screen.query_one("#where", Static).content)
