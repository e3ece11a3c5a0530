"""Who sits at the desk, and the clock of a stint, from the command line."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from copydesk.cli.main import main
from copydesk.job import Job

SHIPPED = Path(__file__).parents[3] / "projects" / "twelve-waters"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("COPYDESK_DESK", "bench")
    return Path(shutil.copytree(SHIPPED, tmp_path / "book", ignore=shutil.ignore_patterns(".*")))


def test_a_hand_sits_down_and_is_the_hand_of_what_follows(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["record", str(folder), "desk", "at-desk", "--hand", "B"]) == 0
    assert main(["record", str(folder), "13v", "written", "--json"]) == 0
    assert '"13v"' in capsys.readouterr().out
    assert Job.open(folder, desk="bench").hand == "B"


def test_a_stint_is_started_and_stopped_with_its_minutes(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["record", str(folder), "stint", "started"]) == 0
    assert main(["record", str(folder), "stint", "paused"]) == 0
    capsys.readouterr()
    assert main(["record", str(folder), "stint", "stopped", "--minutes", "48", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["what"] == "stint-stopped"


def test_anything_else_is_refused_in_a_sentence(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["record", str(folder), "stint", "lost"]) == 2
    assert "give started, paused or stopped" in capsys.readouterr().err


def test_the_clock_is_turned_only_from_where_it_stands(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    def turn(what: str, *given: str) -> str:
        code = main(["record", str(folder), "stint", what, *given])
        said = capsys.readouterr()
        refused = [line for line in said.err.splitlines() if not line.startswith("copydesk: Caution: ")]
        assert (code == 0) == (not refused)
        return "\n".join(refused)

    assert "no stint is open at this desk" in turn("stopped")
    assert "no stint is open at this desk" in turn("paused")
    assert turn("started", "--hand", "A") == ""
    assert "the stint of A runs already" in turn("started", "--hand", "A")
    assert turn("started", "--hand", "B") == ""
    assert turn("paused") == ""
    assert "the stint of B is paused already" in turn("paused")
    assert turn("started", "--hand", "B") == ""
    assert turn("stopped") == ""
    assert "no stint is open at this desk" in turn("stopped")


def test_ink_pen_and_pounce_of_a_stint_stand_in_the_handover(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    tools = ("--ink", "oak-gall ink", "--pen", "goose quill", "--pounce", "pumice")
    assert main(["record", str(folder), "stint", "started", "--hand", "B", *tools]) == 0
    assert "dust" in capsys.readouterr().err
    assert main(["handover", str(folder), "--json"]) == 0
    row = {"hand": "B", "ink": "oak-gall ink", "pen": "goose quill", "pounce": "pumice"}
    assert row in json.loads(capsys.readouterr().out)["tools"]
    assert main(["print", str(folder), "handover", "--as", "text"]) == 0
    paper = " ".join(capsys.readouterr().out.split())
    assert "oak-gall ink, pen goose quill, pounce pumice" in paper.replace("Ink", "ink")
    assert "Pounce: ____" not in paper


def test_the_book_is_bound(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["record", str(folder), "book", "bound", "--who", "Jory Pell", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["what"] == "bound"
    assert main(["log", str(folder)]) == 0
    assert "the book sewn and bound by Jory Pell, noted by A" in capsys.readouterr().out
    assert main(["record", str(folder), "book", "bound"]) == 2
    assert "recorded as bound on" in capsys.readouterr().err
    assert main(["record", str(folder), "book", "burnt"]) == 2
    assert "give bound" in capsys.readouterr().err
    assert main(["export", str(folder), "--as", "tei"]) == 0
    assert "<p>Sewn and bound by <persName>Jory Pell</persName>, on <date when=" in capsys.readouterr().out
