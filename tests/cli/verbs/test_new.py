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


def test_a_raw_text_is_told_of_and_mended_where_asked(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    raw = tmp_path / "raw.txt"
    raw.write_text("CHAPTER I\n\nHe went _up_.\n\nCHAPTER II\n\nAnd down.\n", "utf-8")
    assert run(tmp_path / "one", "--text", raw) is ExitCode.DONE
    said = capsys.readouterr().out
    assert 'In the text h: 2 lines that look like headings, as "CHAPTER I": make each a division (--mend h)' in said
    assert (tmp_path / "one" / "exemplar.txt").read_bytes() == raw.read_bytes()
    assert run(tmp_path / "two", "--text", raw, "--mend", "hi") is ExitCode.DONE
    assert "(done)" in capsys.readouterr().out
    assert (tmp_path / "two" / "exemplar.txt").read_text("utf-8").startswith("# CHAPTER I\n\nHe went up.")


def test_spoilage_is_never_passed_over_and_decimal_commas_are_read(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    flags = ("--words", "900", "--nib", "0,6", "--heights", "4,5; 3; 3", "--letters", "30,5")
    assert run(tmp_path / "one", *flags, "--skin", "70 cm x 50,5 cm") is ExitCode.DONE
    assert "Nobody said how many skins spoil" in capsys.readouterr().out
    book = Job.open(tmp_path / "one").book
    assert (book.script.nib, book.script.x_height, book.hands[0].letters_per_line) == (0.6, 4.5, 30.5)
    assert book.skins is not None
    assert book.skins.height == 505
    more = (
        "--skin",
        "700x500",
        "--spoilage",
        "12,5 %",
        "--due",
        "2027-03-31",
        "--lent-by",
        "the mill",
        "--artist",
        "Ines",
    )
    assert run(tmp_path / "two", *flags, *more) is ExitCode.DONE
    assert "Nobody said" not in capsys.readouterr().out
    book = Job.open(tmp_path / "two").book
    assert book.skins is not None
    assert (book.skins.spoilage, str(book.exemplar.due), book.exemplar.lent_by) == (0.125, "2027-03-31", "the mill")


def test_a_hand_is_measured_by_lines_it_wrote(tmp_path: Path) -> None:
    sample = tmp_path / "ann.txt"
    sample.write_text("the gates stood open all the\nnight and nobody went to see\nwho came there\n", "utf-8")
    assert run(tmp_path / "one", "--words", "900", "--sample", sample) is ExitCode.DONE
    job = Job.open(tmp_path / "one")
    assert job.book.hands[0].sample == "samples/a.txt"
    assert 26 < job.state.measures["A"] < 33


def test_the_questions_end_at_the_desk_on_the_new_book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from copydesk.cli import open_desk
    from copydesk.cli.verbs import new

    opened: list[tuple[Path, bool]] = []

    def open_book_at(folder: Path, *, is_new: bool) -> ExitCode:
        opened.append((folder, is_new))
        return ExitCode.DONE

    monkeypatch.setattr(new, "_sits_someone", lambda: True)
    monkeypatch.setattr(new, "_set_up", lambda folder: folder)
    monkeypatch.setattr(open_desk, "open_book_at", open_book_at)
    assert run(tmp_path / "mill") is ExitCode.DONE
    assert opened == [(tmp_path / "mill", True)]
