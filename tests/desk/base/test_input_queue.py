"""Screens are closed once, the last one stays, and a mistake in one act is told and logged."""

from __future__ import annotations

from typing import TYPE_CHECKING
from unittest.mock import patch

import pytest
from textual import events
from textual.widgets import Static

from copydesk.desk.base.base_app import OwnApp
from copydesk.desk.base.input_queue import InputQueue
from copydesk.desk.base.screen_foot import SayLine
from copydesk.desk.dialogs.form import Choice
from copydesk.job import Job
from copydesk.store.files.mistake_log import mistake_log_file

if TYPE_CHECKING:
    from copydesk.desk.app import Desk

TAKE_MISTAKE = OwnApp.take_mistake


async def test_a_list_answered_twice_closes_once(desk: Desk) -> None:
    answers: list[str | None] = []
    async with desk.run_test() as pilot:
        desk.open_screen("log")
        await pilot.pause()
        choice = Choice("Which?", [("a", "one"), ("b", "two")])
        desk.push_screen(choice, answers.append)
        await pilot.pause()
        choice.dismiss("a")
        choice.dismiss("b")
        await pilot.pause()
        assert answers == ["a"]
        assert type(desk.screen).__name__ == "LogScreen"


async def test_the_last_screen_stays(desk: Desk) -> None:
    async with desk.run_test() as pilot:
        await pilot.pause()
        while len(desk.screen_stack) > 1:
            desk.pop_screen()
        front = desk.screen
        desk.pop_screen()
        await pilot.pause()
        assert desk.screen is front


@pytest.mark.parametrize("key", ["w", "f"], ids=["in an act", "in what an act asks"])
async def test_a_mistake_in_one_act_is_told_and_logged_and_the_desk_stays_open(
    desk: Desk, monkeypatch: pytest.MonkeyPatch, key: str
) -> None:
    monkeypatch.setattr(OwnApp, "take_mistake", TAKE_MISTAKE)
    async with desk.run_test() as pilot:
        await pilot.pause()
        before = len(desk.job.ledger)

        def broken(*given: object, **named: object) -> None:
            raise KeyError("words of the book")

        monkeypatch.setattr("copydesk.desk.dialogs.fault_dialog.KIND_WORDS", None)
        monkeypatch.setattr(Job, "record_all", broken)
        if key == "f":
            await pilot.press("g", "7", "r", "enter")
        await pilot.press(key)
        await pilot.pause()
        said = desk.screen.query_one(SayLine).said
        assert said.startswith("copydesk made a mistake and could not do this.")
        assert str(mistake_log_file()) in said
        assert len(desk.job.ledger) == before
        await pilot.press("v", "u")
        await pilot.pause()
        assert type(desk.screen).__name__ == "LogScreen"
    logged = mistake_log_file().read_text("utf-8")
    assert "Error: " in logged
    assert "words of the book" not in logged


async def test_a_click_on_what_was_taken_away_meanwhile_is_dropped(desk: Desk) -> None:
    async with desk.run_test(size=(120, 40)) as pilot:
        gone = Static("gone")
        await desk.screen.mount(gone)
        await pilot.pause()
        x, y = gone.region.offset
        queue = InputQueue(desk, desk.on_event)
        click = events.MouseDown(None, x, y, 0, 0, 1, False, False, False, screen_x=x, screen_y=y)
        with patch.object(desk.screen, "get_widget_at", return_value=(gone, gone.region)):
            assert queue._still_there(click)
            await gone.remove()
            assert not queue._still_there(click)
