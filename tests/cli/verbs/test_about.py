"""What a report of a fault needs is told, for a book that does not open too, and nothing of any text."""

from __future__ import annotations

import json
import re
import shutil
import tomllib
from pathlib import Path
from typing import TYPE_CHECKING

from copydesk import __version__
from copydesk.cli.main import main
from copydesk.cli.verbs.about import LIBRARIES
from copydesk.store.folder.new_book import shipped_book

if TYPE_CHECKING:
    import pytest

ROOT = Path(__file__).parents[3]


def test_the_versions_and_the_folders_are_told(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COPYDESK_STATE", str(tmp_path))
    monkeypatch.setenv("TERM", "vt220")
    assert main(["about"]) == 0
    said = capsys.readouterr().out
    assert f"copydesk   {__version__}\n" in said
    assert "textual 8.2.8" in said
    assert "terminal   vt220" in said
    assert str(tmp_path / "mistakes.log") in said
    assert main(["--version", "--verbose"]) == 0
    assert capsys.readouterr().out == said


def test_a_book_that_does_not_open_is_counted(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    folder = Path(shutil.copytree(shipped_book(), tmp_path / "book", ignore=shutil.ignore_patterns(".*")))
    lines = (folder / "ledger.jsonl").read_bytes().splitlines(keepends=True)
    (folder / "ledger.jsonl").write_bytes(b"".join(lines[:21]) + b"no line\n")
    (folder / "book.yaml").write_text("title: [")
    assert main(["about", str(folder), "--json"]) == 0
    book = json.loads(capsys.readouterr().out)["book"]
    assert (book["ledger"], book["mirror"], book["to_send"], book["damaged"]) == (20, 0, 0, 1)
    assert main(["about", str(folder)]) == 0
    assert "ledger 20, mirror 0" in capsys.readouterr().out


def test_no_text_of_the_book_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    folder = shipped_book()
    words = set(re.findall(r"\w{7,}", (folder / "exemplar.txt").read_text("utf-8").lower()))
    assert main(["about", str(folder), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert len(words) > 100
    assert not words & set(re.findall(r"\w{7,}", json.dumps([told["book"], told["libraries"], told["system"]]).lower()))


def test_a_library_that_is_missing_is_told(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("copydesk.cli.verbs.about.LIBRARIES", ("no-such-library",))
    assert main(["about"]) == 0
    assert "no-such-library (none)" in capsys.readouterr().out


def test_every_library_that_we_ask_for_is_among_them() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    extras = project["optional-dependencies"]
    asked = [*project["dependencies"], *extras["serve"], *extras["postgres"]]
    assert {re.split(r"[\[<>=~!]", each)[0] for each in asked} <= set(LIBRARIES)
