"""Sheets, leaves and papers from the command line, on a book folder as people write it."""

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
title: A small book
exemplar: {text: exemplar.txt}
page: {width: 100, height: 140, margins: {inner: 10, head: 10, outer: 20, foot: 30}}
ruling: {lines: 10}
hands: {A: {name: first, letters_per_line: 20}}
letter_widths: equal
"""


@pytest.fixture
def book(tmp_path: Path) -> Callable[[str], str]:
    """Makes a book folder with this said of its gatherings."""

    def make(said: str = "gatherings: {sheets: 2, count: 3}") -> str:
        folder = tmp_path / "book"
        folder.mkdir()
        (folder / "book.yaml").write_text(PLAN + said, "utf-8")
        (folder / "exemplar.txt").write_text(" ".join(f"w{number}" for number in range(700)), "utf-8")
        return str(folder)

    return make


def told(capsys: pytest.CaptureFixture[str], *arguments: str) -> object:
    assert main([*arguments, "--json"]) is ExitCode.DONE
    return json.loads(capsys.readouterr().out)


def test_both_habits_and_single_leaves_come_from_the_plan(
    book: Callable[[str], str], capsys: pytest.CaptureFixture[str]
) -> None:
    folder = book(
        "gatherings: {sheets: 2, count: 3, habit: same}\n"
        "leaves:\n  - {leaf: 6, what: singleton, surface: flesh}\n  - {leaf: 12, what: wanting}\n"
        "  - {leaf: 9, what: added after, surface: hair}\n"
    )
    found = told(capsys, "sheets", folder)
    assert isinstance(found, dict)
    second = found["gatherings"][1]["sheets"]
    single = next(sheet for sheet in second if "6r" in sheet["outer"].values())
    assert single["outer"] == {"left": None, "right": "6r", "surface": "flesh"}
    added = next(sheet for sheet in found["gatherings"][2]["sheets"] if "10r" in sheet["outer"].values())
    assert added["outer"]["surface"] == "hair"
    assert found["gatherings"][2]["sheets"][0]["outer"] == {"left": None, "right": "9r", "surface": "hair"}
    assert "1v|2r" in found["unlike_openings"]
    assert "5v|6r" not in found["unlike_openings"]
    assert main(["sheets", folder]) is ExitCode.DONE
    assert "At 1v|2r hair faces flesh" in capsys.readouterr().out


def test_leaves_sheets_and_gatherings_change_and_change_back(
    book: Callable[[str], str], capsys: pytest.CaptureFixture[str]
) -> None:
    folder = book("gatherings: {sheets: 2, count: 3}")
    before = told(capsys, "sheets", folder)
    entries = [
        told(capsys, "record", folder, *words)
        for words in (
            ("leaf:2", "cancelled", "--note", "ink spilt"),
            ("leaf:5", "replaced"),
            ("leaf:8", "added-after", "--tipped", "--recto", "flesh"),
            ("sheet:3.1", "replaced"),
            ("sheet:3.2", "added-inside", "--outward", "flesh"),
            ("gathering:1", "added-round"),
            ("gathering:3", "added-gathering", "--leaves", "3"),
            ("leaf:1", "flaw", "--from-head", "2 cm", "--from-fold", "10", "--width", "1/2 in", "--height", "9"),
        )
    ]
    whats = [entry["what"] for entry in entries if isinstance(entry, dict)]
    assert whats == [
        *("cancelled", "replaced", "added-after", "replaced"),
        *("added-inside", "added-inside", "added-gathering", "flaw"),
    ]
    assert isinstance(entries[3], dict)
    assert (entries[3]["leaf"], entries[3]["sheet"]) == ("3.1", "3.1")
    log = told(capsys, "log", folder)
    assert isinstance(log, list)
    assert (log[0]["leaf"], log[0]["number"], log[0]["note"]) == ("1.2", 2, "ink spilt")
    assert log[-1]["width"] == pytest.approx(12.7)
    assert told(capsys, "sheets", folder) != before
    for _ in entries:
        main(["undo", folder])
    capsys.readouterr()
    assert told(capsys, "sheets", folder) == before


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("leaf:99", "cancelled"), "no leaf 99"),
        (("leaf:x", "cancelled"), "'x' is not a leaf"),
        (("leaf:2", "eaten"), "'eaten' cannot be recorded of a leaf"),
        (("leaf:2", "flaw", "--width", "wide"), "--width is 'wide', which is not a length"),
        (("sheet:3.9", "replaced"), "no sheet 9 in gathering 3"),
        (("gathering:2", "added-gathering"), "only after the last one; that is gathering 3"),
        (("gathering:2", "burnt"), "'burnt' cannot be recorded of a gathering"),
    ],
)
def test_what_cannot_befall_is_refused_and_nothing_changes(
    book: Callable[[str], str], capsys: pytest.CaptureFixture[str], words: tuple[str, ...], says: str
) -> None:
    folder = book("gatherings: {sheets: 2, count: 3}")
    assert main(["record", folder, *words]) is ExitCode.REFUSED
    assert says in capsys.readouterr().err
    assert told(capsys, "log", folder) == []


def test_papers_are_written_once_and_over_another_only_by_force(
    book: Callable[[str], str],
    capsys: pytest.CaptureFixture[str],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    folder = book("gatherings: {sheets: 2, count: 3}")
    monkeypatch.chdir(tmp_path)
    assert main(["print", folder, "sheets"]) is ExitCode.DONE
    assert capsys.readouterr().out.startswith("book-sheets.pdf: ")
    assert (tmp_path / "book-sheets.pdf").read_bytes().startswith(b"%PDF")
    assert main(["print", folder, "sheets"]) is ExitCode.REFUSED
    assert "has this name already" in capsys.readouterr().err
    assert main(["print", folder, "sheets", "--force"]) is ExitCode.DONE
    assert main(["print", folder, "ruling", "--page", "2v", "--as", "svg", "-o", "two.svg"]) is ExitCode.DONE
    assert "2v" in (tmp_path / "two.svg").read_text("utf-8")
    capsys.readouterr()
    assert main(["print", folder, "sheets", "--as", "text"]) is ExitCode.DONE
    assert capsys.readouterr().out.startswith("A small book: sheet map, ")


def test_a_paper_goes_to_standard_output_where_it_is_asked_for(
    book: Callable[[str], str], capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    folder = book("gatherings: {sheets: 2, count: 3}")
    assert main(["print", folder, "ruling", "-o", "-"]) is ExitCode.DONE
    assert capfdbinary.readouterr().out.startswith(b"%PDF")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("poem",), "no paper is called 'poem'"),
        (("sheets", "--page", "1r"), "is of the whole book"),
        (("sheets", "-o", "map.doc"), "map.doc: papers are made as .pdf, .svg, .txt; name the file so, or say --as"),
        (("ruling", "--paper", "vellum"), "no paper is called 'vellum'; choose A4 or Letter"),
        (("cutting",), "says nothing of skins"),
    ],
)
def test_papers_that_cannot_be_are_refused(
    book: Callable[[str], str], capsys: pytest.CaptureFixture[str], words: tuple[str, ...], says: str
) -> None:
    assert main(["print", book("gatherings: {sheets: 2, count: 3}"), *words]) is ExitCode.REFUSED
    assert says in capsys.readouterr().err
