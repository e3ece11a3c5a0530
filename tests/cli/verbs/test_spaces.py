"""Spaces, sheets' places and the tally from the command line, as people and other programs use them."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.main import main
from plan_words import TWO_HANDS

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

PLAN = (
    TWO_HANDS
    + """spaces:
  - {id: frost, kind: miniature, at: {word: 130}, lines: 3, subject: "a [frozen] mill",
     materials: [gold leaf, orpiment], hours: 6}
  - {id: rose, kind: initial, at: {exemplar: 3r 4}, lines: 2, guide_letter: w, materials: minium}
workshop: {artist: Ines}
"""
)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setenv("COPYDESK_DESK", "window")
    (tmp_path / "book.yaml").write_text(PLAN, "utf-8")
    words = [f"w{number}" for number in range(700)]
    words[20:20] = ["{3r 4}"]
    (tmp_path / "exemplar.txt").write_text("# A heading\n\n" + " ".join(words), "utf-8")
    return str(tmp_path)


@pytest.fixture
def run(folder: str, capsys: pytest.CaptureFixture[str]) -> Callable[..., tuple[ExitCode, str, str]]:
    """Runs a verb on the book; gives its code, what it said, and what it said beside."""

    def run_verb(verb: str, *arguments: str) -> tuple[ExitCode, str, str]:
        code = main([verb, folder, *arguments])
        said = capsys.readouterr()
        return code, said.out, said.err

    return run_verb


@pytest.fixture
def told(run: Callable[..., tuple[ExitCode, str, str]]) -> Callable[..., Any]:
    """Runs a verb with ``--json`` and gives the document."""

    def run_verb(verb: str, *arguments: str) -> Any:
        code, out, err = run(verb, *arguments, "--json")
        assert code == ExitCode.DONE, err
        return json.loads(out)

    return run_verb


def space(told: Callable[..., Any], name: str) -> dict[str, Any]:
    return next(each for each in told("spaces") if each["space"] == name)


def test_spaces_are_listed_with_the_keys_that_are_promised(told: Callable[..., Any]) -> None:
    found = told("spaces")
    assert [each["space"] for each in found] == ["rose", "frost"]
    frost = found[1]
    assert list(frost)[:15] == [
        *("space", "kind", "page", "column", "from_line", "lines", "width", "height", "stage", "waiting"),
        *("sheet", "may_leave", "waits_for", "subject", "materials"),
    ]
    assert frost | {"from_line": 0} == frost | {
        "kind": "miniature",
        "page": "2v",
        "column": 1,
        "from_line": 0,
        "lines": 3,
        "width": 70.0,
        "height": 30.0,
        "stage": "reserved",
        "waiting": True,
        "sheet": "1.2",
        "may_leave": False,
        "waits_for": ["2r written", "2v written", "3r written", "3v written"],
        "subject": "a [frozen] mill",
        "materials": ["gold leaf", "orpiment"],
    }


def test_a_space_taken_over_from_the_exemplar_stands_where_it_is_noted(told: Callable[..., Any]) -> None:
    rose = space(told, "rose")
    assert (rose["page"], rose["column"]) == ("1r", 1)
    assert rose["from_line"] > 1


@pytest.mark.parametrize(
    ("by", "heading"), [("sheet", "Sheet 1.1:"), ("stage", "To be drawn:"), ("material", "Gold leaf:")]
)
def test_people_get_them_in_three_arrangements(run: Callable[..., Any], by: str, heading: str) -> None:
    code, out, _ = run("spaces", "--by", by)
    assert code == ExitCode.DONE
    assert heading in out
    assert "a [frozen] mill" in out
    assert "drawn 0 of 2, gilded 0 of 1, coloured 0 of 2, outlined 0 of 1" in out
    assert "Arsenic" in out
    assert "safety data sheet" in out.splitlines()[-1]


def test_stages_are_recorded_and_taken_back(run: Callable[..., Any], told: Callable[..., Any]) -> None:
    run("record", "2v", "ruled")
    for stage in ("drawn", "gilded", "coloured", "outlined"):
        code, out, _ = run("record", "space:frost", stage, "--hand", "Ines")
        assert code == ExitCode.DONE
        assert "order" not in out
        assert space(told, "frost")["stage"] == ("done" if stage == "outlined" else stage)
    assert told("spaces")[-1]["space"] == "frost"
    assert len(told("spaces", "--waiting")) == 1
    run("undo")
    assert space(told, "frost")["next"] == "outlined"


def test_a_plan_changes_while_its_page_is_unruled(run: Callable[..., Any], told: Callable[..., Any]) -> None:
    assert run("record", "space:frost", "resized", "--lines", "5")[0] == ExitCode.DONE
    assert (space(told, "frost")["lines"], space(told, "frost")["height"]) == (5, 50.0)
    moved = told("record", "space:frost", "moved", "--at", "page 5r line 3")
    assert (moved["space"], moved["what"]) == ("frost", "moved")
    assert (space(told, "frost")["page"], space(told, "frost")["from_line"]) == ("5r", 3)
    added = ["--kind", "miniature", "--at", "division 1", "--lines", "2", "--across", "all", "--subject", "an owl"]
    more = ["--materials", "azurite, shell gold", "--hours", "2.5", "--stages", "drawn,coloured", "--artist", "Zoe"]
    code, out, err = run("record", "space:owl", "added", *added, *more)
    assert (code, err) == (ExitCode.DONE, "")
    assert out == "space owl, a miniature of 2 lines across all columns, added at division 1 (an owl) by A\n"
    owl = space(told, "owl")
    assert (owl["page"], owl["across"], owl["materials"]) == ("1r", "all", ["azurite", "shell gold"])
    assert (owl["hours"], owl["stages"], owl["artist"]) == (2.5, {"drawn": False, "coloured": False}, "Zoe")
    assert run("record", "space:owl", "given-up")[0] == ExitCode.DONE
    assert [each["space"] for each in told("spaces")] == ["rose", "frost"]


def test_once_the_page_is_ruled_the_reason_is_told(run: Callable[..., Any]) -> None:
    run("record", "2v", "ruled")
    code, out, err = run("record", "space:frost", "resized", "--lines", "5")
    assert (code, out) == (ExitCode.REFUSED, "")
    assert err == (
        "copydesk: 2v is ruled, with space frost on it, and its size is fixed; a space can be changed only while its "
        "page is unruled\n"
    )


def test_an_initials_width_may_say_its_unit(run: Callable[..., Any], told: Callable[..., Any]) -> None:
    run("record", "space:n", "added", "--kind", "initial", "--at", "word 400", "--lines", "2", "--width", "1 cm")
    assert (space(told, "n")["width"], space(told, "n")["height"]) == (10.0, 20.0)


def test_the_tally_is_told_gathering_by_gathering(run: Callable[..., Any], told: Callable[..., Any]) -> None:
    found = told("spaces", "--tally")
    assert [each["gathering"] for each in found] == [1, 2, 3]
    assert found[0] == {
        "gathering": 1,
        "foot_of": "4v",
        "headings": 1,
        "small_initials": 1,
        "paragraph_marks": 0,
        "verse_letters": 0,
        "total": 2,
        "on_written_pages": 0,
    }
    _, out, _ = run("spaces", "--tally")
    assert "gathering 1 (foot of 4v): 1 heading, 1 small initial; 0 of 2 on pages written" in out
    assert out.endswith("in all: 1 heading, 1 small initial\n")


def test_where_each_sheet_is(run: Callable[..., Any], told: Callable[..., Any]) -> None:
    code, out, _ = run("record", "sheet:1.2", "artist")
    assert code == ExitCode.DONE
    assert (
        "sheet 1.2 with the artist (Ines), noted by A; it leaves early and still waits for 2r 2v 3r 3v written" in out
    )
    found = told("sheets", "--where")
    assert [each["sheet"] for each in found] == ["1.1", "1.2", "2.1", "2.2", "3.1", "3.2"]
    assert list(found[0]) == [
        *("sheet", "place", "who", "since", "pages", "may_leave", "waits_for", "spaces_waiting", "dry", "also"),
    ]
    assert (found[1]["place"], found[1]["who"], found[1]["spaces_waiting"]) == ("artist", "Ines", ["frost"])
    _, people, _ = run("sheets", "--where")
    assert "  1.2  2r 2v 3r 3v      with the artist  Ines" in people
    assert space(told, "frost")["sheet_at"] == "artist"
    code, _, err = run("record", "sheet:1.2", "artist", "--who", "Zoe")
    assert code == ExitCode.REFUSED
    assert "with the artist (Ines) since" in err


def test_the_list_can_be_printed(run: Callable[..., Any]) -> None:
    code, out, _ = run("print", "spaces", "--as", "text")
    assert code == ExitCode.DONE
    assert out.startswith("A small book: spaces to fill\n")


def test_a_book_without_spaces_says_so(folder: str, run: Callable[..., Any], told: Callable[..., Any]) -> None:
    from pathlib import Path

    plan = Path(folder) / "book.yaml"
    text = plan.read_text("utf-8")
    plan.write_text(text[: text.index("spaces:")], "utf-8")
    assert told("spaces") == []
    assert "There are no spaces." in run("spaces")[1]


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ("{exemplar: 3r 5}", "is 3r 5, and the text notes only these lines of 3r: 4; write {3r 5} in the text before"),
        ("{exemplar: 9v}", "is 9v, and the text does not note 9v; write {9v} in the text"),
        ("{exemplar: the mill}", "cannot be 'the mill'; write a leaf of the exemplar and its line, as in 12r 14"),
        ("{exemplar: 3r 4, page: 1r}", "ties it to a exemplar and a page"),
    ],
)
def test_a_place_the_text_does_not_note_is_told_with_its_place(
    folder: str, run: Callable[..., Any], given: str, says: str
) -> None:
    from pathlib import Path

    plan = Path(folder) / "book.yaml"
    plan.write_text(plan.read_text("utf-8").replace("{exemplar: 3r 4}", given), "utf-8")
    code, _, err = run("spaces")
    assert code == ExitCode.REFUSED
    assert "book.yaml:14:" in err
    assert says in err
