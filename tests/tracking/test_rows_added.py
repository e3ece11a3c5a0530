"""A stage of a space, or a place of a sheet, is one row of a table: one row more is known everywhere."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

import copydesk

if TYPE_CHECKING:
    from collections.abc import Callable

PLAN = """
title: A small book
exemplar: {text: exemplar.txt}
page: {width: 100, height: 140, margins: {inner: 10, head: 10, outer: 20, foot: 30}}
ruling: {lines: 10}
hands: {A: {name: first, letters_per_line: 20}}
letter_widths: equal
gatherings: {sheets: 2, count: 2}
spaces:
  - {id: frost, kind: miniature, at: {word: 30}, lines: 3, subject: a frozen mill}
  - {id: rose, kind: initial, at: {word: 60}, lines: 2, stages: [drawn, varnished]}
"""

ROWS = [
    (
        "book/layout/space_stages.py",
        "    OUTLINED =",
        '    VARNISHED = "varnished", "varnish", "varnished over", 5\n',
    ),
    ("tracking/ledger/entry_kinds.py", "    PRESS =", '    BINDER = "binder", "with the binder"\n'),
]

DESK = """
from copydesk.desk.wording.pile_rows import title
from copydesk.desk.wording.space_rows import rows
from copydesk.job import Job
from copydesk.tracking.decoration.space_report import arranged, space_reports
from copydesk.tracking.views.sheet_pile import pile_now
from pathlib import Path

job = Job.open(Path("book"))
state, now = job.state, job.clock()
for row in rows(arranged(state, space_reports(state, now), "stage"), "stage", state.book):
    print(row)
print(title(pile_now(state, now)))
"""


@pytest.fixture
def ask(tmp_path: Path) -> Callable[..., str]:
    """A book, and a copy of the program with the rows added; runs Python there and gives what it prints."""
    package = Path(copydesk.__file__).parent
    shutil.copytree(package, tmp_path / "copydesk", ignore=shutil.ignore_patterns("__pycache__"))
    for file, after, row in ROWS:
        path = tmp_path / "copydesk" / file
        head, found, tail = path.read_text("utf-8").partition(after)
        assert found
        line, rest = tail.split("\n", 1)
        path.write_text(f"{head}{found}{line}\n{row}{rest}", "utf-8")
    (tmp_path / "book").mkdir()
    (tmp_path / "book" / "book.yaml").write_text(PLAN, "utf-8")
    (tmp_path / "book" / "exemplar.txt").write_text("# A heading\n\n" + " ".join(f"w{n}" for n in range(200)), "utf-8")

    def run(*arguments: str) -> str:
        settings = {**os.environ, "PYTHONPATH": str(tmp_path), "COPYDESK_DESK": "window"}
        done = subprocess.run(
            [sys.executable, *arguments], cwd=tmp_path, env=settings, capture_output=True, text=True, check=False
        )
        assert done.returncode == 0, done.stderr
        return done.stdout

    return run


def test_a_row_more_is_known_everywhere(ask: Callable[..., str]) -> None:
    def verb(*arguments: str) -> str:
        return ask("-m", "copydesk", *arguments)

    before = {each["space"]: each for each in json.loads(verb("spaces", "book", "--json"))}
    assert list(before["frost"]["stages"]) == ["drawn", "gilded", "coloured", "outlined", "varnished"]
    assert list(before["rose"]["stages"]) == ["drawn", "varnished"]
    verb("record", "book", "space:rose", "drawn")
    assert "varnish" in verb("print", "book", "spaces", "--as", "text", "-o", "-")
    shown = ask("-c", DESK)
    assert "To be varnished" in shown
    verb("record", "book", "space:rose", "varnished")
    after = {each["space"]: each for each in json.loads(verb("spaces", "book", "--json"))}
    assert (after["rose"]["stage"], after["rose"]["next"]) == ("done", None)
    verb("record", "book", "sheet:1.1", "binder")
    assert "with the binder" in verb("sheets", "book", "--where")
    assert "binder 1" in ask("-c", DESK)
    log = verb("log", "book")
    assert "varnished over" in log
    assert "with the binder" in log
