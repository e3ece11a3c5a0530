"""The stint clock under the hand: begun, shown, offered with a page, a rest spoken of once, ended."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from textual.widgets import Input

from copydesk.desk.app import Desk
from copydesk.desk.base.screen_foot import FootLine, SayLine
from copydesk.desk.base.stint_watch import StintWatch, clock_now
from copydesk.job import Job
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.ledger.stint_clock import Clock
from copydesk.tracking.scribes.desk_clock import DeskClock, pause_stint, start_stint
from copydesk.tracking.state.writing_tools import tools_of

if TYPE_CHECKING:
    from pathlib import Path

NOON = datetime(2026, 11, 20, 12, 0).astimezone()


class Hand:
    """A clock turned on by hand."""

    now = NOON

    def __call__(self) -> datetime:
        return self.now


def foot(desk: Desk) -> str:
    return "".join(segment.text for segment in desk.screen.query_one(FootLine).render_line(0))


async def test_a_stint_from_its_beginning_to_its_end(folder: Path) -> None:
    clock = Hand()
    job = Job.open(folder, desk="window", clock=clock)
    desk = Desk(job)
    async with desk.run_test(size=(120, 40)) as pilot:
        await pilot.press("m", "s", "enter")
        assert "The clock runs for" in desk.screen.query_one(SayLine).said
        clock.now += timedelta(minutes=46)
        desk.look_round()
        assert foot(desk).rstrip().endswith("  A 46 min  ? help  q quit")
        assert "46 minutes without a rest" in desk.screen.query_one(SayLine).said
        desk.screen.query_one(SayLine).say("")
        desk.look_round()
        assert desk.screen.query_one(SayLine).said == ""
        await pilot.press("e")
        assert desk.screen.query_one("#minutes", Input).value == "46"
        await pilot.press("escape", "m", "s", "down", "down", "enter")
        assert not clock_now(job).open
        await pilot.press("m", "s", "escape")
        assert not clock_now(job).open


async def test_who_leaves_the_desk_ends_the_stint(desk: Desk, job: Job) -> None:
    job.record(Act("at-desk", "window", "", {}), hand="A")
    job.record(start_stint("window", 45), hand="A")
    async with desk.run_test(size=(120, 40)) as pilot:
        await pilot.press("a", "down", "enter")
        assert not clock_now(job).open
        assert job.hand == "B"


def shown(since_rest: float, *, running: bool = True) -> DeskClock:
    return DeskClock(Clock(running, since_rest, since_rest, NOON, forgotten=False), "A", 45)


def test_each_rest_is_spoken_of_once() -> None:
    watch = StintWatch()
    assert watch.rest_due(shown(44)) == ""
    assert "without a rest" in watch.rest_due(shown(45))
    assert watch.rest_due(shown(50)) == ""
    assert watch.rest_due(shown(50, running=False)) == ""
    assert watch.rest_due(shown(51)) == ""
    assert watch.rest_due(shown(0)) == ""
    assert "without a rest" in watch.rest_due(shown(46))


def test_a_paused_clock_is_shown_so(job: Job) -> None:
    job.record(start_stint("window", 45))
    job.record(pause_stint("window"))
    assert clock_now(job).in_short() == f"{job.hand} paused at 0 min"


async def test_another_ink_is_noted_at_a_stint(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=(120, 40)) as pilot:
        await pilot.press("m", "s", "enter", "m", "s", "down", "enter")
        assert desk.screen.query_one("#ink", Input).value == "oak-gall ink"
        await pilot.press("enter", "enter", "enter")
        assert "nothing to note" in desk.screen.query_one("#refusal", SayLine).said
        desk.screen.query_one("#ink", Input).value = "carbon ink"
        await pilot.press("enter")
        (entry,) = [each for each in job.ledger if each.what == "stint-started" and each.text("ink")]
        assert (entry.text("ink"), entry.text("pen")) == ("carbon ink", "")
        assert str(tools_of(job.state, entry.hand)) == "carbon ink, pen goose quill"
        assert clock_now(job).open
