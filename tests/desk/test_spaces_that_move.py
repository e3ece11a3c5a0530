"""A space that moves, or loses its place, is told at every door at once, and kept in sight until it is settled."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from copydesk.book.structure.page import Page
from copydesk.cli.main import main
from copydesk.desk.app import Desk
from copydesk.desk.base.keymap import Keymap
from copydesk.desk.line_desk import LineDesk
from copydesk.desk.widgets.page_panel import PagePanel
from copydesk.job import Job
from seen import said

if TYPE_CHECKING:
    from pathlib import Path

PLAN = """
title: A small book
exemplar: {text: exemplar.txt}
page: {width: 100, height: 140, margins: {inner: 10, head: 10, outer: 20, foot: 30}}
ruling: {lines: 10}
hands: {A: {name: first, letters_per_line: 20}}
letter_widths: equal
gatherings: {sheets: 2, count: 1}
spaces: [{id: mill, kind: miniature, at: {word: 58}, lines: 4}]
"""
P1, P2 = Page.parse("1r"), Page.parse("1v")
MOVES = "Space mill moves with its text from 1v to 1r."
KEEP = "keep 4 lines on 1v for space mill; its text stands on 1r"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A book of one short text, five words to a line; the picture is planned on 1v, after its text on 1r."""
    book = tmp_path / "small"
    book.mkdir()
    (book / "book.yaml").write_text(PLAN, "utf-8")
    (book / "exemplar.txt").write_text(" ".join(f"w{number:02d}" for number in range(100)), "utf-8")
    return book


def heard(job: Job, *orders: str) -> list[str]:
    """What the line desk says to these orders."""
    told: list[str] = []
    coming = iter(orders)
    LineDesk(job, Keymap(), lambda _: next(coming, None), lambda *lines: told.extend(lines), lambda _: None).run()
    return told


def test_the_reply_of_the_command_line_and_its_json(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["record", str(folder), "1r", "written", "--to-line", "10", "--ends", "w38 w39", "--json"])
    assert json.loads(capsys.readouterr().out)["also"] == []
    main(["undo", str(folder), "--json"])
    assert json.loads(capsys.readouterr().out)["also"] == []
    main(["record", str(folder), "leaf:1", "cancelled"])
    capsys.readouterr()
    main(["record", str(folder), "space:mill", "moved", "--at", "word 90", "--json"])
    assert json.loads(capsys.readouterr().out)["also"] == ["Space mill moves from 1v to 2r; its text stands on 1v."]
    main(["undo", str(folder)])
    assert "Space mill moves with its text from 2r to 1v." in capsys.readouterr().out.splitlines()


def test_the_line_desk_tells_it_and_keeps_it_in_sight(folder: Path) -> None:
    job = Job.open(folder)
    job.record(job.commands.space("mill", "moved", at="word 45"))
    told = heard(job, "1r", "", "undo")
    assert "Room: " + KEEP not in told
    job.record(job.commands.space("mill", "moved", at="word 45"))
    job.record(job.commands.write(P1))
    assert f"Room: {KEEP}" in heard(job, "2r")
    job.record(job.commands.rule(P2))
    assert not any(said.startswith("Room") for said in heard(job, "2r"))
    job.close()


async def test_the_desk_tells_it_and_keeps_it_in_sight(folder: Path) -> None:
    job = Job.open(folder)
    job.record(job.commands.space("mill", "moved", at="word 12"))
    desk = Desk(job)
    async with desk.run_test(size=(120, 40)) as pilot:
        await pilot.press("u")
        back = "Space mill moves with its text from 1r to 1v."
        assert said(desk) == f"Taken back: space mill moved to word 12 by A. {back}"
        job.record(job.commands.space("mill", "moved", at="word 45"))
        job.record(job.commands.write(P1))
        desk.screen.renew()  # type: ignore[attr-defined]
        lines = desk.screen.query_one(PagePanel).lines_shown
        assert ("Room", KEEP) in [(line.head, line.says) for line in lines]
    job.close()


def test_a_plan_changed_while_the_desk_is_open_is_told_as_news(folder: Path) -> None:
    job = Job.open(folder)
    plan = (folder / "book.yaml").read_text("utf-8")
    (folder / "book.yaml").write_text(plan.replace("word: 58", "word: 12"), "utf-8")
    assert job.refresh()
    assert job.news() == [MOVES]
    job.close()


def test_what_another_desk_moves_is_told_as_news(folder: Path) -> None:
    job, door = Job.open(folder, desk="window"), Job.open(folder, desk="door")
    door.record(door.commands.space("mill", "moved", at="word 12"))
    job.refresh()
    assert MOVES in job.news()
    job.close()
    door.close()
