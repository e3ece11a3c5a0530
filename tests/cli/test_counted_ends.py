"""A book known by its counts only, recorded from the command line."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.main import main

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

PLAN = """
title: Of frost
page: {width: 100, height: 140, margins: {inner: 10, head: 10, outer: 20, foot: 30}}
ruling: {lines: 10}
hands:
  A: {letters_per_line: 20}
divisions:
  - {title: On frost, letters: 2280}
  - {title: On thaw, letters: 1400}
gatherings: {sheets: 2, count: 3}
"""


@pytest.fixture
def verb(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Callable[..., object]:
    """Runs a verb on the book with --json; gives what was told, or the sentence it was refused with."""
    monkeypatch.setenv("COPYDESK_DESK", "window")
    (tmp_path / "book.yaml").write_text(PLAN, "utf-8")

    def run(name: str, *arguments: str) -> object:
        code = main([name, str(tmp_path), *arguments, "--json"])
        said = capsys.readouterr()
        return json.loads(said.out) if code == ExitCode.DONE else said.err

    return run


def test_an_end_given_by_its_count_moves_what_is_left(verb: Callable[..., list[dict[str, object]]]) -> None:
    before = [page["from_word"] for page in verb("pages")]
    for number, page in enumerate(("1r", "1v", "2r", "2v"), start=1):
        verb("record", page, "written", "--ends", f"division 1 word {28 * number}")
    pages = verb("pages")
    assert [page["to_word"] for page in pages[:4]] == [28, 56, 84, 112]
    after = [page["from_word"] for page in pages]
    assert pages[5]["from_word"] - pages[4]["from_word"] in (28, 29)  # type: ignore[operator]
    assert after[6] < before[6]  # type: ignore[operator]
    (hand,) = verb("hands")
    assert hand["letters_per_line"] == pytest.approx(28 * 5.7 / 10, abs=0.5)
    assert hand["from"] == "pages"


def test_the_chance_that_it_fits_falls_with_a_wider_hand(verb: Callable[..., dict[str, object]]) -> None:
    before = verb("plan")
    for number, page in enumerate(("1r", "1v", "2r", "2v"), start=1):
        verb("record", page, "written", "--ends", f"division 1 word {22 * number}")
    after = verb("plan")
    assert after["chance_text_fits"] < before["chance_text_fits"]  # type: ignore[operator]


def test_the_place_is_told(verb: Callable[..., object], tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    verb("record", "1r", "written", "--ends", "word 28")
    assert main(["log", str(tmp_path)]) == ExitCode.DONE
    assert "1r written by A, lines 1 to 10, ends at division 1 letter 160" in capsys.readouterr().out


def test_what_is_no_place_is_refused(verb: Callable[..., str]) -> None:
    assert "known by its counts only" in verb("record", "1r", "written", "--ends", "the frost")
    assert "there is no word 401" in verb("record", "1r", "written", "--ends", "division 1 word 401")
