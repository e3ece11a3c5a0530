"""A whole book as one JSON document, and read back: the same book, the same ledger."""

from __future__ import annotations

import copy
import json
import shutil
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.page import Page
from copydesk.job import Job
from copydesk.store.folder.new_book import VERSION_CONTROL, shipped_book
from copydesk.store.folder.snapshot import SET_ASIDE, make_from_snapshot
from copydesk.store.folder.snapshot_json import snapshot_from_json
from copydesk.tracking.commands.leaf_commands import cancel_leaf
from faulty_disk import FullDisk
from plan_words import SOUND
from snapshot_books import MARKED, PLAN, a_book, document, told


def files(folder: Path) -> dict[str, bytes]:
    found = (
        path for path in folder.rglob("*") if path.is_file() and not {".copydesk", VERSION_CONTROL} & {*path.parts}
    )
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in found}


def test_the_shipped_book_comes_back_byte_for_byte(tmp_path):
    shutil.copytree(shipped_book(), tmp_path / "book")
    text = document(tmp_path / "book")
    make_from_snapshot(tmp_path / "again", snapshot_from_json(text, "x.json"), "x.json")
    assert files(tmp_path / "again") == files(tmp_path / "book")
    assert document(tmp_path / "again") == text


def test_remarks_line_ends_and_names_are_kept(tmp_path):
    a_book(tmp_path / "book", MARKED)
    make_from_snapshot(tmp_path / "again", snapshot_from_json(document(tmp_path / "book"), "x.json"), "x.json")
    assert files(tmp_path / "again") == files(tmp_path / "book")
    assert "texts/words.txt" in files(tmp_path / "again")


def test_a_book_nobody_has_typed_has_no_exemplar(tmp_path):
    (tmp_path / "book").mkdir()
    (tmp_path / "book" / "book.yaml").write_text(SOUND)
    text = document(tmp_path / "book")
    assert json.loads(text)["exemplar"] is None
    assert json.loads(text)["mark"] is None
    make_from_snapshot(tmp_path / "again", snapshot_from_json(text, "x.json"), "x.json")
    assert files(tmp_path / "again") == {"book.yaml": SOUND.encode()}


ACTS = st.tuples(
    st.sampled_from(["rule", "write", "part", "check", "fault", "space", "cancel", "undo", "redo"]),
    st.integers(0, 5),
    st.sampled_from(["A", "B"]),
)


def do(job: Job, act: str, index: int, hand: str) -> None:
    page, acts = Page.at(index), job.commands
    steps = {
        "rule": lambda: job.record(acts.rule(page), hand=hand),
        "write": lambda: job.record(acts.write(page), hand=hand),
        "part": lambda: job.record(acts.write(page, to_line=index + 1), hand=hand),
        "check": lambda: job.record(acts.check(page), hand=hand),
        "fault": lambda: job.record(acts.fault(page, "omission", line=1, should="w3 \U0001f58b"), hand=hand),
        "space": lambda: job.record(acts.space("pond", ("drawn", "coloured", "left-empty")[index % 3]), hand=hand),
        "cancel": lambda: job.record(cancel_leaf(job.state, page.leaf), hand=hand),
        "undo": job.undo,
        "redo": job.redo,
    }
    try:
        steps[act]()
    except CopydeskError:
        return


@settings(max_examples=25, deadline=None)
@given(st.lists(ACTS, max_size=12))
def test_any_small_ledger_comes_back(acts):
    with TemporaryDirectory() as temp:
        now = iter(datetime(2026, 10, 5, tzinfo=UTC) + timedelta(minutes=number) for number in range(99))
        job = Job.open(a_book(Path(temp) / "book"), desk="window", clock=lambda: next(now))
        for act in acts:
            do(job, *act)
        text = document(Path(temp) / "book", job)
        make_from_snapshot(Path(temp) / "again", snapshot_from_json(text, "x.json"), "x.json")
        again = Job.open(Path(temp) / "again", desk="window")
        assert told(again) == told(job)
        assert document(Path(temp) / "again", again) == text
        after = again.record(again.commands.rule(Page.at(11)))
        assert after.tick == max([entry.tick for entry in job.ledger], default=0) + 1


def test_fields_and_kinds_of_a_newer_program_are_carried_along(tmp_path):
    parts = json.loads(document(a_book(tmp_path / "book")))
    newer = {"entry": "n", "tick": 7, "at": "2027-03-01", "what": "gazed-at", "about": "?", "depth": [1, {"a": None}]}
    parts["entries"] = [newer]
    make_from_snapshot(tmp_path / "again", snapshot_from_json(json.dumps(parts), "x.json"), "x.json")
    assert json.loads(document(tmp_path / "again"))["entries"] == [newer]


@cache
def sound() -> str:
    """The document of a small book with a few entries."""
    with TemporaryDirectory() as temp:
        job = Job.open(a_book(Path(temp) / "book"), desk="window")
        for act in ("rule", "write", "check", "fault", "space", "cancel"):
            do(job, act, 0, "A")
        job.undo()
        return document(Path(temp) / "book", job)


def changed(**changes: object) -> str:
    parts = json.loads(sound()) | changes
    return json.dumps({key: value for key, value in parts.items() if value != "left out"})


def refused(text: str, folder: Path) -> str:
    with pytest.raises(CopydeskError) as caught:
        make_from_snapshot(folder / "again", snapshot_from_json(text, "x.json"), "x.json")
    assert list(folder.iterdir()) == []
    return str(caught.value)


@pytest.mark.parametrize(
    "name", [".git/config", "a/.hooks/b", "ledger.jsonl", "book.yaml", "./Book.YAML", "LEDGER.jsonl", ".copydesk/x"]
)
def test_a_text_takes_no_other_files_place_and_none_is_hidden(name, tmp_path):
    plan = PLAN.replace("texts/words.txt", name)
    assert "which no text may bear" in refused(changed(book_yaml=plan, plan="left out"), tmp_path)


@pytest.mark.parametrize("name", ["../x.txt", "/x.txt", "a/../../x"])
def test_a_text_leads_nowhere_out_of_the_folder(name, tmp_path):
    plan = PLAN.replace("texts/words.txt", name)
    assert "the book's folder" in refused(changed(book_yaml=plan, plan="left out"), tmp_path)


def test_entries_that_cannot_be_are_set_aside_and_named_and_the_others_make_the_book(tmp_path):
    found = json.loads(sound())["entries"]
    wrong = [
        {},
        "no entry",
        {**found[0], "entry": "x1", "tick": 2**53},
        {**found[0], "entry": "x2", "tick": True},
        {**found[1], "entry": "x3", "minutes": "many"},
        {**found[0], "entry": "x4", "at": "yesterday"},
        {**found[0], "entry": "x5", "what": ""},
        {**found[1]},
    ]
    made = make_from_snapshot(
        tmp_path / "again", snapshot_from_json(changed(entries=[*found, *wrong]), "x.json"), "x.json"
    )
    assert len(made.left_out) == len(wrong)
    assert str(made.left_out[4]).startswith(f"x.json: entry {len(found) + 5} cannot be: its 'minutes' is 'many'")
    assert json.loads((made.folder / SET_ASIDE).read_text()) == wrong
    job = Job.open(made.folder)
    assert len(list(job.ledger)) == len(found)
    assert job.record(job.commands.rule(Page.at(2))).tick < 2**40
    job.close()


def test_nothing_is_set_aside_of_a_sound_book(tmp_path):
    made = make_from_snapshot(tmp_path / "again", snapshot_from_json(sound(), "x.json"), "x.json")
    assert made.left_out == ()
    assert not (made.folder / SET_ASIDE).exists()


def test_a_folder_with_something_in_it_is_left_alone(tmp_path):
    (tmp_path / "again").mkdir()
    (tmp_path / "again" / "letter.txt").write_text("dear")
    with pytest.raises(CopydeskError, match="there is something in this folder already"):
        make_from_snapshot(tmp_path / "again", snapshot_from_json(sound(), "x.json"), "x.json")
    assert files(tmp_path) == {"again/letter.txt": b"dear"}


def test_a_disk_that_fails_leaves_nothing_behind(tmp_path):
    for writes in range(5):
        with pytest.raises(CopydeskError, match=r"No book was made: .*: the disk is full"):
            make_from_snapshot(
                tmp_path / "again", snapshot_from_json(sound(), "x.json"), "x.json", disk=FullDisk(writes)
            )
        assert list(tmp_path.iterdir()) == []
    make_from_snapshot(tmp_path / "again", snapshot_from_json(sound(), "x.json"), "x.json", disk=FullDisk(5))


ROWS: list[list[list[object]]] = [
    [],
    [[]],
    [["a", 1, 1, 1, 0.0]],
    [["a", "b", 1, 10**9, 2.0]],
    [["a", 1, 1, 10**14, 0.0]],
]


VALUES = [None, True, -1, 0, 1, 2**31, 10**14, 0.5, 1e300, "", "x", "1.1:r", "1.1", "0.0:r", "9.9:v", "\x1b", "\ud800"]


STRANGE = st.sampled_from([*VALUES, [], *([row] for row in ROWS), {}, {"word": -5}, ["1.1"] * 3])


@settings(max_examples=150, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 40), st.integers(0, 40), STRANGE), min_size=1, max_size=4))
def test_whatever_an_entry_says_it_is_refused_or_makes_a_book(changes):
    parts = copy.deepcopy(json.loads(sound()))
    for which, key, value in changes:
        entry = parts["entries"][which % len(parts["entries"])]
        names = [name for name in entry if name not in ("entry", "tick")]
        entry[names[key % len(names)]] = value
    with TemporaryDirectory() as temp:
        try:
            make_from_snapshot(Path(temp) / "again", snapshot_from_json(json.dumps(parts), "x.json"), "x.json")
        except CopydeskError as caught:
            assert list(Path(temp).iterdir()) == []
            assert "x.json" in str(caught) or "half a character" in str(caught)
        else:
            told(Job.open(Path(temp) / "again"))
