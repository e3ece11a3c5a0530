"""Recording from the command line, taking back and reading the ledger, word for word as other programs use it."""

from __future__ import annotations

import json
import os
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.main import main
from copydesk.job import Job
from copydesk.tracking.ledger.entry import Act
from plan_words import TWO_HANDS

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

PLAN = (
    TWO_HANDS
    + """spaces:
  - {id: frost, kind: miniature, at: {word: 60}, lines: 3, subject: a frozen mill}
workshop: {artist: Ines}
"""
)


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setenv("COPYDESK_DESK", "window")
    (tmp_path / "book.yaml").write_text(PLAN, "utf-8")
    (tmp_path / "exemplar.txt").write_text(" ".join(f"w{number}" for number in range(700)), "utf-8")
    return str(tmp_path)


@pytest.fixture
def run(book: str, capsys: pytest.CaptureFixture[str]) -> Callable[..., str]:
    """Runs a verb on the book and gives what it said; it must have been done."""

    def run_verb(verb: str, *arguments: str) -> str:
        code = main([verb, book, *arguments])
        said = capsys.readouterr()
        assert code == ExitCode.DONE, said.err
        return said.out

    return run_verb


@pytest.fixture
def refused(book: str, capsys: pytest.CaptureFixture[str]) -> Callable[..., str]:
    """Runs a verb on the book and gives the sentence it was refused with; nothing may have been recorded."""

    def run_verb(verb: str, *arguments: str) -> str:
        ledger = Path(book) / "ledger.jsonl"
        before = ledger.read_bytes() if ledger.exists() else None
        code = main([verb, book, *arguments])
        said = capsys.readouterr()
        assert (code, said.out) == (ExitCode.REFUSED, "")
        assert said.err.startswith("copydesk: ")
        assert said.err.count("\n") == 1
        assert "Traceback" not in said.err
        assert (ledger.read_bytes() if ledger.exists() else None) == before
        return said.err

    return run_verb


def page(run: Callable[..., str], label: str) -> dict[str, object]:
    found: dict[str, object] = next(each for each in json.loads(run("pages", "--json")) if each["page"] == label)
    return found


def test_a_record_is_told_in_a_sentence(run: Callable[..., str]) -> None:
    assert run("record", "1r", "ruled").strip() == "1r ruled by A"
    said = run("record", "1r", "written", "--hand", "B", "--to-line", "4", "--minutes", "0h20", "--note", "a dry day")
    assert said.strip() == '1r written by B, lines 1 to 4, ends "w20 w21 w22", 20 minutes, note "a dry day"'


@pytest.mark.parametrize(
    ("where", "what", "about"),
    [
        ("1r", "ruled", {"page": "1r"}),
        ("f. 2v", "begun", {"page": "2v"}),
        ("sheet:2.1", "artist", {"sheet": "2.1"}),
        ("space:frost", "drawn", {"space": "frost"}),
        ("leaf:5", "cancelled", {"leaf": "2.1"}),
    ],
)
def test_a_record_as_json(run: Callable[..., str], where: str, what: str, about: dict[str, str]) -> None:
    data = json.loads(run("record", where, what, "--json"))
    assert {key: data[key] for key in ("what", *about)} == {"what": what, **about}
    (entry,) = json.loads(run("log", "--json"))
    assert entry["entry"] == data["entry"]


def test_a_page_written_without_words_is_as_planned(run: Callable[..., str]) -> None:
    planned = page(run, "1v")
    run("record", "1v", "written")
    now = page(run, "1v")
    assert (now["from_word"], now["to_word"]) == (planned["from_word"], planned["to_word"])
    assert (now["state"], now["written"], now["hands"]) == (
        "written",
        planned["planned"],
        [{"hand": "A", "from_line": 1, "to_line": planned["planned"]}],
    )


def test_first_and_last_words_are_those_given(run: Callable[..., str]) -> None:
    run("record", "1r", "written", "--ends", "w48 w49")
    assert (page(run, "1r")["to_word"], page(run, "1v")["from_word"]) == (50, 50)
    run("record", "1v", "written", "--begins", "w47 w48")
    assert page(run, "1v")["overlap_words"] == 3
    run("record", "1v", "written", "--begins", "w53 w54", "--ends", "w99")
    after = page(run, "1v")
    assert (after["gap_words"], after["from_word"], after["to_word"]) == (3, 53, 100)


def test_text_skipped_or_written_twice_is_told_at_once(
    book: str, run: Callable[..., str], capsys: pytest.CaptureFixture[str]
) -> None:
    run("record", "1r", "written", "--ends", "w48 w49")
    main(["record", book, "1v", "written", "--begins", "w53 w54", "--ends", "w99", "--json"])
    said = capsys.readouterr()
    assert said.err == 'copydesk: 3 words skipped between 1r and 1v: "w50 w51 w52".\n'
    assert set(json.loads(said.out)) == {"entry", "page", "what", "also"}
    main(["record", book, "2r", "written", "--begins", "w98 w99"])
    assert '2 words stand on 1v and again on 2r: "w98 w99"' in capsys.readouterr().err
    assert run("pages").splitlines()[-2:] == [
        '3 words skipped between 1r and 1v: "w50 w51 w52".',
        '2 words stand on 1v and again on 2r: "w98 w99".',
    ]


def test_what_lies_beside_a_page_whose_conjugate_is_gone(run: Callable[..., str]) -> None:
    run("record", "leaf:1", "cancelled")
    run("record", "leaf:2", "wanting")
    beside = {row.split()[0]: row.split()[9] for row in run("pages").splitlines()[1:]}
    assert [beside[page] for page in ("1r", "2r", "3r")] == ["nothing", "stub", "6v"]


def test_a_kind_of_fault_is_known_however_it_is_written_and_may_be_in_own_words(run: Callable[..., str]) -> None:
    run("record", "1r", "written")
    for kind in ("Eye_Skip", "eye skip", "a blot"):
        run("record", "1r", "fault", "--kind", kind, "--line", "3")
    assert [each["kind"] for each in json.loads(run("faults", "--json"))] == ["eye-skip", "eye-skip", "a blot"]


def test_a_kind_of_fault_that_looks_misspelt_is_asked_for_again(
    run: Callable[..., str], refused: Callable[..., str]
) -> None:
    run("record", "1r", "written")
    assert "'omision' is not a kind of fault; did you mean omission?" in refused(
        "record", "1r", "fault", "--kind", "omision"
    )


def test_a_page_written_by_two_hands(run: Callable[..., str]) -> None:
    run("record", "1r", "written", "--to-line", "4")
    run("record", "1r", "written", "--hand", "B", "--ends", "w50")
    assert page(run, "1r")["hands"] == [
        {"hand": "A", "from_line": 1, "to_line": 4},
        {"hand": "B", "from_line": 5, "to_line": 10},
    ]


def test_faults_and_their_mending(run: Callable[..., str]) -> None:
    run("record", "1r", "written")
    fault = json.loads(
        run("record", "1r", "fault", "--kind", "omission", "--column", "1", "--line", "7", "--should", "w33", "--json")
    )
    run("record", "1r", "checked", "--hand", "B")
    assert (page(run, "1r")["state"], page(run, "1r")["faults_open"]) == ("checked", 1)
    run("record", "1r", "settled", "--fault", fault["entry"], "--remedy", "interlined")
    after = page(run, "1r")
    assert (after["state"], after["faults_open"], after["checked_by"]) == ("corrected", 0, "B")


def test_a_held_page_and_one_let_go(run: Callable[..., str]) -> None:
    run("record", "3r", "held", "--begins", "w190 w191", "--note", "a picture faces it")
    assert page(run, "3r")["from_word"] == 190
    run("record", "3r", "released")
    assert page(run, "3r")["from_word"] != 190


def test_the_log_lists_entries_oldest_first_with_what_they_are_about(run: Callable[..., str], book: str) -> None:
    run("record", "1r", "ruled")
    run("record", "sheet:1.2", "drying", "--who", "Bea")
    run("record", "space:frost", "drawn")
    entries = json.loads(run("log", "--json"))
    assert [entry["what"] for entry in entries] == ["ruled", "drying", "drawn"]
    about = [entry.get("page") or entry.get("sheet") or entry.get("space") for entry in entries]
    assert about == ["1r", "1.2", "frost"]
    for entry in entries:
        assert {"entry", "at", "hand", "desk", "what", "void"} <= set(entry)
        assert (entry["desk"], entry["void"]) == ("window", False)
    told = run("log").splitlines()
    assert len(told) == 3
    assert entries[0]["entry"] not in told[0]
    assert entries[0]["entry"] in run("log", "--ids").splitlines()[0]


def test_undo_takes_back_the_newest_or_the_one_named(run: Callable[..., str]) -> None:
    first = json.loads(run("record", "1r", "ruled", "--json"))["entry"]
    second = json.loads(run("record", "1r", "written", "--json"))["entry"]
    data = json.loads(run("undo", "--json"))
    assert {key: data[key] for key in ("entry", "page", "what", "void")} == {
        "entry": second,
        "page": "1r",
        "what": "written",
        "void": True,
    }
    assert page(run, "1r")["state"] == "ruled"
    assert run("undo", "--redo").startswith("Stands again: 1r written by A")
    assert page(run, "1r")["state"] == "written"
    run("undo", first)
    void = {entry["entry"]: entry["void"] for entry in json.loads(run("log", "--json"))}
    assert (void[first], void[second]) == (True, False)
    assert "(taken back)" in run("log").splitlines()[0]


def test_undo_with_nothing_to_take_back(refused: Callable[..., str], run: Callable[..., str]) -> None:
    assert "there is nothing to take back" in refused("undo")
    assert "there is no entry 'nobody'; see copydesk log" in refused("undo", "nobody")
    assert "nothing was taken back just now" in refused("undo", "--redo")
    first = json.loads(run("record", "1r", "ruled", "--json"))["entry"]
    run("undo")
    assert f"entry {first} was taken back already" in refused("undo", first)


REFUSED = [
    (("99r", "written"), "there is no page 99r in this book; it has leaves 1 to 12"),
    (("12", "written"), "'12' is not a page; write a leaf number and r or v"),
    (("1r", "sung"), "'sung' cannot be recorded of a page; give ruled, begun, written"),
    (("1r", "written", "--hand", "Z"), "there is no hand 'Z' in this book; its hands are A, B"),
    (("1r", "written", "--to-line", "11"), "cannot be written to line 11; give a line among them"),
    (("1r", "written", "--to-line", "-1"), "--to-line is '-1', which is not a whole number"),
    (("1r", "written", "--ends", "no such words"), '"no such words" does not stand in the exemplar'),
    (
        ("1r", "written", "--minutes", "nan"),
        "--minutes is 'nan', which is not a time; write minutes, as in 90",
    ),
    (("12v", "written"), "the plan has no text for 12v"),
    (("1r", "checked"), "not written whole; write it before it is checked"),
    (("1r", "fault", "--kind", "omission"), "nothing is written on 1r"),
    (("1r", "settled"), "1r has no open fault"),
    (("1r", "ruled", "--ends", "w4"), "--ends says nothing of a page ruled; leave it out"),
    (("1r", "checked", "--to-line", "4"), "--to-line says nothing of a page checked"),
    (("1r", "written", "--remedy", "scraped"), "--remedy says nothing of a page written"),
    (("1r", "begun", "--kind", "x"), "--kind says nothing of a page begun"),
    (("sheet:9.1", "artist"), "gathering 9"),
    (("sheet:1.9", "artist"), "sheet 9"),
    (("sheet:x", "artist"), "sheet"),
    (("sheet:1.1", "moon"), "moon"),
    (("space:nothing", "drawn"), "there is no space 'nothing'"),
    (("space:frost", "sung"), "'sung' is not something that happens to a space"),
    (("leaf:99", "cancelled"), "there is no leaf 99 in this book"),
    (("leaf:x", "cancelled"), "leaf"),
    (("leaf:1", "sung"), "sung"),
    (("moon:1", "ruled"), "'moon:1' is not a place"),
    (
        ("1r", "written", "--to-line", "four"),
        "--to-line is 'four', which is not a whole number; write one",
    ),
    (("1r", "written", "--minutes", "²"), "--minutes is '²', which is not a time"),
    (("1r", "written", "--to-lin", "4"), "unrecognized arguments: --to-lin 4"),
    (("1r",), "the following arguments are required: WHAT"),
    (("1r", "written", "--note", "\x1b[31m", "\x1b[2J"), "unrecognized arguments: ▫[2J"),
]


@pytest.mark.parametrize(("arguments", "says"), REFUSED, ids=[" ".join(arguments) for arguments, _ in REFUSED])
def test_what_cannot_be_recorded_is_refused_in_a_sentence(
    refused: Callable[..., str], arguments: tuple[str, ...], says: str
) -> None:
    assert says in refused("record", *arguments)


def test_a_note_may_hold_anything_but_half_a_letter(run: Callable[..., str], refused: Callable[..., str]) -> None:
    note = "[red]\x1b[31m שלום 漢 \u202e\x07"
    run("record", "1r", "ruled", "--note", note)
    (entry,) = json.loads(run("log", "--json"))
    assert entry["note"] == note
    assert "\x1b" not in run("log")
    assert "half a character" in refused("record", "1v", "ruled", "--note", os.fsdecode(b"\xff"))


def test_the_artist_may_record_too(run: Callable[..., str]) -> None:
    run("record", "space:frost", "drawn", "--hand", "Ines")
    (entry,) = json.loads(run("log", "--json"))
    assert entry["hand"] == "Ines"


def test_an_entry_is_on_disk_when_the_command_returns(run: Callable[..., str], book: str) -> None:
    name = json.loads(run("record", "1r", "ruled", "--json"))["entry"]
    assert name in (Path(book) / "ledger.jsonl").read_text("utf-8")
    job = Job.open(Path(book))
    assert job.ledger.find(name) is not None
    job.close()


def test_a_command_knows_the_hand_that_sat_down_at_its_desk(run: Callable[..., str], book: str) -> None:
    job = Job.open(Path(book))
    job.record(Act("at-desk", job.store.desk, "", {}), hand="B")
    job.close()
    assert run("record", "1r", "ruled").strip() == "1r ruled by B"


def test_a_fault_keeps_its_number_whatever_is_mended_or_taken_back(
    run: Callable[..., str], refused: Callable[..., str]
) -> None:
    run("record", "1r", "written")
    run("record", "1v", "written")
    noted = run("record", "1r", "fault", "--kind", "letter", "--line", "5")
    assert "number 1" in noted
    run("record", "1v", "fault", "--kind", "omission")
    run("record", "1r", "fault", "--kind", "omission", "--line", "2")
    assert [(each["number"], each["page"]) for each in json.loads(run("faults", "--json"))] == [
        (3, "1r"),
        (1, "1r"),
        (2, "1v"),
    ]
    assert "1r has 2 such faults open: fault 1, letter" in refused("record", "1r", "settled")
    said = refused("record", "1r", "settled", "--fault", "2")
    assert "fault 2 is not on 1r but on 1v; name that page" in said
    assert "fault 1 is not on 2r but on 1r; name that page" in refused("record", "2r", "settled", "--fault", "1")
    assert "2r has no open fault" in refused("record", "2r", "settled", "--fault", "9")
    assert run("record", "1r", "settled", "--fault", "1").startswith("1r line 5, letter: mended by A")
    assert "fault 1 on 1r is mended already" in refused("record", "1r", "settled", "--fault", "1")
    assert "fault 1 is not on 1v but on 1r, and mended" in refused("record", "1v", "settled", "--fault", "1")
    settled = run("record", "1r", "settled", "--fault", "3", "--remedy", "scraped")
    assert settled.startswith("1r line 2, omission: mended by A, fault 3, scraped")
    run("record", "1v", "fault", "--kind", "addition")
    run("undo")
    assert "number 5" in run("record", "1v", "fault", "--kind", "addition")
    numbers = {each["number"]: each["kind"] for each in json.loads(run("faults", "--json"))}
    assert numbers == {1: "letter", 2: "omission", 3: "omission", 5: "addition"}


def test_the_log_names_what_was_taken_back_and_gives_ids_only_where_asked(run: Callable[..., str]) -> None:
    name = json.loads(run("record", "1r", "ruled", "--json"))["entry"]
    run("undo")
    run("undo", "--redo")
    _, taken, again = run("log").splitlines()
    assert taken.endswith("taken back by A: 1r ruled by A  (taken back)")
    assert again.endswith("standing again by A: 1r ruled by A")
    assert name not in run("log")
    assert name in run("log", "--ids").splitlines()[0]


CAUTIONED = [
    (("skins:A", "lime", "--skins", "6"), "Caution: Lime: burns skin and can blind"),
    (("leaf:3", "cancelled"), "Caution: Blade: "),
    (("space:frost", "coloured"), "Caution: vermilion: Mercury: "),
    (("sheet:2.1", "cut", "--batch", "A"), "Caution: Blade: "),
    (("1v", "ruled"), "Caution: Points: "),
    (("book", "bound", "--who", "Tam"), "Caution: Press: "),
]


@pytest.fixture
def painted(book: str) -> str:
    plan = Path(book) / "book.yaml"
    text = plan.read_text("utf-8").replace("subject: a frozen mill", "subject: a mill, materials: [vermilion]")
    plan.write_text(f"{text}skins: {{width: 420, height: 310}}\n", "utf-8")
    return book


@pytest.mark.parametrize(("arguments", "caution"), CAUTIONED)
def test_work_that_can_hurt_is_cautioned_of_once_a_day(
    arguments: tuple[str, ...], caution: str, painted: str, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["record", painted, "skins:A", "ready", "--skins", "6"])
    capsys.readouterr()
    assert main(["record", painted, *arguments]) is ExitCode.DONE
    said = capsys.readouterr().err
    assert caution in said
    assert all("Caution: " in line for line in said.splitlines() if "safety data" in line)
    main(["undo", painted])
    capsys.readouterr()
    main(["record", painted, *arguments])
    assert "Caution" not in capsys.readouterr().err


@pytest.mark.parametrize(("arguments", "caution"), CAUTIONED)
def test_the_json_has_the_cautions_where_there_are_any(
    arguments: tuple[str, ...], caution: str, painted: str, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["record", painted, "skins:A", "ready", "--skins", "6"])
    capsys.readouterr()
    main(["record", painted, *arguments, "--json"])
    given = capsys.readouterr()
    assert any(caution in words for words in json.loads(given.out)["cautions"])
    assert "Caution" not in given.err
    main(["record", painted, "1r", "written", "--json"])
    assert "cautions" not in json.loads(capsys.readouterr().out)


def test_another_day_and_another_desk_are_cautioned_anew(
    painted: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    main(["record", painted, "leaf:3", "cancelled"])
    monkeypatch.setenv("COPYDESK_DESK", "door")
    capsys.readouterr()
    main(["record", painted, "leaf:4", "cancelled"])
    assert "Caution: Blade: " in capsys.readouterr().err
    main(["record", painted, "leaf:5", "cancelled"])
    assert "Caution" not in capsys.readouterr().err
    monkeypatch.setattr("copydesk.job.now", lambda: datetime.now(UTC) + timedelta(days=1))
    main(["record", painted, "leaf:6", "cancelled"])
    assert "Caution: Blade: " in capsys.readouterr().err


@pytest.mark.parametrize(
    ("ends", "says"),
    [
        ("w650", "it would have 651 words in 10 lines, some 314 letters a line; A writes 20.0, which makes at most"),
        ("w3", "4 words in 10 lines, some 1 letters a line; A writes 20.0, which makes at least about"),
    ],
)
def test_an_end_nobody_can_have_reached_is_refused_with_figures_unless_it_is_sure(
    run: Callable[..., str], refused: Callable[..., str], ends: str, says: str
) -> None:
    said = refused("record", "1r", "written", "--ends", ends)
    assert says in said
    assert "Nothing was recorded; --sure records it" in said
    assert json.loads(run("log", "--json")) == []
    assert f'ends "w{int(ends[1:]) - 2}' in run("record", "1r", "written", "--ends", ends, "--sure")


def test_a_hand_that_writes_closer_is_not_questioned_where_it_wrote(
    run: Callable[..., str], refused: Callable[..., str]
) -> None:
    """73 words in 10 lines are 28 letters a line: too many for a hand of 16, not for one of 20."""
    assert "B writes 16.0" in refused("record", "1r", "written", "--ends", "w72", "--hand", "B")
    run("record", "1r", "written", "--ends", "w72", "--hand", "A")


def test_a_beginning_that_no_page_has_room_after_is_questioned_too(
    run: Callable[..., str], book: str, capsys: pytest.CaptureFixture[str]
) -> None:
    for page in ("1r", "1v", "2r"):
        run("record", page, "written")
    assert main(["record", book, "3v", "written", "--begins", "w3 w4"]) == ExitCode.REFUSED
    twice, room = capsys.readouterr().err.splitlines()
    assert twice.endswith('if 3v began with "w3 w4", 55 words would be written twice, some 11 lines as A writes')
    assert "3v would have" in room
    assert room.endswith("Nothing was recorded; --sure records it")


def stretch_of(run: Callable[..., str], label: str) -> Mapping[str, Any]:
    found = page(run, label)["stretch"]
    assert isinstance(found, dict)
    return found


@pytest.mark.parametrize("end", ["w26", "w44"])
def test_the_sentence_at_recording_is_what_pages_and_remedies_say_after(
    run: Callable[..., str], book: str, capsys: pytest.CaptureFixture[str], end: str
) -> None:
    run("record", "6r", "held", "--begins", "w388 w389")
    main(["record", book, "1r", "written", "--ends", end, "--json"])
    [said] = [each for each in json.loads(capsys.readouterr().out)["also"] if "from 1v to 5v" in each]
    stretch = stretch_of(run, "1v")
    assert said.startswith(f"{abs(stretch['lines_over'])} lines {'over' if stretch['lines_over'] > 0 else 'left'}")
    needed = stretch["letters_needed"]
    assert f" {needed:.0f} letters a line" in said or f" {needed:.1f} letters a line" in said
    assert json.loads(run("remedies", "1v", "--json"))["stretch"] == stretch
    back = json.loads(run("undo", "--json"))["also"]
    stretch = stretch_of(run, "1v")
    assert any(each.startswith(f"{abs(stretch['lines_over'])} line") for each in back)


def test_a_check_is_kept_as_read_or_as_ticked_not_read(run: Callable[..., str]) -> None:
    for label in ("1r", "1v", "2r"):
        run("record", label, "written")
    assert run("record", "1r", "checked", "--hand", "B").strip() == (
        "1r checked against the exemplar by B, ticked, not read"
    )
    assert "ticked" not in run("record", "1v", "checked", "--hand", "B", "--read")
    run("record", "2r", "read-to", "--to-line", "10", "--hand", "B")
    assert "ticked" not in run("record", "2r", "checked", "--hand", "B")
    ticked = {each["page"]: each["ticked_not_read"] for each in json.loads(run("pages", "--json"))}
    assert (ticked["1r"], ticked["1v"], ticked["2r"]) == (True, False, False)
    run("record", "1r", "written", "--ends", "w52")
    assert page(run, "1r")["ticked_not_read"] is False


@pytest.mark.parametrize("what", ["begun", "written", "held"])
def test_a_beginning_nobody_can_have_reached_is_refused_with_figures_unless_it_is_sure(
    run: Callable[..., str], book: str, what: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["record", book, "1v", what, "--begins", "w650"]) == ExitCode.REFUSED
    assert "words would stand in the 10 lines before it" in (said := capsys.readouterr().err)
    assert "Nothing was recorded; --sure records it" in said
    assert json.loads(run("log", "--json")) == []
    assert json.loads(run("record", "1v", what, "--begins", "w650", "--sure", "--json"))["what"] == what


def test_several_pages_are_recorded_all_or_none_and_taken_back_in_one(
    run: Callable[..., str], refused: Callable[..., str]
) -> None:
    made = json.loads(run("record", "sheet:1.2", "ruled", "--minutes", "40", "--json"))
    assert [each["page"] for each in made["entries"]] == ["2r", "2v", "3r", "3v"]
    assert {each["minutes"] for each in json.loads(run("log", "--json"))} == {10.0}
    before = run("log")
    assert "2r is ruled already" in refused("record", "gathering:1", "ruled")
    assert run("log") == before
    assert "And 3 entries recorded together with it." in run("undo")
    assert {page(run, label)["state"] for label in ("2r", "2v", "3r", "3v")} == {"unruled"}
    assert "And 3 entries" in run("undo", "--redo")
    run("undo")
    run("record", "gathering:1", "ruled")
    assert page(run, "1r")["state"] == page(run, "4v")["state"] == "ruled"
    run("record", "1r-2v", "written")
    run("record", "1r,2v", "checked", "--hand", "B")
    assert [page(run, label)["state"] for label in ("1r", "1v", "2v")] == ["corrected", "written", "corrected"]
    run("undo")
    assert page(run, "1r")["state"] == page(run, "2v")["state"] == "written"


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("2v-1r", "ruled"), "2v-1r runs backwards; write 1r-2v"),
        (("1r,1v", "fault", "--kind", "omission"), "fault is recorded of one page at a time"),
        (("1r-1v", "written", "--ends", "w5"), "--ends is said of one page"),
        (("gathering:9", "ruled"), "there is no gathering 9; the book has 3"),
        (("1r-99r", "ruled"), "there is no page 99r"),
    ],
)
def test_several_that_cannot_be_are_refused(refused: Callable[..., str], arguments: tuple[str, ...], says: str) -> None:
    assert says in refused("record", *arguments)


def test_several_sheets_and_a_gathering_of_them_are_moved(run: Callable[..., str]) -> None:
    run("record", "sheet:2.1,sheet:3.1", "drying")
    run("record", "gathering:1", "checker")
    assert len(json.loads(run("log", "--json"))) == 4


def test_the_sheets_of_a_gathering_come_from_the_outside_in(run: Callable[..., str]) -> None:
    moved = json.loads(run("record", "gathering:2", "artist", "--json"))["entries"]
    assert [each["sheet"] for each in moved] == ["2.1", "2.2"]
    run("record", "gathering:1", "added-round")
    moved = json.loads(run("record", "gathering:1", "artist", "--json"))["entries"]
    assert [each["sheet"] for each in moved] == ["1.3", "1.1", "1.2"]


EMPTY = [
    ("record", "1r", "written", "--ends", ""),
    ("record", "1r", "written", "--begins", "  "),
    ("record", "1r", "written", "--hand", ""),
    ("record", "text", "changed", "--from", "", "--write", "x"),
    ("handover", "--to", ""),
    ("faults", "--page", ""),
    ("undo", ""),
]


@pytest.mark.parametrize("arguments", EMPTY)
def test_an_option_given_without_words_is_refused(
    run: Callable[..., str], refused: Callable[..., str], arguments: tuple[str, ...]
) -> None:
    run("record", "1r", "ruled")
    said = refused(*arguments)
    assert "is given without words; write them after it, or leave it out" in said or "no entry is named" in said
    assert len(json.loads(run("log", "--json"))) == 1


def test_what_would_follow_is_told_and_nothing_recorded(run: Callable[..., str]) -> None:
    before = run("log")
    said = run("record", "space:owl", "added", "--kind", "miniature", "--at", "w30 w31", "--lines", "4", "--try")
    assert "owl would stand on 1v." in said or "owl would stand on 1r." in said
    assert said.endswith("Nothing is recorded.\n")
    assert run("log") == before
