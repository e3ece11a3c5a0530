"""Hands, stretches, remedies and the forecast from the command line: exit codes, promised keys, what is recorded."""

from __future__ import annotations

import json
import shutil
import sys
from io import BytesIO, TextIOWrapper
from pathlib import Path
from typing import Any

import pytest

from copydesk.book.structure.page import Page
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.main import main
from copydesk.job import Job

SHIPPED = Path(__file__).parents[2] / "projects" / "twelve-waters"
HAND_KEYS = {
    *("hand", "name", "letters_per_line", "low", "high", "from", "pages", "lines_per_hour", "faults_per_100_lines"),
}


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """The shipped book, to be written in."""
    return Path(shutil.copytree(SHIPPED, tmp_path / "book", ignore=shutil.ignore_patterns(".*")))


def run(*arguments: object) -> ExitCode:
    return main([str(each) for each in arguments])


def given(capsys: pytest.CaptureFixture[str]) -> Any:
    return json.loads(capsys.readouterr().out)


def words_at(book: Path, page: str, later: int = 0, count: int = 6) -> str:
    """Words of the exemplar so many after the planned beginning of a page."""
    job = Job.open(book)
    state = job.state
    assert state.exemplar is not None
    start = state.copy.word(state.budget.pages[Page.parse(page).index].start) + later
    job.close()
    return " ".join(state.exemplar.words[start : start + count])


def test_hands_have_the_promised_keys(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("hands", book, "--json") is ExitCode.DONE
    hands = given(capsys)
    assert [hand["hand"] for hand in hands] == ["A", "B"]
    for hand in hands:
        assert hand.keys() >= HAND_KEYS
        assert hand["from"] == "pages"
        assert hand["low"] < hand["letters_per_line"] < hand["high"]


def test_hands_in_words_and_at_another_size(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("hands", book) is ExitCode.DONE
    said = capsys.readouterr().out
    assert "A writes" in said
    assert "before the first page; after each of the last" in said
    assert run("hands", book, "--measure", 104, "--json") is ExitCode.DONE
    twice = given(capsys)[0]
    assert run("hands", book, "--json") is ExitCode.DONE
    assert twice["letters_per_line"] == pytest.approx(2 * given(capsys)[0]["letters_per_line"], abs=0.2)


@pytest.mark.parametrize("size", ["-3", "1e9", "nan"])
def test_a_size_that_is_none_is_refused(book: Path, size: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("hands", book, f"--nib={size}") is ExitCode.REFUSED
    assert f"--nib is {size!r}, which is not a length" in capsys.readouterr().err


def test_a_hand_is_a_guess_until_its_page_is_measured(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (book / "ledger.jsonl").unlink()
    assert run("hands", book, "--json") is ExitCode.DONE
    assert [hand["from"] for hand in given(capsys)] == ["guess", "sample"]
    assert run("record", book, "1r", "written") is ExitCode.DONE
    capsys.readouterr()
    assert run("hands", book, "--json") is ExitCode.DONE
    first = given(capsys)[0]
    assert (first["from"], first["measured_pages"], first["letters_per_line"]) == ("guess", 0, 26.0)
    assert run("record", book, "1v", "written", "--ends", words_at(book, "2r", -4, 4)) is ExitCode.DONE
    capsys.readouterr()
    assert run("hands", book, "--json") is ExitCode.DONE
    first = given(capsys)[0]
    assert (first["from"], first["measured_pages"]) == ("pages", 1)


def test_a_held_page_makes_a_stretch_in_the_pages(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("record", book, "27r", "held", "--begins", words_at(book, "27r", 40)) is ExitCode.DONE
    capsys.readouterr()
    assert run("pages", book, "--json") is ExitCode.DONE
    pages = {page["page"]: page for page in given(capsys)}
    told = pages["26v"]["stretch"]
    assert told.keys() == {"from", "to", "lines_over", "letters_needed", "verdict", "hands", "held"}
    assert told["to"] == "26v"
    assert told["lines_over"] > 0
    assert told["verdict"] in ("easy", "hard", "impossible")
    assert pages["26v"]["over"] == told["lines_over"]
    assert "stretch" not in pages["27r"]
    assert run("record", book, "27r", "released") is ExitCode.DONE
    capsys.readouterr()
    assert run("pages", book, "--json") is ExitCode.DONE
    assert "stretch" not in {page["page"]: page for page in given(capsys)}["26v"]


def test_words_skipped_and_doubled_are_counted(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (book / "ledger.jsonl").unlink()
    assert run("record", book, "1r", "written") is ExitCode.DONE
    assert run("record", book, "1v", "written", "--begins", words_at(book, "1v", 12)) is ExitCode.DONE
    assert run("record", book, "2r", "written", "--begins", words_at(book, "2r", -7)) is ExitCode.DONE
    capsys.readouterr()
    assert run("pages", book, "--json") is ExitCode.DONE
    pages = given(capsys)
    assert (pages[1]["gap_words"], pages[2]["overlap_words"]) == (12, 7)
    assert "gap_words" not in pages[0]


def test_remedies_are_told_and_one_is_done(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("record", book, "27r", "held", "--begins", words_at(book, "27r", 40)) is ExitCode.DONE
    capsys.readouterr()
    assert run("remedies", book, "26v", "--json") is ExitCode.DONE
    told = given(capsys)
    assert told["page"] == "26v"
    assert told["stretch"]["lines_over"] > 0
    first = told["remedies"][0]
    assert first.keys() == {
        *("number", "remedy", "says", "lines_over", "lines_gained", "letters_needed", "verdict", "entries"),
        *("fits", "chance_to_fit", "chance_within_a_line", "letters_for_margin", "cost", "assumes"),
    }
    before = max(told["stretch"]["lines_over"], 0)
    assert all(each["lines_over"] <= before and 0 <= each["chance_to_fit"] <= 1 for each in told["remedies"])
    assert first["lines_gained"] == told["stretch"]["lines_over"] - first["lines_over"]
    assert run("remedies", book, "26v", "--choose", 1, "--json") is ExitCode.DONE
    chosen = given(capsys)
    assert (chosen["chosen"], len(chosen["entries"])) == (1, len(first["entries"]))
    assert run("remedies", book, "26v", "--json") is ExitCode.DONE
    assert given(capsys)["stretch"]["lines_over"] == first["lines_over"]
    assert run("undo", book) is ExitCode.DONE
    capsys.readouterr()
    assert run("remedies", book, "26v", "--json") is ExitCode.DONE
    assert given(capsys) == told


def test_those_that_only_help_are_behind_a_word(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("record", book, "27r", "held", "--begins", words_at(book, "27r", 40)) is ExitCode.DONE
    capsys.readouterr()
    assert run("remedies", book, "26v", "--json") is ExitCode.DONE
    rows = given(capsys)["remedies"]
    fit = [row for row in rows if row["fits"]]
    assert 0 < len(fit) < len(rows)
    assert run("remedies", book, "26v") is ExitCode.DONE
    said = capsys.readouterr().out
    assert all(row["says"] in said for row in fit)
    assert not any(row["says"] in said for row in rows if not row["fits"])
    assert "--all shows" in said
    assert "within a line" in said
    assert run("remedies", book, "26v", "--all") is ExitCode.DONE
    said = capsys.readouterr().out
    assert all(row["says"] in said for row in rows)
    assert said.count("cost: ") == said.count("assumes: ") == len(rows)


def test_no_such_remedy(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("record", book, "27r", "held", "--begins", words_at(book, "27r", 40)) is ExitCode.DONE
    assert run("remedies", book, "26v", "--choose", 99) is ExitCode.REFUSED
    assert "there is no remedy 99; they are numbered 1 to" in capsys.readouterr().err
    assert run("remedies", book, "1r") is ExitCode.REFUSED
    assert "needs no remedy" in capsys.readouterr().err


def test_the_forecast_has_the_promised_keys(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("forecast", book, "--json") is ExitCode.DONE
    told = given(capsys)
    assert told.keys() >= {"written", "checked", "whole", "exemplar_due", "chance_by_due", "chance_text_fits"}
    for name in ("written", "checked", "whole"):
        assert told[name].keys() == {"low", "expected", "high"}
    assert told["exemplar_due"] == "2027-03-31"
    assert run("forecast", book) is ExitCode.DONE
    assert capsys.readouterr().out.splitlines()[-1].startswith("Brackets hold the 80 % range")


def test_the_plan_gives_the_chance_that_the_text_fits(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("plan", book, "--json") is ExitCode.DONE
    told = given(capsys)
    assert 0 <= told["chance_text_fits"] <= 1
    assert told["blank_lines"]["low"] <= told["blank_lines"]["expected"] <= told["blank_lines"]["high"]


def test_pace_is_drawn(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    out = TextIOWrapper(BytesIO(), encoding="utf-8")
    monkeypatch.setattr(sys, "stdout", out)
    assert run("print", book, "pace", "--as", "svg", "-o", "-") is ExitCode.DONE
    out.flush()
    assert out.buffer.getvalue().startswith(b"<?xml")


def test_a_paper_is_made_as_the_name_of_its_file_says(
    book: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("print", book, "pace", "-o", tmp_path / "pace.SVG") is ExitCode.DONE
    assert run("print", book, "sheets", "-o", tmp_path / "sheets.txt") is ExitCode.DONE
    assert run("print", book, "sheets", "-o", tmp_path / "sheets") is ExitCode.DONE
    made = [(tmp_path / name).read_bytes() for name in ("pace.SVG", "sheets.txt", "sheets")]
    assert b"<svg" in made[0]
    assert b"Gathering 1" in made[1]
    assert made[2].startswith(b"%PDF")
    capsys.readouterr()
    assert run("print", book, "pace", "-o", tmp_path / "pace.pdf") is ExitCode.REFUSED
    assert "the paper pace is not made as pdf; it is made as svg or text" in capsys.readouterr().err
