"""The plan, what else it could be, and the skins, from the command line."""

from __future__ import annotations

import json
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

import pytest

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.main import main

if TYPE_CHECKING:
    from pathlib import Path

PLAN = """title: A small book
exemplar: {text: exemplar.txt}
page: {width: 100, height: 140, margins: {inner: 10, head: 10, outer: 20, foot: 30}}
ruling: {lines: 10}
script: {nib: 1}
hands: {A: {name: first, letters_per_line: 20}}
letter_widths: equal
gatherings: {sheets: 4}
flyleaves: {front: 2}
skins: {width: 420, height: 310, trim: 5, spoilage: 0.2, days: {soak: 1, lime: 8, dry: 3}}
"""


@pytest.fixture
def book(tmp_path: Path) -> str:
    return made(tmp_path)


def made(folder: Path, plan: str = PLAN) -> str:
    (folder / "book.yaml").write_text(plan, "utf-8")
    (folder / "exemplar.txt").write_text(" ".join(f"w{number}" for number in range(1500)), "utf-8")
    return str(folder)


def told(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert main(arguments) is ExitCode.DONE
    return capsys.readouterr().out


def data(capsys: pytest.CaptureFixture[str], *arguments: str) -> Any:
    return json.loads(told(capsys, *arguments, "--json"))


def refused(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert main(arguments) is ExitCode.REFUSED
    return capsys.readouterr().err


def test_plan_tells_skins_when_to_begin_and_how_to_cut(book: str, capsys: pytest.CaptureFixture[str]) -> None:
    said = told(capsys, "plan", book)
    assert "Skins     5 to order for 12 sheets and 1 of flyleaves, 4 from each, 20% allowed to spoil" in said
    assert "Begin     start today, ready on" in said
    assert "Cutting   4 sheets of 205 × 145 mm from a skin of 420 × 310 mm; 9% falls off." in said
    assert "│       1        │" in said
    assert "Caution: Lime: burns skin and can blind" in said
    assert "Advice    20 letters a line are few" in said


def test_plan_data_keeps_its_keys_and_adds_ways(book: str, capsys: pytest.CaptureFixture[str]) -> None:
    plan = data(capsys, "plan", book)
    for key in ("title", "words", "letters", "lines", "pages_needed", "pages", "leaves", "gatherings", "sheets"):
        assert key in plan
    for key in ("sheets_per_skin", "skins", "lines_left_over", "lines_without_room", "formula", "page"):
        assert key in plan
    assert plan["ways"][0]["blank_leaves"] == 0
    assert plan["skin_days"]["lead_days"] == 12
    assert plan["skin_days"]["begin"] == [date.today().isoformat()]
    assert "if_turned" not in plan
    assert "tried" not in plan


def test_plan_ways(book: str, capsys: pytest.CaptureFixture[str]) -> None:
    said = told(capsys, "plan", book, "--ways")
    assert said.startswith("Ways to gather the book\n")
    assert "1–2⁸ 3⁶" in said
    assert "^" not in said, "people read raised figures"
    assert "lines a column 11" in said
    assert "nib 1.1 mm" in said
    turned = {(each["figure"], each["would_be"]): each for each in data(capsys, "plan", book, "--ways")["if_turned"]}
    assert turned["lines", 12]["leaves_needed"] < turned["lines", 8]["leaves_needed"]
    assert any("less than the script's 10.5 mm" in words for words in turned["lines", 12]["advice"])


def test_plan_try_changes_nothing(book: str, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    before = (tmp_path / "book.yaml").read_bytes()
    tried = data(capsys, "plan", book, "--try", "lines=12", "--try", "letters=25")["tried"]
    plan = data(capsys, "plan", book)
    assert tried["leaves_needed"] < -(-plan["pages_needed"] // 2)
    assert tried["letters_per_line"] == {"A": 25.0}
    said = told(capsys, "plan", book, "--try", "lines=12")
    assert [line.split()[0] for line in said.splitlines()[1:3]] == ["as", "tried"]
    assert "Gatherings" in said
    assert (tmp_path / "book.yaml").read_bytes() == before
    assert not (tmp_path / "ledger.jsonl").exists()


def test_what_is_tried_as_planned_so_comes_to_the_same(
    book: str, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    tried = data(capsys, "plan", book, "--try", "lines=13", "--try", "sheets=3")["tried"]
    made(tmp_path, PLAN.replace("lines: 10", "lines: 13").replace("sheets: 4", "sheets: 3"))
    plan = data(capsys, "plan", book)
    for key in ("pages_needed", "leaves", "gatherings", "sheets", "skins", "sheets_per_skin"):
        assert tried[key] == plan[key], key
    assert tried["blank_lines"] == plan["lines_left_over"]


@pytest.mark.parametrize(
    ("given", "why"),
    [
        (["--try", "colour=2"], "'colour' is no figure of the plan"),
        (["--try", "inner=95"], "margins together take"),
        (["--try", "lines=ten"], "lines a column is 'ten', which is not a whole number"),
        (["--ready-by", "soon"], "--ready-by is 'soon', which is not a day"),
        (["--at-once", "-2"], "--at-once is '-2', which is not a whole number"),
    ],
)
def test_what_cannot_be_tried_is_refused(
    book: str, capsys: pytest.CaptureFixture[str], given: list[str], why: str
) -> None:
    assert why in refused(capsys, "plan", book, *given)


def test_plan_ready_by_a_day_with_a_small_bath(book: str, capsys: pytest.CaptureFixture[str]) -> None:
    said = told(capsys, "plan", book, "--ready-by", "2030-01-31", "--at-once", "4")
    assert "2 batches, on 11 January 2030 and 19 January 2030, ready on 31 January 2030" in said


def test_lengths_are_shown_in_the_books_unit(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    book = made(tmp_path, PLAN + "unit: in\n")
    for said in (told(capsys, "plan", book), told(capsys, "plan", book, "--ways")):
        assert " in" in said
        assert " mm" not in said
    assert "3.937 in" in refused(capsys, "plan", book, "--try", "inner=4 in")


def test_a_book_without_skins_has_a_plan_too(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    book = made(tmp_path, "\n".join(line for line in PLAN.splitlines() if not line.startswith("skins")) + "\n")
    assert "Skins" not in told(capsys, "plan", book)
    assert "skin_days" not in data(capsys, "plan", book)
    assert "says nothing of the skins" in told(capsys, "skins", book)


def test_skins_smaller_than_a_sheet_are_named_so_wherever_skins_are_counted(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = ("skins: {width: 90, height: 60}" if line.startswith("skins") else line for line in PLAN.splitlines())
    book = made(tmp_path, "\n".join(lines) + "\n")
    for verb in ("plan", "skins"):
        assert "one skin is smaller than a sheet" in told(capsys, verb, book)
    assert "skin_days" not in data(capsys, "plan", book)


def test_skins_from_soaking_to_sheets(book: str, capsys: pytest.CaptureFixture[str]) -> None:
    ten_days_ago = (date.today() - timedelta(days=10)).isoformat()
    assert "into the step soak" in told(capsys, "record", book, "skins:A", "next", "--skins", "3")
    told(capsys, "record", book, "skins:B", "lime", "--skins", "4", "--since", ten_days_ago)
    assert data(capsys, "record", book, "skins:A", "ready")["skins"] == "A"
    told(capsys, "record", book, "sheet:1.2", "cut", "--batch", "A", "--skin", "2")
    said = told(capsys, "skins", book)
    assert "The book needs 5 skins, spoilage and flyleaves counted in; 7 here." in said
    assert "Batch B (4 skins) should have left the lime 2 days ago" in said
    assert "From A 2: 1 sheet, 1.2." in said
    assert "Caution: Lime: burns skin and can blind" in said
    skins = data(capsys, "skins", book)
    assert [(each["batch"], each["step"], each["next"]) for each in skins["batches"]] == [
        ("B", "lime", "dry"),
        ("A", "ready", ""),
    ]
    assert skins["cut"] == [{"sheet": "1.2", "batch": "A", "skin": 2}]
    assert "Begin     nothing" in told(capsys, "plan", book)
    told(capsys, "undo", book)
    assert data(capsys, "skins", book)["cut"] == []


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        (["skins:A", "tan", "--skins", "3"], "'tan' is no step"),
        (["skins:A", "soak"], "no batch A yet"),
        (
            ["skins:A", "soak", "--skins", "3", "--since", "lately"],
            "'lately', which is not a day",
        ),
        (["skins:A", "soak", "--skins", "3", "--since", "2999-01-01"], "is still to come"),
        (["sheet:1.1", "cut"], "name it, as in --batch A --skin 4"),
        (["sheet:1.1", "cut", "--batch", "A"], "no batch A"),
    ],
)
def test_what_cannot_be_recorded_of_skins_is_refused(
    book: str, capsys: pytest.CaptureFixture[str], arguments: list[str], why: str
) -> None:
    assert why in refused(capsys, "record", book, *arguments)


def test_one_count_of_skins_everywhere_and_null_where_a_skin_gives_no_sheet(
    book: str, capsys: pytest.CaptureFixture[str]
) -> None:
    plan = data(capsys, "plan", book, "--try", "gap=9")
    assert plan["skins_with_flyleaves"] == data(capsys, "skins", book)["skins_needed"] == 5
    assert plan["tried"]["skins_with_flyleaves"] == 5
    assert {way["skins"] for way in plan["ways"] if way["sheets"] == plan["sheets"]} == {5}
    tried = data(capsys, "plan", book, "--try", "width=400")["tried"]
    assert (tried["sheets_per_skin"], tried["skins"], tried["skins_with_flyleaves"]) == (0, None, None)
    assert {way["skins"] for way in tried["ways"]} == {None}
