"""The reference of the JSON is made from the declarations, and every verb gives what is declared."""

from __future__ import annotations

import json
import shutil
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

import pytest

from copydesk.book.columns import Cell
from copydesk.cli.json_reference import REPORTS, json_reference, reports_of, verb_reference
from copydesk.cli.main import VERBS, main
from copydesk.store.folder.new_book import shipped_book

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from copydesk.book.columns import Report

CALLS: tuple[tuple[str, int, tuple[str, ...]], ...] = (
    ("plan", 0, ()),
    ("plan", 0, ("--ways", "--try", "lines=26")),
    ("forecast", 0, ()),
    ("hands", 0, ()),
    ("pages", 0, ()),
    ("sheets", 0, ()),
    ("sheets", 1, ("--where",)),
    ("spaces", 0, ()),
    ("spaces", 1, ("--tally",)),
    ("skins", 0, ()),
    ("faults", 0, ()),
    ("faults", 1, ("--tell",)),
    ("changes", 0, ()),
    ("handover", 0, ()),
    ("stints", 0, ()),
    ("assemble", 0, ()),
    ("colophon", 0, ()),
    ("ledger", 0, ()),
    ("audit", 0, ()),
    ("about", 0, ()),
)
"""A verb, which of its reports, and options."""


@pytest.fixture
def run(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Callable[..., Any]:
    folder = tmp_path / "book"
    shutil.copytree(shipped_book(), folder, ignore=shutil.ignore_patterns(".*"))

    def of(verb: str, *rest: str) -> Any:
        main([verb, str(folder), *rest, "--json"])
        return json.loads(capsys.readouterr().out)

    return of


def is_of(value: object, cell: Cell) -> bool:
    """Whether a value is what its declaration says; null is always allowed."""
    if value is None:
        return True
    if cell is Cell.NUMBER:
        return isinstance(value, int | float) and not isinstance(value, bool)
    if cell is Cell.YES_NO:
        return isinstance(value, bool)
    if cell is Cell.TEXTS:
        return isinstance(value, list) and all(isinstance(each, str) for each in value)
    if cell is Cell.ROWS:
        return isinstance(value, list)
    if cell is Cell.BY_NAME:
        return isinstance(value, dict)
    if cell is Cell.OBJECT:
        return isinstance(value, dict | list)
    if cell is Cell.DAY:
        return isinstance(value, str) and date.fromisoformat(value) is not None
    if cell is Cell.MOMENT:
        return isinstance(value, str) and datetime.fromisoformat(value) is not None
    return isinstance(value, str)


def expect(value: object, report: Report[Any], where: str) -> None:
    """The value is what the report declares: no key more, none fewer than those that are never left out."""
    assert isinstance(value, dict), where
    assert value.keys() <= set(report.keys), where
    for column in report.columns:
        place = f"{where}.{column.key}"
        if column.key not in value:
            continue
        inner = value[column.key]
        assert is_of(inner, column.cell), f"{place}: {inner!r} is no {column.cell}"
        if column.of is not None and inner is not None:
            each = inner if column.cell is Cell.ROWS else inner.values() if column.cell is Cell.BY_NAME else [inner]
            for one in each:
                expect(one, column.of, place)


@pytest.mark.parametrize(("verb", "which", "rest"), CALLS)
def test_a_verb_gives_what_is_declared(run: Callable[..., Any], verb: str, which: int, rest: tuple[str, ...]) -> None:
    report = reports_of(verb)[which]
    given = run(verb, *rest)
    assert isinstance(given, list) is report.rows
    for row in given if report.rows else [given]:
        expect(row, report, verb)
        never_left_out = {column.key for column in report.columns if not column.optional}
        if verb not in ("plan", "ledger"):
            assert never_left_out <= row.keys()


def test_every_key_given_stands_in_the_reference(run: Callable[..., Any]) -> None:
    said = "\n".join(json_reference())
    for verb, _, rest in CALLS:
        given = run(verb, *rest)
        for key in given[0] if isinstance(given, list) and given else given:
            assert f"  {key}: " in said, f"{verb}: {key}"


def test_a_key_has_one_meaning_in_a_report() -> None:
    for verb in REPORTS:
        for report in reports_of(verb):
            assert len(set(report.keys)) == len(report.keys)
            assert all(column.says and not column.says.endswith(".") for column in report.columns)


def test_every_verb_stands_in_the_reference_of_verbs() -> None:
    said = "\n".join(verb_reference())
    assert all(f"copydesk {name}: {says}" in said for name, says in VERBS.items())


def test_the_reference_is_shown(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["help", "json"]) == 0
    assert "copydesk pages --json: a list of objects." in capsys.readouterr().out
    assert main(["help", "verbs"]) == 0
    assert "copydesk record" in capsys.readouterr().out
