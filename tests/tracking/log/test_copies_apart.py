"""Copies of one book written apart under one desk name: what cannot both be so is told in both alike."""

from __future__ import annotations

import shutil
from typing import TYPE_CHECKING

import pytest

from copydesk.cli.main import main
from copydesk.job import Job
from copydesk.store.files.environment import copy_name
from copydesk.store.folder.merge import merge
from copydesk.tracking.ledger.entry import COPY
from plan_words import TWO_HANDS

if TYPE_CHECKING:
    from pathlib import Path

PLAN = (
    TWO_HANDS
    + """spaces:
  - {id: ship, kind: initial, at: {division: 1, paragraph: 1}, lines: 2}
  - {id: mill, kind: initial, at: {page: 3r, column: 1, line: 1}, lines: 2}
"""
)


@pytest.fixture
def copies(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[Path, Path]:
    """A new book and a copy taken before its first entry; both machines call their desk the same."""
    monkeypatch.setenv("COPYDESK_DESK", "machine")
    here, there = tmp_path / "here", tmp_path / "there"
    assert main(["new", str(here), "--words", "600", "--json"]) == 0
    (here / "book.yaml").write_text(PLAN, "utf-8")
    (here / "exemplar.txt").write_text(" ".join(f"w{number}" for number in range(700)), "utf-8")
    shutil.copytree(here, there)
    return here, there


def _do(folder: Path, *lines: str) -> None:
    for line in lines:
        words = [word.replace(":", " ") if word.startswith("page:") else word for word in line.split()]
        assert main(["record", str(folder), *words, "--json"]) == 0, line


def _told(copies: tuple[Path, Path]) -> list[str]:
    here, there = copies
    merge(here, there)
    merge(there, here)
    told = []
    for folder in copies:
        job = Job.open(folder)
        told.append(list(map(str, job.contradictions)))
        job.close()
    assert told[0] == told[1]
    return told[0]


APART: dict[str, tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...], str]] = {
    "a page written in both": ((), ("1r written",), ("1r written",), "1r was recorded as written at machine (copy "),
    "a sheet taken by two": ((), ("sheet:1.1 artist",), ("sheet:1.1 checker",), "sheet 1.1 was taken by"),
    "one stage done twice": (("1r ruled",), ("space:ship drawn",), ("space:ship drawn",), "ship was drawn at"),
    "a space drawn and left empty": ((), ("space:ship left-empty",), ("space:ship drawn",), "left empty on purpose"),
    "a space of two sizes": ((), ("space:mill resized --lines 3",), ("space:mill resized --lines 4",), "another size"),
    "a space of one name twice": (
        (),
        ("space:well added --kind initial --at page:4r --lines 2",),
        ("space:well added --kind initial --at page:5r --lines 2",),
        "space well was added",
    ),
    "a leaf cancelled and replaced": ((), ("leaf:3 cancelled",), ("leaf:3 replaced",), "one leaf of skin, 1.3"),
    "writing on a leaf cancelled": ((), ("leaf:1 cancelled",), ("1r written",), "neither knowing of the other"),
    "writing on a leaf replaced": ((), ("leaf:1 replaced",), ("1r written",), "neither knowing of the other"),
    "writing on the other leaf of a sheet replaced": (
        ("1r ruled",),
        ("sheet:1.1 replaced",),
        ("4v ruled",),
        "4v was ruled",
    ),
    "a check of other writing": (
        ("1r written",),
        ("1r written --begins w0",),
        ("2r ruled", "1r checked"),
        "who did not know that",
    ),
    "words changed otherwise": (
        (),
        ("text changed --from w30 --to w33 --write one --why sense",),
        ("text changed --from w32 --to w34 --write two --why sense",),
        "words 32 to 34 of the exemplar were changed",
    ),
}
"""By what is so: what was recorded before the copies parted, in one, in the other, and what is told."""


@pytest.mark.parametrize("case", APART)
def test_what_cannot_both_be_so_is_told(copies: tuple[Path, Path], case: str) -> None:
    before, at_here, at_there, says = APART[case]
    _do(copies[0], *before)
    merge(copies[1], copies[0])
    _do(copies[0], *at_here)
    _do(copies[1], *at_there)
    told = _told(copies)
    assert len(told) == 1, told
    assert says in told[0]


AGREE = {
    "pages apart": (("1r written",), ("2r ruled",)),
    "two stages of one space": (("space:ship drawn",), ("space:ship coloured",)),
    "one space left empty by both": (("space:ship left-empty",), ("space:ship left-empty",)),
    "one leaf cancelled in both": (("leaf:3 cancelled",), ("leaf:3 cancelled",)),
    "another leaf cancelled": (("leaf:5 cancelled",), ("1r written",)),
    "one page ruled alike": (("1r ruled",), ("1r ruled",)),
}


@pytest.mark.parametrize("case", AGREE)
def test_what_agrees_is_not_told(copies: tuple[Path, Path], case: str) -> None:
    at_here, at_there = AGREE[case]
    _do(copies[0], *at_here)
    _do(copies[1], *at_there)
    assert _told(copies) == []


def test_the_same_in_one_copy_after_another_is_no_contradiction(copies: tuple[Path, Path]) -> None:
    for _, at_here, at_there, _ in (APART["a sheet taken by two"], APART["a space of two sizes"]):
        _do(copies[0], *at_here)
        merge(copies[1], copies[0])
        _do(copies[1], *at_there)
        assert _told(copies) == []


def test_what_was_taken_back_in_time_is_not_told(copies: tuple[Path, Path]) -> None:
    _do(copies[0], "leaf:1 cancelled")
    assert main(["undo", str(copies[0]), "--json"]) == 0
    _do(copies[1], "1r written")
    assert _told(copies) == []


def test_each_copy_has_a_name_of_its_own_that_stays(copies: tuple[Path, Path]) -> None:
    names = [[copy_name(folder) for folder in copies] for _ in range(2)]
    assert names[0] == names[1]
    assert len(set(names[0])) == 2
    _do(copies[0], "1r written")
    job = Job.open(copies[0])
    assert [entry.text(COPY) for entry in job.ledger] == [names[0][0]]
    job.close()


def test_the_ledger_of_a_new_book_holds_its_mark_and_nothing_more(copies: tuple[Path, Path]) -> None:
    ledgers = [(folder / "ledger.jsonl").read_bytes() for folder in copies]
    assert ledgers[0] == ledgers[1]
    assert ledgers[0].count(b"\n") == 1
    assert main(["audit", str(copies[0]), "--json"]) == 0
    _do(copies[0], "1r written")
    _do(copies[1], "2r ruled")
    assert _told(copies) == []
