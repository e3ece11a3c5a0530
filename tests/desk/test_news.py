"""What other desks did to the same thing is said at once, and waits at the top of the log until it is settled."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from textual.widgets import OptionList

from copydesk.book.structure.page import Page
from copydesk.cli.main import main
from copydesk.desk.book_screens.log import LogScreen
from copydesk.tracking.log.entry_text import describe
from seen import said

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    import pytest

    from copydesk.desk.app import Desk
    from copydesk.job import Job

NEXT = Page.parse("12v")


async def test_two_hands_writing_one_page_are_told_and_decide_it_in_the_log(
    desk: Desk, job: Job, open_job: Callable[..., Job]
) -> None:
    door = open_job("door")
    async with desk.run_test(size=(120, 40)) as pilot:
        meant = door.commands.write(NEXT)
        await pilot.press("w")
        first = job.ledger.newest_standing("window")
        assert first is not None
        second = door.record(meant, hand="B")
        desk.look_round()
        told = (
            "12v was recorded as written at window by A and again at door by B; the later one counts now: "
            f"to keep it undo {first.entry}, to have the earlier one instead undo {second.entry}"
        )
        assert said(desk) == told
        await pilot.press("v", "u")
        assert isinstance(desk.screen, LogScreen)
        options = desk.screen.query_one(OptionList)
        assert str(options.get_option_at_index(0).prompt) == f" Contradiction: {told}"
        assert options.highlighted == 1
        assert f"({second.entry})" in str(options.get_option_at_index(1).prompt)
        await pilot.press("home", "enter")
        assert options.highlighted == 1
        assert "u takes it back" in said(desk)
        await pilot.press("u")
        assert job.ledger.is_void(second.entry)
        assert "Contradiction" not in str(options.get_option_at_index(0).prompt)
        assert not job.ledger.is_void(first.entry)
    door.refresh()
    assert door.contradictions == ()


def test_audit_lists_what_is_to_be_decided(
    open_job: Callable[..., Job], folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    window, door = open_job("window"), open_job("door")
    meant = door.commands.write(NEXT)
    window.record(window.commands.write(NEXT))
    second = door.record(meant, hand="B")
    (told,) = door.contradictions
    assert main(["audit", str(folder)]) == 1
    out = capsys.readouterr().out
    assert "is sound: plan, exemplar, samples and ledger." in out
    assert f"Contradiction: {told}" in out
    assert main(["audit", str(folder), "--json"]) == 1
    found = json.loads(capsys.readouterr().out)
    assert (found["sound"], found["contradictions"]) == (True, [str(told)])
    door.undo(second.entry)
    assert main(["audit", str(folder)]) == 0


async def test_what_another_desk_did_at_this_moment_is_said_after_what_was_recorded(
    desk: Desk, open_job: Callable[..., Job]
) -> None:
    door = open_job("door")
    async with desk.run_test(size=(120, 40)) as pilot:
        page = Page.parse("18r")
        desk.screen.go_to(page)  # type: ignore[attr-defined]
        act = door.commands.rule(page)
        await pilot.pause()
        record_all = desk.job.record_all

        def at_this_moment(*arguments: object, **more: object) -> object:
            door.record(act)
            return record_all(*arguments, **more)  # type: ignore[arg-type]

        desk.job.record_all = at_this_moment  # type: ignore[method-assign,assignment]
        await pilot.press("r")
        assert said(desk) == "18r ruled by A. Meanwhile at door: 18r ruled by A."


async def test_an_entry_taken_back_elsewhere_is_not_taken_back_again_nor_the_one_before_it(
    desk: Desk, job: Job, open_job: Callable[..., Job]
) -> None:
    async with desk.run_test(size=(120, 40)) as pilot:
        before = job.ledger.newest_standing("window")
        await pilot.press("w")
        written = job.ledger.newest_standing("window")
        assert before is not None and written is not None
        door = open_job("door")
        door.undo(written.entry)
        desk.look_round()
        count = len(job.ledger)
        await pilot.press("u")
        told = f"taken back by A: {describe(written, job.state)}; that was done at door already, so nothing was changed"
        assert said(desk) == f"{told}; the one before it is: {describe(before, job.state)}"
        assert len(job.ledger) == count
        await pilot.press("u")
        assert job.ledger.is_void(before.entry)


async def test_a_changed_plan_with_faults_is_refused_and_the_old_one_stays(desk: Desk, job: Job, folder: Path) -> None:
    plan = folder / "book.yaml"
    sound = plan.read_text("utf-8")
    async with desk.run_test(size=(120, 40)) as pilot:
        title, lines = job.book.title, job.state.layout.lines
        plan.write_text(sound.replace("title:", "titel:"), "utf-8")
        desk.look_round()
        assert said(desk).startswith("The changed plan was not taken: ")
        assert "titel" in said(desk)
        assert (job.book.title, job.state.layout.lines) == (title, lines)
        await pilot.press("w")
        desk.look_round()
        assert said(desk).startswith("12v written")  # said once, it covers nothing up
        plan.write_text(sound.replace(title, "Another Title"), "utf-8")
        desk.look_round()
        assert job.book.title == "Another Title"
        assert job.plan_problems == ()
        assert said(desk) == "book.yaml was changed; the plan was read again."
