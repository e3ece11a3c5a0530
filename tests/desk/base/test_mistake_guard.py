"""A mistake in a handler, a timer, in drawing or in what a form calls is told, logged and survived."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from textual.widgets import Input

from copydesk.desk.base.base_app import OwnApp
from copydesk.desk.base.mistake_guard import MistakesSeen
from copydesk.desk.base.screen_foot import FootLine, SayLine
from copydesk.desk.dialogs.form import Choice, Form
from copydesk.desk.page_screens.grid import GridScreen
from copydesk.desk.widgets.gathering_grid import GatheringGrid
from copydesk.desk.widgets.pick_list import PickList
from copydesk.store.files.mistake_log import mistake_log_file

if TYPE_CHECKING:
    from collections.abc import Callable

    from textual.pilot import Pilot

    from copydesk.desk.app import Desk

TAKE_MISTAKE = OwnApp.take_mistake
KEPT_BACK = "words of the book"


@pytest.fixture(autouse=True)
def mistakes_are_told(monkeypatch: pytest.MonkeyPatch, mistakes_end_the_desk: None) -> None:
    """As at a desk in use, not as in the other tests."""
    monkeypatch.setattr(OwnApp, "take_mistake", TAKE_MISTAKE)


def broken(*given: object, **named: object) -> None:
    raise KeyError(KEPT_BACK)


async def in_a_handler(desk: Desk, pilot: Pilot[None], patch: pytest.MonkeyPatch) -> None:
    patch.setattr(GatheringGrid, "on_click", broken)
    await pilot.click(GatheringGrid)


async def in_a_list(desk: Desk, pilot: Pilot[None], patch: pytest.MonkeyPatch) -> None:
    patch.setattr(PickList, "watch_highlighted", broken)
    await pilot.press("v", "escape")


async def in_a_timer(desk: Desk, pilot: Pilot[None], patch: pytest.MonkeyPatch) -> None:
    desk.screen.set_timer(0.01, broken)
    await pilot.pause(0.1)


async def in_what_comes_after_a_refresh(desk: Desk, pilot: Pilot[None], patch: pytest.MonkeyPatch) -> None:
    desk.screen.call_after_refresh(broken)
    desk.screen.call_next(broken)


async def in_drawing(desk: Desk, pilot: Pilot[None], patch: pytest.MonkeyPatch) -> None:
    patch.setattr(FootLine, "render_line", broken)
    desk.screen.query_one(FootLine).refresh()


async def in_laying_out(desk: Desk, pilot: Pilot[None], patch: pytest.MonkeyPatch) -> None:
    patch.setattr(SayLine, "get_content_height", broken)
    desk.screen.query_one(SayLine).refresh(layout=True)
    await pilot.pause()


async def in_what_a_form_calls(desk: Desk, pilot: Pilot[None], patch: pytest.MonkeyPatch) -> None:
    desk.push_screen(Form("A form", [], broken))
    await pilot.pause()
    await pilot.press("ctrl+s", "escape")


async def in_what_hears_the_answer(desk: Desk, pilot: Pilot[None], patch: pytest.MonkeyPatch) -> None:
    desk.push_screen(Choice("A list", [("a", "one"), ("b", "two")]), broken)
    await pilot.pause()
    await pilot.press("enter")


async def in_a_screen_that_opens(desk: Desk, pilot: Pilot[None], patch: pytest.MonkeyPatch) -> None:
    patch.setattr("copydesk.desk.book_screens.log.LogScreen.show_book", broken)
    await pilot.press("v", "u")


PLACES = (
    *(in_a_handler, in_a_list, in_a_timer, in_what_comes_after_a_refresh, in_drawing, in_laying_out),
    *(in_what_a_form_calls, in_what_hears_the_answer, in_a_screen_that_opens),
)


@pytest.mark.parametrize("place", PLACES, ids=lambda each: each.__name__)
async def test_it_is_told_and_logged_and_the_desk_goes_on(
    desk: Desk, monkeypatch: pytest.MonkeyPatch, place: Callable[..., object]
) -> None:
    async with desk.run_test(size=(120, 40)) as pilot:
        await pilot.pause()
        before = len(desk.job.ledger)
        told: list[str] = []
        say = SayLine.say

        def heard(line: SayLine, text: str, *, wrong: bool = False) -> None:
            told.append(text)
            say(line, text, wrong=wrong)

        monkeypatch.setattr(SayLine, "say", heard)
        with pytest.MonkeyPatch.context() as patch:
            await place(desk, pilot, patch)  # type: ignore[misc]
            await pilot.pause()
        if not isinstance(desk.screen, GridScreen):
            await pilot.press("escape")
        assert desk.is_running
        assert any(text.startswith("copydesk made a mistake") for text in told)
        assert isinstance(desk.screen, GridScreen)
        cursor = desk.screen.page
        await pilot.press("right")
        assert desk.screen.page != cursor
        await pilot.press("w", "g")
        assert len(desk.job.ledger) == before + 1
        assert desk.screen.query_one(Input)
        await pilot.press("escape")
    assert desk._exception is None
    logged = mistake_log_file().read_text("utf-8")
    assert "Error" in logged
    assert KEPT_BACK not in logged


def test_the_same_mistake_at_once_is_told_once() -> None:
    seen = MistakesSeen()
    errors = []
    for _ in range(2):
        try:
            broken()
        except KeyError as error:
            errors.append(error)
    assert [seen.is_new(error) for error in errors] == [True, False]
    assert seen.is_new(ValueError())
