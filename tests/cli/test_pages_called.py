"""Pages and leaves given and told at the command line, in a book that counts them another way."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.main import main
from copydesk.job import Job

SHIPPED = Path(__file__).parents[2] / "projects" / "twelve-waters"


@pytest.fixture
def book(tmp_path: Path, request: pytest.FixtureRequest) -> Path:
    """The shipped book with its leaves counted as the test says."""
    copy = Path(shutil.copytree(SHIPPED, tmp_path / "book", ignore=shutil.ignore_patterns(".*")))
    plan = copy / "book.yaml"
    plan.write_text(f"{plan.read_text()}\nsigning: {{foliation: {request.param}}}\n")
    return copy


BOTH = pytest.mark.parametrize(
    ("book", "typed", "told"), [("roman", "xvij.r", "xvii r"), ("pages", "33", "p. 33")], indirect=["book"]
)


@BOTH
def test_a_page_is_recorded_and_told_as_the_book_counts(
    book: Path, typed: str, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["record", str(book), typed, "written"]) is ExitCode.DONE
    assert capsys.readouterr().out.startswith(f"{told} written by A")
    assert main(["log", str(book)]) is ExitCode.DONE
    assert f"  {told} written by A" in capsys.readouterr().out
    job = Job.open(book)
    assert list(job.ledger)[-1].page == "17r"
    job.close()
    assert main(["pages", str(book), "--json"]) is ExitCode.DONE
    page = json.loads(capsys.readouterr().out)[32]
    assert (page["page"], page["label"], page["written"]) == ("17r", told, page["planned"])


@BOTH
@pytest.mark.parametrize(
    "words", ["compare BOOK PAGE README", "handover BOOK --page PAGE", "print BOOK ruling --page PAGE --as svg -o -"]
)
def test_verbs_take_a_page_by_either_name(
    book: Path, typed: str, told: str, words: str, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    copied = tmp_path / "copied.txt"
    copied.write_text("nothing like it\n")
    given = {"BOOK": str(book), "README": str(copied)}
    heard = []
    for name in (typed, "17r"):
        main([given.get(word, name if word == "PAGE" else word) for word in words.split()])
        heard.append(capsys.readouterr().out)
    assert told in heard[0]
    assert heard[0] == heard[1]


@pytest.mark.parametrize(
    ("book", "words", "said"),
    [
        ("roman", "record BOOK xiv ruled", "'xiv' may be leaf xiv or the verso of leaf xi; write xiv r, xiv v or xi v"),
        ("roman", "record BOOK leaf:xxxiii wanting", "there is no leaf xxxiii in this book; it has leaves i to xxxii"),
        ("pages", "record BOOK 65 ruled", "there is no page 65 in this book; it has pages 1 to 64"),
        ("pages", "remedies BOOK xii", "'xii' is not a page; write its number, as in 24, or a leaf number and r or v"),
    ],
    indirect=["book"],
)
def test_what_is_no_page_is_refused_as_the_book_counts(
    book: Path, words: str, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([str(book) if word == "BOOK" else word for word in words.split()]) is not ExitCode.DONE
    assert said in capsys.readouterr().err
