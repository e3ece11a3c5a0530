"""The keys of the JSON stay for the programs that read them: same name, same type, same order; new ones may come.

``kept_keys.txt`` has those there were. After keys were added:

    python tests/house/test_kept_keys.py > tests/house/kept_keys.txt
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from copydesk.book.columns import Cell
from copydesk.cli.json_reference import REPORTS, reports_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.book.columns import Report

KEPT = Path(__file__).with_name("kept_keys.txt")


def keys(report: Report[Any], before: str) -> Iterator[str]:
    for column in report.columns:
        yield f"{before}.{column.key}: {column.cell.value}"
        if column.of is not None:
            yield from keys(column.of, f"{before}.{column.key}")


def all_keys() -> list[str]:
    return [
        line for verb in REPORTS for at, report in enumerate(reports_of(verb)) for line in keys(report, f"{verb} {at}")
    ]


def test_keys_once_given_stay_with_their_type_and_in_their_order() -> None:
    kept, now = KEPT.read_text("utf-8").splitlines(), all_keys()
    assert [line for line in kept if line not in now] == []
    assert [line for line in now if line in set(kept)] == kept


def test_every_column_says_in_words_what_it_is() -> None:
    for verb in REPORTS:
        for report in reports_of(verb):
            for column in report.columns:
                assert isinstance(column.cell, Cell), column
                assert " " not in column.key, column
                assert column.says != column.heading, column


if __name__ == "__main__":
    print("\n".join(all_keys()))
