"""Hands that press and click at random on the desk, and what must hold however they did."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.page import Page
from copydesk.desk.base.keys import KEYS
from copydesk.job import Job
from copydesk.store.journal.audit import audit
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    import random
    from pathlib import Path

    from textual.pilot import Pilot

    from copydesk.desk.app import Desk

OF_THE_DESK = sorted({key for each in KEYS for key in each.key.split(",")})
OTHERS = [*"0123456789abyz+-.,%", "tab", "shift+tab", "ctrl+s", "ctrl+a", "backspace", "delete", "f3", "ctrl+z", "é"]
OFTEN = ["enter", "escape", "space", "up", "down", "left", "right", "r", "w", "c", "u", "y"]
SIZES = [(80, 24), (120, 40), (200, 60), (40, 10), (81, 25)]


class Wanderer:
    """Presses keys and clicks at random at one desk while another records now and then.

    Attributes:
        done: What was done, newest last, to tell how a crash came about.
    """

    def __init__(self, desk: Desk, other: Job, chance: random.Random) -> None:
        self._desk = desk
        self._other = other
        self._chance = chance
        self.done: list[str] = []

    async def wander(self, pilot: Pilot[Any], steps: int) -> None:
        """So many steps; leaving is not among them."""
        self._desk.action_quit = self._stay  # type: ignore[method-assign,assignment]
        for _ in range(steps):
            await self._step(pilot)

    async def _stay(self) -> None:
        """Leaving the desk is what other tests do."""

    async def _step(self, pilot: Pilot[Any]) -> None:
        chance = self._chance
        match chance.choices(("often", "desk", "other", "click", "size", "elsewhere"), (30, 40, 10, 14, 1, 5))[0]:
            case "often":
                await self._press(pilot, chance.choice(OFTEN))
            case "desk":
                await self._press(pilot, chance.choice(OF_THE_DESK))
            case "other":
                await self._press(pilot, chance.choice(OTHERS))
            case "click":
                width, height = self._desk.size
                at = (chance.randrange(width), chance.randrange(height))
                self.done.append(f"click {at}")
                await pilot.click(offset=at, times=chance.choice((1, 1, 1, 2)))
            case "size":
                size = chance.choice(SIZES)
                self.done.append(f"size {size}")
                await pilot.resize_terminal(*size)
            case _:
                self._record_elsewhere()

    async def _press(self, pilot: Pilot[Any], key: str) -> None:
        self.done.append(key)
        await pilot.press(key)

    def _record_elsewhere(self) -> None:
        """The other desk writes, checks or takes back."""
        job, chance = self._other, self._chance
        page = Page.at(chance.randrange(job.state.collation.pages))
        step = chance.choice(("rule", "write", "check", "undo"))
        self.done.append(f"elsewhere {step} {page}")
        try:
            job.refresh()
            if step == "undo":
                job.undo()
            else:
                job.record(getattr(job.commands, step)(page))
        except CopydeskError:
            self.done.append("(refused)")


def expect_sound(desk: Desk, folder: Path, least: int) -> int:
    """The ledger is sound, and a desk opened now sees the book as this one does; how many entries there are."""
    desk.job.refresh()
    assert audit(folder) == ()
    fresh = Job.open(folder, desk="fresh")
    assert list(fresh.ledger) == list(desk.job.ledger)
    assert len(fresh.ledger) >= least
    for index in range(fresh.state.collation.pages):
        assert page_account(fresh.state, index).record == page_account(desk.job.state, index).record
    fresh.close()
    return len(fresh.ledger)
