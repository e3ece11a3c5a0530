"""Whether a space can have its name, its place and its room."""

from __future__ import annotations

from typing import Any

import pytest

from book_of_spaces import FROST, book, page_of, rule, space
from copydesk.book.common.errors import CopydeskError


@pytest.mark.parametrize(
    ("what", "facts", "so"),
    [
        ("resized", {"lines": 6}, "its size is fixed"),
        ("moved", {"at": "word 400"}, "it stands where it is"),
        ("given-up", {}, "record it as left-empty"),
    ],
)
def test_once_ruled_a_space_changes_no_more(what: str, facts: dict[str, Any], so: str) -> None:
    work = book()
    page = page_of(work, "frost")
    rule(work, page)
    with pytest.raises(CopydeskError, match=f"{page} is ruled, with space frost on it, and .*{so}"):
        work.commands.space("frost", what, **facts)
    assert space(work, "frost").plan == FROST


@pytest.mark.parametrize(
    ("name", "what", "facts", "says"),
    [
        ("nix", "drawn", {}, "there is no space 'nix' in this book; its spaces are rose, frost, vine"),
        ("frost", "washed", {}, "'washed' is not something that happens to a space; give one of drawn"),
        ("frost", "resized", {}, "say how many lines"),
        ("frost", "resized", {"lines": 11}, "a column has 10 lines, so frost cannot take 11"),
        ("frost", "resized", {"lines": 4}, "takes 4 lines already"),
        ("frost", "resized", {"lines": 4, "at": "3r"}, "takes no 'at'"),
        ("vine", "resized", {"lines": 2}, "a border takes no lines"),
        ("frost", "moved", {"at": "division 2"}, "there is no division 2 in the text; it has 1"),
        ("frost", "moved", {"at": "division 1 paragraph 2"}, "there is no paragraph 2 in division 1; it has 1"),
        ("frost", "moved", {"at": "word 900"}, "there is no word 900 in the text; its words are counted from 0 to 899"),
        ("frost", "moved", {"at": "exemplar 3r"}, "the text does not note 3r"),
        ("frost", "moved", {"at": "page 99r"}, "there is no page 99r"),
        ("frost", "moved", {"at": "page 5r column 2"}, "there is no column 2"),
        ("frost", "moved", {"at": "1r"}, "1r is ruled, so no room can be made on it for frost"),
        ("frost", "moved", {"at": "word 3"}, "1r is ruled, so no room can be made on it for frost"),
        ("owl", "added", {"kind": "owl", "at": "5r", "lines": 2}, "'owl' is not a kind of space"),
        (
            "owl",
            "added",
            {"kind": "border", "at": "5r", "stages": ["drawn", "glued"]},
            "'glued' is not a stage of a space",
        ),
        ("owl", "added", {"kind": "miniature", "at": "5r"}, "so owl cannot take 0"),
        ("owl", "added", {"kind": "miniature", "at": "5r line 9", "lines": 3}, "a column has 2 lines from line 9"),
        ("owl", "added", {"kind": "initial", "at": "5r", "lines": 3, "width": 71.0}, "there are 70 mm across"),
        ("an owl", "added", {"kind": "border", "at": "5r"}, "'an owl' is not a name for a space"),
        ("", "added", {"kind": "border", "at": "5r"}, "a new space needs a name"),
        ("owl", "added", {"at": "5r"}, "a new space needs its kind; give one of miniature"),
        ("owl", "added", {"kind": "border"}, 'a space needs a place; write "division 3'),
        ("owl", "added", {"kind": "border", "at": "5r", "colour": "red"}, "a space that is added takes no 'colour'"),
    ],
)
def test_what_cannot_be_is_refused_with_its_reason(name: str, what: str, facts: dict[str, Any], says: str) -> None:
    work = book()
    rule(work, "1r")
    with pytest.raises(CopydeskError, match=says):
        work.commands.space(name, what, **facts)


def test_two_spaces_cannot_have_the_same_lines_of_a_page() -> None:
    work = book()
    work.do(work.commands.space("owl", "added", kind="miniature", at="5r line 4", lines=3))
    with pytest.raises(CopydeskError, match="lines 4 to 6 of 5r are kept for space owl"):
        work.commands.space("frost", "moved", at="5r line 1")
    work.do(work.commands.space("frost", "moved", at="5r line 7"))
    assert page_of(work, "frost") == "5r"
