"""Papers of a page, of a sheet and in strips from the command line, and a page told line by line."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.main import main
from copydesk.tracking.scribes.guide_lines import GUIDE, GUIDE_LINES
from plan_words import TWO_HANDS

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setenv("COPYDESK_DESK", "window")
    monkeypatch.chdir(tmp_path)
    folder = tmp_path / "book"
    folder.mkdir()
    (folder / "book.yaml").write_text(TWO_HANDS, "utf-8")
    (folder / "exemplar.txt").write_text(" ".join(f"w{number}" for number in range(700)), "utf-8")
    return str(folder)


def test_a_page_is_told_line_by_line(book: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["pages", book, "--guide", "1r", "--json"]) is ExitCode.DONE
    given = json.loads(capsys.readouterr().out)
    assert tuple(given) == GUIDE.keys
    assert all(tuple(line) == GUIDE_LINES.keys for line in given["guide"])
    assert main(["pages", book, "--guide", "1r"]) is ExitCode.DONE
    shown = capsys.readouterr().out
    assert all(line["words"] in shown for line in given["guide"])
    assert shown.splitlines()[0].split() == ["column", "line", "exemplar", "letters", "to", "spare", "words"]


def test_a_page_that_is_written_has_no_lines_to_tell(book: str, capsys: pytest.CaptureFixture[str]) -> None:
    for act in ("ruled", "written"):
        assert main(["record", book, "1r", act]) is ExitCode.DONE
    capsys.readouterr()
    assert main(["pages", book, "--guide", "1r"]) is ExitCode.DONE
    assert capsys.readouterr().out == "1r is written; a guide shows what is still to be written.\n"


def test_the_guide_goes_into_a_file_named_for_what_it_shows(book: str, tmp_path: Path) -> None:
    for asked, name in (
        (["--page", "1v"], "book-guide-1v.pdf"),
        (["--page", "1v", "--strips"], "book-guide-1v-strips.pdf"),
        (["--sheet", "1.2"], "book-guide-1.2.pdf"),
        (["--sheet", "1.2", "--side", "inner"], "book-guide-1.2-inner.pdf"),
    ):
        assert main(["print", book, "guide", *asked]) is ExitCode.DONE
        assert (tmp_path / name).read_bytes().startswith(b"%PDF")


def test_what_cannot_be_is_refused(book: str, capsys: pytest.CaptureFixture[str]) -> None:
    for asked, says in (
        (["guide", "--sheet", "9.9"], "9"),
        (["guide", "--side", "inner"], "a side is of a sheet; name that too, as in 3.2"),
        (["guide", "--sheet", "1.1", "--page", "1r"], "name a page or a sheet, not both"),
        (["ruling", "--strips"], "the paper ruling is not made of a sheet or in strips; guide is"),
    ):
        assert main(["print", book, *asked]) is ExitCode.REFUSED
        assert says in capsys.readouterr().err
