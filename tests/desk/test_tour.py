"""The walk round the desk: its steps, going on, leaving, and when it is offered."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from copydesk.desk.base.keymap import Keymap
from copydesk.desk.base.keys import KEYS
from copydesk.desk.base.screen_foot import SayLine
from copydesk.desk.page_screens.tour_panel import TourPanel
from copydesk.help.topics import read_topic, tour_steps
from copydesk.store.folder.new_book import copy_demo, is_untouched_copy

if TYPE_CHECKING:
    from pathlib import Path

    from copydesk.desk.app import Desk


def test_the_steps_are_few_and_short_and_name_keys_that_are_there() -> None:
    steps = tour_steps()
    assert 5 <= len(steps) <= 9
    keys = {key for each in KEYS for key in Keymap().way_to(each).split(", ")}
    for step in steps:
        assert len(step.says) <= 280
        assert step.says.count("**") % 2 == 0
    named = set(re.findall(r"\*\*(.+?)\*\*", read_topic("tour")))
    assert named >= {"w", "v v", "u", "F6"}
    assert named <= keys


async def test_a_walk_goes_on_and_ends_while_the_desk_works(desk: Desk) -> None:
    async with desk.run_test(size=(80, 24)) as pilot:
        await pilot.press("f6")
        panel = desk.screen.query_one(TourPanel)
        assert panel.visual and panel.region.height <= 5
        await pilot.press("f6", "w")
        assert (panel.step, desk.job.ledger.newest_standing().what) == (1, "written")  # type: ignore[union-attr]
        await pilot.press("u", *["f6"] * (len(tour_steps()) - 1))
        await pilot.pause()
        assert not desk.screen.query(TourPanel)


async def test_escape_leaves_a_walk_and_another_begins_anew(desk: Desk) -> None:
    async with desk.run_test() as pilot:
        await pilot.press("f6", "f6", "escape")
        await pilot.pause()
        assert not desk.screen.query(TourPanel)
        await pilot.press("f6")
        await pilot.pause()
        assert desk.screen.query_one(TourPanel).step == 0


async def test_a_walk_names_a_persons_own_keys(desk: Desk) -> None:
    desk.own_keys = Keymap({"grid.write": "f9", "all.others": "f8", "grid.tour": "f7"})
    async with desk.run_test() as pilot:
        await pilot.press("f7", "f7")
        panel = desk.screen.query_one(TourPanel)
        said = str(panel.content)
        assert "Press F9: the rest of it is written" in said
        assert "F7 goes on" in said
        panel.go_on()
        assert "Press F8 v for the sheet" in str(panel.content)


async def test_a_new_book_begins_with_what_to_do_first(desk: Desk) -> None:
    desk.is_new = True
    async with desk.run_test() as pilot:
        assert "Look the plan over" in str(desk.screen.query_one(TourPanel).content)
        await pilot.press("f6", "f6", "f6")
        await pilot.pause()
        assert not desk.screen.query(TourPanel)


async def test_it_is_offered_only_where_the_command_line_says_so(desk: Desk) -> None:
    desk.offers_tour = True
    async with desk.run_test():
        assert desk.screen.query_one(SayLine).said.endswith("F6 walks you round the desk.")


def test_a_copy_is_untouched_until_something_is_recorded(tmp_path: Path) -> None:
    book = copy_demo(tmp_path / "book")
    assert is_untouched_copy(book)
    with (book / "ledger.jsonl").open("ab") as ledger:
        ledger.write(b"\n")
    assert not is_untouched_copy(book)
    assert not is_untouched_copy(tmp_path)
