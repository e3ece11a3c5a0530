"""A plan changed after pages were recorded: said by every verb, kept in plan and audit, told as news."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING

import pytest

from copydesk.cli.main import main
from copydesk.desk.wording.page_words import unsettled_lines
from copydesk.job import Job
from fuzzing import make_book

if TYPE_CHECKING:
    from pathlib import Path

PLAN = """title: A changed book
exemplar: {text: exemplar.txt}
page: {width: 100, height: 140, margins: {inner: 10, head: 10, outer: 20, foot: 30}}
ruling: {lines: 10}
hands:
  A: {name: first, letters_per_line: 20}
gatherings: {sheets: 2, count: 2}
spaces:
  - {id: owl, kind: miniature, at: {word: 30}, lines: 4}
"""
SAID = "Plan and skin differ: space owl stands on 1r with 4 lines as it was ruled; the plan gives it 6 lines now."


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    folder = make_book(tmp_path / "book", text=" ".join(f"w{number}" for number in range(300)))
    (folder / "book.yaml").write_text(PLAN)
    assert main(["record", str(folder), "1r", "written"]) == 0
    return folder


def change(folder: Path) -> None:
    (folder / "book.yaml").write_text(PLAN.replace("lines: 4", "lines: 6"))


def test_every_verb_says_it_and_plan_and_audit_keep_it(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    assert main(["pages", str(folder)]) == 0
    assert capsys.readouterr().err == ""
    change(folder)
    assert main(["pages", str(folder)]) == 0
    assert capsys.readouterr().err.strip() == f"copydesk: {SAID}"
    assert main(["plan", str(folder), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["conflicts"] == [SAID[22:-1]]
    assert main(["plan", str(folder)]) == 0
    assert f"On skin   {SAID[22:-1]}" in capsys.readouterr().out
    assert main(["audit", str(folder), "--json"]) == 1
    found = json.loads(capsys.readouterr().out)
    assert (found["sound"], found["conflicts"]) == (True, [SAID[22:-1]])


def test_a_desk_that_is_open_tells_it_at_once_and_keeps_it_in_sight(folder: Path) -> None:
    job = Job.open(folder)
    assert job.news() == []
    change(folder)
    assert job.refresh()
    assert job.news() == [SAID]
    assert job.news() == []
    assert [(line.head, line.wrong) for line in unsettled_lines(job.state)] == [("Plan", True)]
    job.close()


def test_a_cancelled_leaf_names_the_words_to_be_written_again(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    assert main(["record", str(folder), "leaf:1", "replaced", "--json"]) == 0
    also = json.loads(capsys.readouterr().out)["also"]
    assert re.fullmatch(
        r'6 written lines went with it, of 1r, and are to be written again: "w0 w1 w2 w3" to ".* w\d+", on 1r.', also[0]
    )
    assert main(["undo", str(folder)]) == 0
    assert "6 written lines came back with it." in capsys.readouterr().out
