"""What an exemplar's own marks ask for, held against the plan: each mistake a sentence with its place."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.book.common.errors import BadPlanError
from copydesk.store.files.book_folder import BookFolder
from copydesk.store.folder.read_book import read_all

if TYPE_CHECKING:
    from pathlib import Path

PLAN = """title: A poem
exemplar: {{text: {name}}}
page: {{width: 158, height: 212, margins: {{inner: 15, head: 20, outer: 30, foot: 40}}}}
ruling: {{lines: 14}}
hands: {{A: {{letters_per_line: 26}}, B: {{letters_per_line: 20}}}}
flow: {{{flow}}}
"""


def said_of(folder: Path, text: str, flow: str = "", name: str = "e.txt") -> list[str]:
    (folder / "book.yaml").write_text(PLAN.format(name=name, flow=flow))
    (folder / name).write_text(text)
    try:
        read_all(BookFolder.at(folder))
    except BadPlanError as error:
        return [str(problem).replace(f"{folder}/", "") for problem in error.problems]
    return []


def test_an_indent_wider_than_the_line_of_the_narrowest_hand(tmp_path: Path) -> None:
    verses = "prose\n\n| a\n|" + " " * 21 + "b\n{1r 2} |" + " " * 20 + "c\n| {hanging 20} d"
    assert said_of(tmp_path, verses) == [
        "e.txt:4:1: this verse is indented by 20 letters, and a line of the book holds 20; indent it less",
        "e.txt:6:1: this verse is indented by 20 letters, and a line of the book holds 20; indent it less",
    ]


def test_an_indent_in_a_tei_file_is_told_with_the_file(tmp_path: Path) -> None:
    text = '<TEI><text><lg><l style="text-indent:30ch">a</l></lg></text></TEI>'
    assert [said.partition(": ")[0] for said in said_of(tmp_path, text, name="e.xml")] == ["e.xml"]


BACK = "{1r 3} one\n{1r 2} two {1v} three\n{1r} four"


@pytest.mark.parametrize("flow", ["copied: line for line", "copied: line and page"])
def test_places_of_the_exemplar_that_go_back(tmp_path: Path, flow: str) -> None:
    assert said_of(tmp_path, BACK, flow) == [
        "e.txt:2:1: 1r 2 comes after 1r 3 in the exemplar, so its places go back; correct the one that is wrong",
        "e.txt:3:1: 1r comes after 1v in the exemplar, so its places go back; correct the one that is wrong",
    ]


def test_they_may_where_nothing_follows_them(tmp_path: Path) -> None:
    assert said_of(tmp_path, BACK) == []


def test_flyleaves_in_roman_numerals_come_first_and_a_numeral_nobody_reads_is_passed_over(tmp_path: Path) -> None:
    assert said_of(tmp_path, "{iir} a {ivv} b {1r} c {iicr} d {1v} e", "copied: page for page") == []


@pytest.mark.parametrize(("flow", "text"), [("line for line", "{1r} a"), ("page for page", "a")])
def test_an_exemplar_that_notes_nothing_to_go_by(tmp_path: Path, flow: str, text: str) -> None:
    (said,) = said_of(tmp_path, text, f"copied: {flow}")
    assert "has nothing to go by" in said
    assert said.startswith("book.yaml:6:")
