"""A dated copy put back from the command line."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.main import main

if TYPE_CHECKING:
    import pytest


def test_what_stood_there_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    book = tmp_path / "mill"
    assert main(["new", str(book), "--words", "900"]) is ExitCode.DONE
    capsys.readouterr()
    assert main(["backup", str(book), "--json"]) is ExitCode.DONE
    copy = json.loads(capsys.readouterr().out)["backup"]
    assert main(["restore", copy, str(tmp_path / "again"), "--json"]) is ExitCode.DONE
    assert json.loads(capsys.readouterr().out) == {"folder": str(tmp_path / "again"), "files": 4, "kept": None}
    assert main(["restore", copy, str(book)]) is ExitCode.DONE
    told = capsys.readouterr().out.splitlines()[-1]
    kept = Path(told.removeprefix("What stood there before is kept as "))
    assert kept.parent == tmp_path
    assert (kept / "book.yaml").read_bytes() == (book / "book.yaml").read_bytes()
