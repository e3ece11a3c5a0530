"""Handover, stints, assembly and colophon from the command line: exit codes, the promised keys, what is recorded."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.main import main
from copydesk.job import Job

SHIPPED = Path(__file__).parents[2] / "projects" / "twelve-waters"


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The shipped book, to be written in at a desk by the window."""
    monkeypatch.setenv("COPYDESK_DESK", "window")
    return Path(shutil.copytree(SHIPPED, tmp_path / "book", ignore=shutil.ignore_patterns(".*")))


def run(*arguments: object) -> ExitCode:
    return main([str(each) for each in arguments])


def given(capsys: pytest.CaptureFixture[str], *arguments: object) -> object:
    capsys.readouterr()
    run(*arguments, "--json")
    return json.loads(capsys.readouterr().out)


def handover(capsys: pytest.CaptureFixture[str], book: Path, *more: str) -> dict[str, object]:
    data = given(capsys, "handover", book, *more)
    assert isinstance(data, dict)
    return data


def entries(book: Path) -> int:
    job = Job.open(book)
    job.close()
    return len(job.ledger)


def test_the_handover_has_the_promised_keys_and_records_nothing(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = entries(book)
    data = handover(capsys, book)
    assert data.keys() >= {
        *("page", "column", "line", "last_words", "next_words", "next_word", "exemplar", "hand", "faults_open"),
        *("lines_over", "letters_needed", "watch", "note"),
    }
    assert (data["page"], data["column"], data["line"], data["hand"]) == ("12v", 1, 23, "B")
    assert data["exemplar"] == {"leaf": "10r", "line": 11}
    assert data["faults_open"] == 2
    assert len(str(data["next_words"]).split()) == 30
    assert entries(book) == before


def test_a_stop_within_a_line_is_recorded_and_handed_over_in_one_go(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    stop = ("--to-line", 24, "--ends", "bird carry moss", "--in-line", "--hand", "B")
    assert run("record", book, "12v", "written", *stop) is ExitCode.DONE
    assert "within the line" in capsys.readouterr().out
    data = handover(capsys, book, "--to", "A", "--note", "stir the ink")
    assert (data["line"], data["in_line"], data["hand"], data["to"]) == (24, True, "B", "A")
    assert (data["goes_on"], data["note"]) == ({"page": "12v", "column": 1, "line": 24}, "stir the ink")
    assert str(data["next_words"]).startswith("until the day")
    job = Job.open(book)
    newest = list(job.ledger)[-2:]
    assert [entry.what for entry in newest] == ["at-desk", "handover"]
    assert (job.hand, newest[1].entry) == ("A", data["entry"])
    job.close()
    assert run("undo", book) is ExitCode.DONE
    job = Job.open(book)
    assert all(job.ledger.is_void(entry.entry) for entry in newest)
    job.close()


def test_a_note_is_left_for_the_next_hand(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("handover", book, "--note", "stir the ink") is ExitCode.DONE
    assert 'leaves a note for the next hand at column 1, line 24, "stir the ink"' in capsys.readouterr().out
    assert handover(capsys, book)["note"] == "stir the ink"
    assert run("handover", book) is ExitCode.DONE
    shown = capsys.readouterr().out
    for words in ("Stopped", "Go on", "Note     stir the ink", "Room", "12v 1.24  bird carry moss until the"):
        assert words in shown


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (("--to", "Z"), "there is no hand 'Z'"),
        (("--page", "99r"), "there is no page 99r"),
        (("--page", "twelve"), "'twelve' is not a page"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(
    book: Path, more: tuple[str, ...], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    before = entries(book)
    assert run("handover", book, *more) is ExitCode.REFUSED
    assert says in capsys.readouterr().err
    assert entries(book) == before


def test_stints_tell_who_wrote_what(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    data = given(capsys, "stints", book)
    assert isinstance(data, list)
    assert [(each["hand"], each["from"], each["to"]) for each in data] == [
        ("A", "1r", "12r"),
        ("B", "12v", "12v"),
        ("B", "16r", "16v"),
    ]
    assert run("stints", book) is ExitCode.DONE
    assert "A (Agnes Orrin): 1,063 lines" in capsys.readouterr().out


def test_a_book_in_work_is_not_ready_to_sew(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("assemble", book, "--json") is ExitCode.NO
    data = json.loads(capsys.readouterr().out)
    assert data["ready"] is False
    assert {"where": "2v", "what": "space weir waits"} in data["obstacles"]
    assert data["catchwords"][0] == {
        "gathering": 1,
        "catchword": "hear it.",
        "next_begins": "hear it.",
        "agrees": True,
    }
    assert run("assemble", book) is ExitCode.NO
    shown = capsys.readouterr().out
    assert "Not ready to sew" in shown
    assert "17r to 29r" in shown
    assert "Register: a b c d quaternions." in shown


def test_a_small_book_is_ready_once_all_is_done(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "small"
    folder.mkdir()
    (folder / "exemplar.txt").write_text(" ".join(f"word{number}" for number in range(60)), encoding="utf-8")
    (folder / "book.yaml").write_text(
        "title: Small\nexemplar: {text: exemplar.txt}\n"
        "page: {width: 100, height: 150, margins: {inner: 10, head: 10, outer: 20, foot: 30}}\n"
        "ruling: {lines: 20}\nhands: {A: {letters_per_line: 30}}\ngatherings: {sheets: 1}\n",
        encoding="utf-8",
    )
    assert run("assemble", folder) is ExitCode.NO
    assert run("record", folder, "1r", "written") is ExitCode.DONE
    assert run("record", folder, "1r", "checked") is ExitCode.DONE
    assert run("record", folder, "sheet:1.1", "walked") is ExitCode.DONE
    capsys.readouterr()
    assert run("assemble", folder) is ExitCode.DONE
    shown = capsys.readouterr().out
    assert shown.startswith("Ready to sew.")
    assert "Walked: 1 of 1 sheet." in shown
    assert "no flyleaves are planned" in shown


def test_a_sheet_that_is_away_is_not_walked(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("record", book, "sheet:1.1", "walked") is ExitCode.REFUSED
    assert "with the artist; bring it to the desk" in capsys.readouterr().err
    assert run("record", book, "sheet:1.4", "walked") is ExitCode.DONE
    assert "sheet 1.4 found in its place" in capsys.readouterr().out


def test_flyleaves_are_walked_and_named_where_they_are_missing(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("record", book, "flyleaf:ii", "walked") is ExitCode.DONE
    assert "flyleaf ii found in its place" in capsys.readouterr().out
    assert run("record", book, "flyleaf:ii", "walked") is ExitCode.REFUSED
    assert "found in its place already" in capsys.readouterr().err
    assert run("record", book, "flyleaf:vi", "walked") is ExitCode.REFUSED
    assert "give one of i, ii, iii, iv, v" in capsys.readouterr().err
    assert run("record", book, "flyleaf:i", "gilded") is ExitCode.REFUSED
    assert "cannot be recorded of a flyleaf; give walked" in capsys.readouterr().err
    assert run("assemble", book) is ExitCode.NO
    shown = capsys.readouterr().out
    assert "Walked: 0 of 16 sheets, 1 of 5 flyleaves." in shown
    assert "flyleaf i not yet found in place" in shown
    assert "flyleaves iii, iv and v not yet found in place" in shown
    told = given(capsys, "record", book, "flyleaf:i", "walked")
    assert isinstance(told, dict)
    assert (told["flyleaf"], told["what"]) == ("front.1", "flyleaf-walked")
    found = given(capsys, "assemble", book)
    assert isinstance(found, dict)
    assert [each["walked"] for each in found["flyleaves"]] == [True, True, False, False, False]
    log = given(capsys, "log", book)
    assert isinstance(log, list)
    assert log[-1]["flyleaf"] == "front.1"


def test_the_colophon_is_drafted_and_kept(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    data = given(capsys, "colophon", book)
    assert isinstance(data, dict)
    assert data.keys() >= {"text", "wrote", "checked", "decorated", "from", "to", "leaves", "finished", "page", "kept"}
    assert (data["from"], data["to"], data["kept"]) == ("2026-10-05", "2026-10-16", None)
    assert [work["name"] for work in data["decorated"]] == ["Ines Calloway"]
    assert run("colophon", book, "--keep", "Written by the river.") is ExitCode.DONE
    assert "Kept: Written by the river." in capsys.readouterr().out
    assert run("colophon", book, "--keep") is ExitCode.DONE
    kept = given(capsys, "colophon", book)
    assert isinstance(kept, dict)
    assert kept["kept"] == data["text"]


def test_a_colophon_is_kept_once_in_the_same_words(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for words in ((), ("Written by the river.",)):
        assert run("colophon", book, "--keep", *words) is ExitCode.DONE
        before = given(capsys, "log", book)
        assert run("colophon", book, "--keep", *words) is ExitCode.DONE
        assert "Kept already: " in capsys.readouterr().out
        assert given(capsys, "log", book) == before


@pytest.mark.parametrize("verb", ["handover", "stints", "assemble", "colophon"])
def test_no_screen_library_is_read_for_these_verbs(book: Path, verb: str) -> None:
    code = (
        "import sys; from copydesk.cli.main import main; main([sys.argv[1], sys.argv[2]]); "
        "sys.exit(any(name.split('.')[0] in ('textual', 'reportlab') for name in sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", code, verb, str(book)], capture_output=True, check=False)
    assert done.returncode == 0
