"""A book of two hands whose text passes its end: each hand is asked for one and the same everywhere."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from copydesk.book.structure.page import Page
from copydesk.cli.main import main
from copydesk.job import Job
from copydesk.tracking.fit.remedies import need_for, remedies_for, remedy_lines
from copydesk.tracking.fit.stretches import Target, asked_words
from copydesk.tracking.log.entry_text import shared_sentence
from fuzzing import make_book

if TYPE_CHECKING:
    from pathlib import Path

PLAN = """title: A book of two hands
exemplar: {text: exemplar.txt}
page: {width: 100, height: 140, margins: {inner: 10, head: 10, outer: 20, foot: 30}}
ruling: {lines: 10}
letter_widths: equal
hands:
  A: {name: first, letters_per_line: 20}
  B: {name: second, letters_per_line: 16, gatherings: [2]}
gatherings: {sheets: 2, count: 2}
"""


def made(path: Path, words: int) -> Path:
    folder = make_book(path / "book", text=" ".join(f"w{number}" for number in range(words)))
    (folder / "book.yaml").write_text(PLAN)
    return folder


def told(capsys: pytest.CaptureFixture[str], *arguments: str) -> Any:
    capsys.readouterr()
    assert main([*arguments, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


@pytest.mark.parametrize("words", [600, 800])
def test_every_verb_asks_each_hand_for_the_same(tmp_path: Path, capsys: pytest.CaptureFixture[str], words: int) -> None:
    folder = str(made(tmp_path, words))
    plan = told(capsys, "plan", folder)
    assert plan["lines_without_room"] > 0
    assert plan["pages_needed"] == plan["pages"] + -(-plan["lines_without_room"] // 10)
    pages, given = told(capsys, "pages", folder), told(capsys, "handover", folder)
    found = told(capsys, "remedies", folder, "3r")["stretch"]
    assert found["hands"] == given["hands"]
    assert [each["hand"] for each in found["hands"]] == ["A", "B"]
    for page in pages:
        assert (page["stretch"]["hands"], page["stretch"]["held"]) == (found["hands"], False)
        needed = {each["hand"]: each["letters_needed"] for each in found["hands"]}
        assert page["stretch"]["letters_needed"] == needed["A" if page["gathering"] == 1 else "B"]


def test_a_remedy_that_adds_leaves_says_who_writes_them_and_one_beyond_a_hand_gives_no_chance(tmp_path: Path) -> None:
    job = Job.open(made(tmp_path, 800))
    found = remedies_for(job.state, need_for(job.state, Page.parse("3r")))
    assumed = {each.name: each.assumes for each in found if each.name in ("a leaf more", "a gathering more")}
    assert assumed["a gathering more"].endswith("; hand A writes there")
    beyond = [each for each in found if each.verdict == "impossible" and each.over <= 0]
    assert beyond
    for each in beyond:
        assert each.landing.fits == 0
        assert remedy_lines(each)[0] == "more than a hand can do"
    job.close()


def test_the_reply_to_a_remedy_of_two_hands_tells_of_both(tmp_path: Path) -> None:
    job = Job.open(made(tmp_path, 600))
    closer = next(
        each for each in remedies_for(job.state, need_for(job.state, Page.parse("1r"))) if each.name == "closer"
    )
    entries = job.record_all(closer.acts)
    assert len(entries) == 2
    said = shared_sentence(entries[-1], job.state)
    assert "1r to 4v" in said
    assert "5r to 8v" in said
    job.close()


def test_a_hand_that_need_not_change_is_asked_to_write_as_usual(tmp_path: Path) -> None:
    job = Job.open(made(tmp_path, 600))
    need = need_for(job.state, Page.parse("1r"))
    asked = (Target("A", 40, 4, 20.0, 20.0, 21.5, "hard"), Target("B", 40, 4, 25.7, 25.7, 25.68, "easy"))
    assert asked_words(need._replace(targets=asked)) == "A 21.5 letters a line instead of 20.0, B as usual, 25.7"
    job.close()
