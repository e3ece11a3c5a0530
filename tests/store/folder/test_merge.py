"""Ledgers of one book that were written apart, put together."""

from __future__ import annotations

import errno
import json
import shutil
import tempfile
from pathlib import Path
from zlib import crc32

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.store.folder.merge import merge
from copydesk.store.journal.audit import audit
from copydesk.store.journal.ledger_file import LedgerFile
from copydesk.store.journal.line_format import Header, entry_line, header_line
from faulty_disk import FaultyDisk
from ledger_trials import draft, ledger_of, mirror_of, names, read_again


@pytest.fixture
def apart(tmp_path: Path) -> tuple[Path, Path]:
    """Two folders of one book: two entries together, then each went its own way."""
    here, there = tmp_path / "here", tmp_path / "there"
    here.mkdir()
    LedgerFile(here, desk="a").append_many([draft("both0"), draft("both1")])
    shutil.copytree(here, there)
    LedgerFile(here, desk="a").append(draft("here0"))
    at_there = LedgerFile(there, desk="b")
    at_there.append(draft("there0"))
    at_there.append_many([draft("there1"), draft("there2")])
    LedgerFile(here, desk="a").append(draft("here1"))
    return here, there


def test_entries_of_both_stand_in_order_of_tick_and_desk(apart: tuple[Path, Path]) -> None:
    here, there = apart
    done = merge(here, there)
    assert names(done.added) == ["there0", "there1", "there2"]
    assert done.left_out == ()
    assert read_again(here) == ["both0", "both1", "here0", "there0", "here1", "there1", "there2"]
    assert audit(here) == ()


def test_merging_either_way_round_gives_the_same(apart: tuple[Path, Path]) -> None:
    here, there = apart
    merge(here, there)
    merge(there, here)
    assert (here / "ledger.jsonl").read_bytes() == (there / "ledger.jsonl").read_bytes()
    before = (here / "ledger.jsonl").stat().st_mtime_ns
    assert merge(here, there).added == ()
    assert (here / "ledger.jsonl").stat().st_mtime_ns == before


def test_a_merge_killed_between_ledger_and_mirror_is_made_good_by_the_next(apart: tuple[Path, Path]) -> None:
    here, there = apart
    before = mirror_of(here).read_bytes()
    merge(here, there)
    mirror_of(here).write_bytes(before)
    assert "lacks 3 of the ledger's entries" in str(audit(here)[0])
    assert merge(here, there).added == ()
    assert mirror_of(here).read_bytes() == ledger_of(here).read_bytes()
    assert audit(here) == ()


def test_the_other_is_only_read(apart: tuple[Path, Path]) -> None:
    here, there = apart
    before = {path: path.read_bytes() for path in there.rglob("*") if path.is_file()}
    merge(here, there)
    assert {path: path.read_bytes() for path in there.rglob("*") if path.is_file()} == before


def test_a_file_may_be_named_in_place_of_a_folder(apart: tuple[Path, Path]) -> None:
    here, there = apart
    copy = here / "ledger (conflicting copy).jsonl"
    shutil.copy(there / "ledger.jsonl", copy)
    assert names(merge(here, copy).added) == ["there0", "there1", "there2"]


def test_a_file_that_is_no_ledger_is_refused(apart: tuple[Path, Path]) -> None:
    other = apart[0] / "book.yaml"
    other.write_text("title: A mill\nexemplar: {text: exemplar.txt}\n", "utf-8")
    with pytest.raises(CopydeskError, match=r"book\.yaml is no ledger; name a book's folder or a ledger file"):
        merge(apart[1], other)


def test_desks_that_are_open_go_on(apart: tuple[Path, Path]) -> None:
    here, there = apart
    desk = LedgerFile(here, desk="c")
    desk.entries()
    generation = desk.generation
    merge(here, there)
    assert names(desk.refresh()) == ["there0", "there1", "there2"]
    assert desk.generation > generation
    assert desk.notes == ()
    assert desk.append(draft("c"))["tick"] == 6


def test_into_a_book_without_a_ledger(apart: tuple[Path, Path], tmp_path: Path) -> None:
    new = tmp_path / "new"
    new.mkdir()
    merge(new, apart[1])
    assert (new / "ledger.jsonl").read_bytes() == (apart[1] / "ledger.jsonl").read_bytes()


def test_one_id_for_two_entries_is_left_out_and_named(apart: tuple[Path, Path]) -> None:
    here, there = apart
    LedgerFile(here, desk="a").append(draft("same", note="here"))
    LedgerFile(there, desk="b").append(draft("same", note="there"))
    [clash] = merge(here, there).left_out
    assert str(clash).startswith("ledger.jsonl:5: the id 'same' is another entry's here")
    assert [entry["note"] for entry in LedgerFile(here, desk="c").entries() if entry["entry"] == "same"] == ["here"]


def test_another_book_is_refused_unless_said(apart: tuple[Path, Path], tmp_path: Path) -> None:
    other = tmp_path / "other"
    other.mkdir()
    LedgerFile(other, desk="o").append(draft("o"))
    with pytest.raises(CopydeskError, match="mark of another book"):
        merge(apart[0], other)
    assert names(merge(apart[0], other, any_book=True).added) == ["o"]


def test_what_cannot_be_merged_is_a_sentence(apart: tuple[Path, Path], tmp_path: Path) -> None:
    here, _ = apart
    before = (here / "ledger.jsonl").read_bytes()
    with pytest.raises(CopydeskError, match="there is no ledger at"):
        merge(here, tmp_path / "nowhere")
    newer = tmp_path / "newer.jsonl"
    newer.write_bytes(header_line(Header(9, "b0")) + entry_line(1, [draft("n", tick=1)]))
    with pytest.raises(CopydeskError, match="newer copydesk"):
        merge(here, newer)
    assert (here / "ledger.jsonl").read_bytes() == before


@pytest.mark.parametrize("hurt", [b'{"numb', b"<<<<<<< ours\n"])
def test_a_damaged_ledger_is_mended_first(apart: tuple[Path, Path], hurt: bytes) -> None:
    here, there = apart
    path = here / "ledger.jsonl"
    path.write_bytes(path.read_bytes() + hurt)
    before = path.read_bytes()
    with pytest.raises(CopydeskError, match="first copydesk audit --mend"):
        merge(here, there)
    assert path.read_bytes() == before


def test_what_only_the_mirror_has_is_mended_first(apart: tuple[Path, Path]) -> None:
    here, there = apart
    path = here / "ledger.jsonl"
    path.write_bytes(b"".join(path.read_bytes().splitlines(keepends=True)[:2]))
    with pytest.raises(CopydeskError, match="first copydesk audit --mend"):
        merge(here, there)


def test_damage_in_the_other_is_named_and_the_rest_taken(apart: tuple[Path, Path]) -> None:
    here, there = apart
    path = there / "ledger.jsonl"
    path.write_bytes(path.read_bytes().replace(b'"there0"', b'"thereX"') + b'{"half')
    done = merge(here, there)
    assert names(done.added) == ["there1", "there2"]
    assert [problem.line for problem in done.left_out] == [3, 5]


@pytest.mark.parametrize("touch", range(3, 25))
def test_a_disk_that_fails_while_merging_loses_nothing(apart: tuple[Path, Path], touch: int) -> None:
    here, there = apart
    before = set(read_again(here))
    try:
        merge(here, there, disk=FaultyDisk({touch: errno.ENOSPC}))
    except CopydeskError as refused:
        assert "the disk is full" in str(refused)
    assert before <= set(read_again(here))
    merge(here, there)
    assert len(read_again(here)) == 7
    LedgerFile(here, desk="c").append(draft("c"))
    assert audit(here) == ()


@settings(max_examples=25, deadline=None)
@given(steps=st.lists(st.tuples(st.integers(0, 2), st.integers(0, 2)), max_size=14))
def test_three_folders_merged_in_any_way_lose_nothing(steps: list[tuple[int, int]]) -> None:
    with tempfile.TemporaryDirectory() as top:
        folders = [Path(top) / name for name in "xyz"]
        folders[0].mkdir()
        LedgerFile(folders[0], desk="x").append(draft("first"))
        for folder in folders[1:]:
            shutil.copytree(folders[0], folder)
        known = [{"first"}, {"first"}, {"first"}]
        for number, (at, other) in enumerate(steps):
            if at == other:
                LedgerFile(folders[at], desk="xyz"[at]).append(draft(f"e{number}"))
                known[at].add(f"e{number}")
            else:
                merge(folders[at], folders[other])
                known[at] |= known[other]
            assert set(read_again(folders[at])) == known[at]
        for at, other in [(0, 1), (0, 2), (1, 0), (2, 0)]:
            merge(folders[at], folders[other])
        contents = [(folder / "ledger.jsonl").read_bytes() for folder in folders]
        assert _entries(contents[0]) == _entries(contents[1]) == _entries(contents[2])
        assert all(audit(folder) == () for folder in folders)


def _entries(ledger: bytes) -> list[bytes]:
    return [line.partition(b'"entries"')[2] for line in ledger.splitlines()]


WRONG: dict[str, dict[str, object]] = {
    "its 'minutes' is 'many', and must be a number": {"minutes": "many"},
    "its 'to_line' is 1e+300": {"to_line": 1e300},
    "its 'whole' is 1, and must be yes or no": {"whole": 1},
    "its 'hand' is 7, and must be text": {"hand": 7},
    "its time 'soon' cannot be read": {"at": "soon"},
    "it does not say what happened": {"what": ""},
}


@pytest.mark.parametrize("said", WRONG)
def test_an_entry_that_is_not_right_is_left_out_and_named(apart: tuple[Path, Path], said: str) -> None:
    here, there = apart
    odd = {**draft("odd"), "tick": 9, **WRONG[said]}
    with (there / "ledger.jsonl").open("ab") as file:
        file.write(entry_line(4, [odd, {**draft("even"), "tick": 10, "what": "newer kind", "fact": {"of": "it"}}]))
    done = merge(here, there)
    assert names(done.added) == ["there0", "there1", "there2", "even"]
    [problem] = done.left_out
    assert str(problem).startswith(f"ledger.jsonl:5: the entry 'odd': {said}")
    assert str(problem).endswith("it was not taken over")
    assert audit(here) == ()


def test_a_false_tick_from_elsewhere_never_stops_recording(apart: tuple[Path, Path]) -> None:
    here, there = apart
    for number, tick in enumerate((2**53, 2**53 - 1, 2**41), 5):
        with (there / "ledger.jsonl").open("ab") as file:
            body = json.dumps({"number": number, "entries": [{**draft(f"t{tick}"), "tick": tick}]})[:-1].encode()
            file.write(body + b',"sum":"%08x"}\n' % crc32(body))
    done = merge(here, there)
    assert names(done.added) == ["there0", "there1", "there2"]
    assert [problem.line for problem in done.left_out] == [5, 6, 7]
    LedgerFile(here, desk="a").append(draft("on"))
    assert read_again(here)[-1] == "on"
    LedgerFile(there, desk="b").append(draft("on too"))
    assert read_again(there)[-1] == "on too"
