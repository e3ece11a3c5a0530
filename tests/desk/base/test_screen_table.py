"""Every screen on a book is opened by a name that the table lists, and its key opens that screen."""

from __future__ import annotations

import inspect
from typing import TYPE_CHECKING

import pytest

from copydesk.desk.base.book_screen import BookScreen
from copydesk.desk.base.keys import KEYS, key_named
from copydesk.desk.base.screen_table import SCREENS, screen_class

if TYPE_CHECKING:
    from copydesk.desk.app import Desk

BY_NAME = {entry.name: entry for entry in SCREENS}


def test_names_and_classes_are_given_once() -> None:
    assert len(BY_NAME) == len(SCREENS) == len({entry.where for entry in SCREENS})


@pytest.mark.parametrize("entry", SCREENS, ids=lambda entry: entry.name)
def test_an_entry_leads_to_a_screen_that_its_key_opens(entry: object) -> None:
    screen = screen_class(entry.name)  # type: ignore[attr-defined]
    assert inspect.isclass(screen)
    key = key_named(entry.key)  # type: ignore[attr-defined]
    assert not key.action.startswith("open(") or key.action == f"open('{entry.name}')"  # type: ignore[attr-defined]
    if issubclass(screen, BookScreen):
        assert list(inspect.signature(screen).parameters) == ["page", "go_to"]


def test_keys_open_screens_of_the_table() -> None:
    opened = {key.action.removeprefix("open('").removesuffix("')") for key in KEYS if key.action.startswith("open(")}
    assert len(opened) > 10
    assert opened <= set(BY_NAME)


async def test_the_palette_finds_a_screen_by_what_people_call_it(desk: Desk) -> None:
    async with desk.run_test() as pilot:
        await pilot.pause()
        await pilot.press("colon", *"binder", "enter", "enter")
        await pilot.pause()
        assert type(desk.screen).__name__ == "AssemblyScreen"
