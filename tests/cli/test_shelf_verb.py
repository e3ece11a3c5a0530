"""The books of a folder from the command line."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import TYPE_CHECKING

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.main import main

if TYPE_CHECKING:
    import pytest

SHIPPED = Path(__file__).parents[2] / "projects" / "twelve-waters"


def test_books_are_listed_with_how_far_they_have_come(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shutil.copytree(SHIPPED, tmp_path / "waters", ignore=shutil.ignore_patterns(".*"))
    (tmp_path / "broken").mkdir()
    (tmp_path / "broken" / "book.yaml").write_text("title: [", "utf-8")
    assert main(["shelf", str(tmp_path), "--json"]) is ExitCode.DONE
    broken, waters = json.loads(capsys.readouterr().out)
    assert waters.pop("title") == "The Twelve Waters"
    counts = {"pages": 57, "written": 25, "settled": 18, "faults_open": 2, "spaces_waiting": 21}
    assert waters == {"folder": "waters", **counts}
    assert list(broken) == ["folder", "refused"]
    assert main(["shelf", str(tmp_path)]) is ExitCode.DONE
    told = capsys.readouterr().out
    assert "waters  The Twelve Waters     57       25         18       2      21" in told
    assert "broken cannot be opened: " in told


def test_an_empty_shelf_says_what_to_do(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["shelf", str(tmp_path)]) is ExitCode.DONE
    assert "copydesk new makes one" in capsys.readouterr().out
    assert main(["shelf", str(tmp_path / "nowhere")]) is ExitCode.REFUSED
