"""A desk that is open for looking only offers what a visitor can do, and nothing that it then refuses."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.desk.app import Desk
from copydesk.desk.base.book_screen import BookScreen
from copydesk.desk.base.keymap import records
from copydesk.desk.base.keys import KEYS, key_named
from copydesk.desk.base.screen_foot import FootLine
from copydesk.desk.dialogs.findings import acts_of
from seen import said
from tour_of_screens import STOPS, Stop, come_back, go_to

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from copydesk.job import Job

ELSEWHERE = ("app.", "open(", "back", "find", "palette", "others", "look", "copy", "offer(")


def test_what_records_is_told_from_what_does_not() -> None:
    told = {key.id for key in KEYS if records(key)}
    assert {"grid.write", "sheet.rule", "all.undo", "spaces.move", "pile.artist", "planner.keep"} <= told
    assert {"skins.more", "changes.new", "assembly.tick", "colophon.words"} <= told
    assert not {"grid.go", "grid.left", "grid.check_lines", "spaces.shown", "faults.shown", "check.tick"} & told
    assert not {"planner.more", "all.others", "all.help", "form.record", "finder.choose"} & told


@pytest.mark.parametrize("stop", [stop for stop in STOPS if not stop.is_modal], ids=lambda stop: stop.name)
async def test_nothing_offered_is_refused(open_job: Callable[..., Job], folder: Path, stop: Stop) -> None:
    job = open_job()
    job.read_only = True
    before, plan = (folder / "ledger.jsonl").read_bytes(), (folder / "book.yaml").read_bytes()
    desk = Desk(job)
    async with desk.run_test(size=(120, 40)) as pilot:
        assert said(desk) == "This desk is open for looking only."
        await go_to(pilot, stop)
        screen = desk.screen
        if not isinstance(screen, BookScreen):
            return
        feet = [key for foot in screen.query(FootLine) for key in (*foot.acts, *foot.pinned)]
        assert not [key.id for key in feet if records(key)]
        assert feet
        actions = [found.action for found in acts_of(screen, "")] + [key.action for key in feet]
        for action in dict.fromkeys(each for each in actions if each and not each.startswith(ELSEWHERE)):
            await screen.run_action(action)
            await pilot.pause()
            front = desk.screen
            assert not isinstance(front, BookScreen) or "for looking only; nothing" not in said(desk), action
            await come_back(pilot)
            await go_to(pilot, stop)
            screen = desk.screen
            assert isinstance(screen, BookScreen)
    job.close()
    assert ((folder / "ledger.jsonl").read_bytes(), (folder / "book.yaml").read_bytes()) == (before, plan)


async def test_a_desk_that_may_record_offers_it_as_before(open_job: Callable[..., Job]) -> None:
    job = open_job()
    desk = Desk(job)
    async with desk.run_test(size=(120, 40)):
        assert isinstance(desk.screen, BookScreen)
        assert desk.screen.lets(key_named("grid.write"))
        assert any(records(key) for key in desk.screen.query_one(FootLine).acts)
    job.close()
