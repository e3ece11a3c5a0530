"""Comparing, faults, changes from the command line: exit codes, the promised keys, what is recorded."""

from __future__ import annotations

import json
import shutil
import sys
from io import BytesIO, TextIOWrapper
from pathlib import Path

import pytest

from copydesk.book.structure.page import Page
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.main import main
from copydesk.job import Job
from copydesk.tracking.state.page_content import lines_of_page

SHIPPED = Path(__file__).parents[2] / "projects" / "twelve-waters"
FAULT_KEYS = {"kind", "column", "line", "word", "stands", "should"}


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """The shipped book, to be written in."""
    return Path(shutil.copytree(SHIPPED, tmp_path / "book", ignore=shutil.ignore_patterns(".*")))


@pytest.fixture
def page(book: Path) -> list[str]:
    """The lines of 11r, written and not yet checked."""
    job = Job.open(book)
    state = job.state
    lines = lines_of_page(state, Page.parse("11r").index)
    job.close()
    return [state.copy.line_text(line.start, line.end) for line in lines]


def run(*arguments: object) -> ExitCode:
    return main([str(each) for each in arguments])


def given(capsys: pytest.CaptureFixture[str]) -> object:
    return json.loads(capsys.readouterr().out)


def transcription(tmp_path: Path, lines: list[str]) -> Path:
    path = tmp_path / "page.txt"
    path.write_text("\n".join(lines), encoding="utf-8")
    return path


def test_a_clean_page_is_0_with_the_promised_keys(
    book: Path, page: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("compare", book, "11r", transcription(tmp_path, page), "--json") is ExitCode.DONE
    data = given(capsys)
    assert isinstance(data, dict)
    assert {"page", "clean", "words", "wrong_place", "faults"} <= data.keys()
    assert (data["page"], data["clean"], data["words"]) == ("11r", True, len(" ".join(page).split()))
    assert (data["wrong_place"], data["faults"]) == (None, [])


def test_a_fault_is_1_and_named_with_its_place(
    book: Path, page: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    right = page[5].split()
    page[5] = " ".join([*right[:1], "zzzz", *right[2:]])
    assert run("compare", book, "11r", transcription(tmp_path, page), "--json") is ExitCode.NO
    data = given(capsys)
    assert isinstance(data, dict)
    (fault,) = data["faults"]
    assert fault.keys() >= FAULT_KEYS
    assert (fault["kind"], fault["column"], fault["line"]) == ("substitution", 1, 6)
    assert (fault["stands"], fault["should"]) == ("zzzz", right[1])
    assert run("compare", book, "11r", transcription(tmp_path, page)) is ExitCode.NO
    assert "substitution" in capsys.readouterr().out


def test_from_standard_input_recorded_at_once_and_only_once(
    book: Path, page: list[str], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    text = "\n".join(page[:6] + page[7:])
    recorded = []
    for _ in range(2):
        monkeypatch.setattr(sys, "stdin", TextIOWrapper(BytesIO(text.encode())))
        assert run("compare", book, "11r", "-", "--record", "--checked", "--whole", "--hand", "B", "--json")
        data = given(capsys)
        assert isinstance(data, dict)
        recorded.append(data["recorded"])
    assert len(recorded[0]) >= 1
    assert recorded[1] == []
    run("faults", book, "--page", "11r", "--json")
    faults = given(capsys)
    assert isinstance(faults, list)
    assert [fault["fault"] for fault in faults] == recorded[0]
    run("pages", book, "--json")
    pages = given(capsys)
    assert isinstance(pages, list)
    (found,) = [each for each in pages if each["page"] == "11r"]
    assert (found["state"], found["checked_by"], found["faults_open"]) == ("checked", "B", len(recorded[0]))


def test_a_wrong_place_says_so_lists_nothing_and_records_nothing(
    book: Path, page: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = (book / "ledger.jsonl").read_bytes()
    assert run("compare", book, "3r", transcription(tmp_path, page), "--json") is ExitCode.NO
    data = given(capsys)
    assert isinstance(data, dict)
    assert data["faults"] == []
    assert data["wrong_place"].keys() == {"word", "exemplar", "sentence"}
    assert "belongs on 11r" in data["wrong_place"]["sentence"]
    assert run("compare", book, "3r", transcription(tmp_path, page), "--record") is ExitCode.REFUSED
    assert (book / "ledger.jsonl").read_bytes() == before


@pytest.mark.parametrize(
    ("page_name", "file", "said"),
    [
        ("900r", "page.txt", "there is no page 900r"),
        ("11", "page.txt", "is not a page"),
        ("11r", "none.txt", "there is no such file"),
    ],
)
def test_what_cannot_be_compared_is_2_and_a_sentence(
    page_name: str,
    file: str,
    said: str,
    book: Path,
    page: list[str],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    transcription(tmp_path, page)
    monkeypatch.chdir(tmp_path)
    assert run("compare", book, page_name, file) is ExitCode.REFUSED
    assert said in capsys.readouterr().err


def test_rules_on_the_command_line_allow_more(book: Path, page: list[str], tmp_path: Path) -> None:
    page[2] = page[2].replace("the", "ye")
    path = transcription(tmp_path, page)
    assert run("compare", book, "11r", path) is ExitCode.NO
    assert run("compare", book, "11r", path, "--allow", "the=ye") is ExitCode.DONE
    assert run("compare", book, "11r", path, "--allow", "handwriting") is ExitCode.REFUSED


def test_faults_are_chosen_and_told(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("faults", book, "--open", "--json") is ExitCode.DONE
    open_ones = given(capsys)
    assert isinstance(open_ones, list)
    assert open_ones
    assert {each["state"] for each in open_ones} == {"open"}
    run("faults", book, "--kind", "no such kind")
    assert capsys.readouterr().out == "no such fault is on record\n"
    run("faults", book, "--tell", "--json")
    told = given(capsys)
    assert isinstance(told, dict)
    assert {"lines_checked", "hands", "kinds", "hands_and_kinds", "day", "sitting", "rest_after"} == told.keys()
    run("faults", book, "--tell")
    assert "faults found in" in capsys.readouterr().out


def test_a_change_is_recorded_listed_and_taken_back(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    words = ("record", book, "text", "changed", "--from", "the key is in your", "--to", "hand or hanging")
    assert (
        run(*words, "--write", "the key is yours", "--why", "shorter", "--who", "the owner", "--json") is ExitCode.DONE
    )
    entry = given(capsys)
    assert isinstance(entry, dict)
    assert entry["what"] == "changed"
    run("changes", book, "--json")
    changes = given(capsys)
    assert isinstance(changes, list)
    assert [(each["entry"], each["sort"]) for each in changes] == [
        (entry["entry"], "put differently"),
        (None, "left out"),
    ]
    assert (changes[0]["page"], changes[0]["who"], changes[0]["stands"][:7]) == ("1r", "the owner", "the key")
    run("changes", book)
    assert 'written "the key is yours"' in capsys.readouterr().out
    assert run("undo", book, entry["entry"]) is ExitCode.DONE
    capsys.readouterr()
    run("changes", book, "--json")
    assert len(given(capsys)) == 1  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("text", "changed", "--why", "x"), "give --from"),
        (("text", "painted"), "cannot be recorded of the text"),
        (("11r", "changed", "--from", "no such words", "--why", "x"), "does not stand in the exemplar"),
        (("11r", "read-to", "--to-line", "99"), "cannot be read to line 99"),
    ],
)
def test_what_cannot_be_recorded_is_said(
    arguments: tuple[str, ...], said: str, book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("record", book, *arguments) is ExitCode.REFUSED
    assert said in capsys.readouterr().err


def test_a_reading_in_part_is_recorded(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("record", book, "11r", "read-to", "--to-line", "12", "--hand", "B") is ExitCode.DONE
    assert "11r read against the exemplar in part by B, line 12" in capsys.readouterr().out


def test_a_knife_and_a_checker_who_wrote_the_page_are_spoken_of(book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run("record", book, "11r", "checked", "--hand", "A")
    assert "A wrote 11r, so its check is marked as its own writer's" in capsys.readouterr().err
    run("record", book, "11v", "checked", "--hand", "B")
    assert capsys.readouterr().err == ""
    run("record", book, "9v", "settled", "--remedy", "scraped")
    assert "Caution: Blade: " in capsys.readouterr().err
    run("record", book, "10r", "settled", "--remedy", "leaf cancelled")
    assert "leaf 10 still stands in the book" in capsys.readouterr().err


def test_a_flood_of_differences_says_so_and_shows_the_first_few(
    book: Path, page: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = " ".join(page).split()
    spoilt = transcription(tmp_path, [" ".join(word if at % 3 else f"x{word}x" for at, word in enumerate(words))])
    assert run("compare", book, "11r", spoilt) is ExitCode.NO
    said = capsys.readouterr().out.splitlines()
    assert "a flood of differences" in said[0]
    assert len(said) == 15
    assert said[-1].endswith("differences more; --json lists them all")
    assert run("compare", book, "11r", spoilt, "--json") is ExitCode.NO
    data = given(capsys)
    assert isinstance(data, dict)
    assert data["flood"]
    assert len(data["faults"]) == 12 + int(said[-1].split()[1])


def test_a_gloss_of_the_exemplar_taken_into_the_copy_is_named(
    book: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = Job.open(book)
    assert job.exemplar is not None
    (gloss,) = job.exemplar.glosses
    index = next(at for at, each in enumerate(job.state.budget.pages) if each.start <= gloss.word < each.end - 20)
    lines = lines_of_page(job.state, index)
    words = " ".join(job.state.copy.line_text(line.start, line.end) for line in lines).split()
    job.close()
    at = gloss.word - job.state.copy.word(lines[0].start)
    copied = transcription(tmp_path, [" ".join([*words[:at], gloss.text, *words[at:]])])
    assert run("compare", book, Page.at(index), copied, "--json") is ExitCode.NO
    data = given(capsys)
    assert isinstance(data, dict)
    assert [(fault["cause"], fault["stands"]) for fault in data["faults"]] == [("gloss taken in", gloss.text)]
