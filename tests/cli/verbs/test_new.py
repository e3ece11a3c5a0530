"""Making a book from flags: what stands in it, what is refused, what is said where nobody gave it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.main import main
from copydesk.job import Job
from copydesk.store.folder.setup_answers import plan_of

if TYPE_CHECKING:
    from pathlib import Path


def run(*arguments: object) -> ExitCode:
    return main(["new", *map(str, arguments)])


def test_flags_make_a_plan(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    flags = ("--words", "900", "--page", "7 in x 10 in", "--script", "italic", "--heights", "5 4 4", "--nib", "0.7")
    assert run(tmp_path / "mill", *flags, "--hand", "Agnes, Bea", "--letters", ",31") is ExitCode.DONE
    assert "No text" not in capsys.readouterr().out
    book = Job.open(tmp_path / "mill").book
    assert (book.title, book.unit, book.page.height) == ("mill", "in", 254)
    assert (book.script.name, book.script.nib, book.script.ascender) == ("italic", 0.7, 4)
    assert [(hand.name, hand.letters_per_line) for hand in book.hands] == [("Agnes", None), ("Bea", 31)]


def test_an_exemplar_in_tei_is_read_before_a_book_is_made_of_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "own.xml").write_text('<!DOCTYPE x [<!ENTITY a "b">]><TEI><text><p>&a;</p></text></TEI>', "utf-8")
    assert run(tmp_path / "mill", "--text", tmp_path / "own.xml") is ExitCode.REFUSED
    assert "own.xml:1:25: declares an entity of its own, 'a'" in capsys.readouterr().err
    assert not (tmp_path / "mill").exists()
    (tmp_path / "sound.xml").write_text("<TEI><text><body><p>One two three</p></body></text></TEI>", "utf-8")
    answers = {"title": "Mill", "text": str(tmp_path / "sound.xml")}
    assert plan_of(answers)[1].split() == ["One", "two", "three"]
    assert run(tmp_path / "mill", "--text", tmp_path / "sound.xml") is ExitCode.DONE
    exemplar = Job.open(tmp_path / "mill").exemplar
    assert exemplar is not None
    assert len(exemplar.words) == 3


def test_a_length_nobody_gave_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(tmp_path / "mill") is ExitCode.DONE
    assert "No text and no count of words was given, so book.yaml says 10000 words" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("flags", "why"),
    [
        (("--demo", "--title", "x"), "--demo copies a book as it is, so --title changes nothing"),
        (("--from", "x.json", "--words", "3"), "--from makes a book again as it is, so --words changes nothing"),
        (("--heights", "4 5"), "the heights of the script are '4 5'"),
        (("--hand", "A, B", "--letters", "1, 2, 3"), "there are 2 hands and 3 figures"),
    ],
)
def test_flags_that_cannot_be_are_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], flags: tuple[str, ...], why: str
) -> None:
    assert run(tmp_path / "mill", *flags) is ExitCode.REFUSED
    assert why in capsys.readouterr().err
    assert not (tmp_path / "mill").exists()
