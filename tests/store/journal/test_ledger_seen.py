"""A folder put back to an earlier state is noticed, since what was seen of it is kept elsewhere."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from copydesk.store.folder.backup import backup, restore
from copydesk.store.folder.merge import merge
from copydesk.store.journal.audit import Counts, audit, mend, take_as_it_is
from copydesk.store.journal.ledger_file import LedgerFile
from copydesk.store.journal.line_format import entry_line
from ledger_trials import draft, ledger_of, mirror_of, names, read_again, written


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book with the entries a0, a1, a2."""
    folder = tmp_path / "book"
    folder.mkdir()
    written(folder)
    return folder


@pytest.fixture
def put_back(book: Path) -> Path:
    """The same after two more entries, put back to the state before them, mirror and all."""
    earlier = book.with_name("earlier")
    shutil.copytree(book, earlier)
    LedgerFile(book, desk="a").append_many([draft("b0"), draft("b1")])
    shutil.rmtree(book)
    shutil.copytree(earlier, book)
    return book


def test_a_folder_put_back_is_told_at_the_desk_and_by_the_audit(put_back: Path) -> None:
    [note] = LedgerFile(put_back, desk="a").notes
    assert "it held 5 entries, and now 3; look for what is missing in a backup" in note
    [problem] = audit(put_back)
    assert "it held 5 entries, and now 3" in problem.what
    assert f"copydesk audit {put_back} --as-it-is" in problem.what


def test_it_is_told_until_somebody_says_that_it_is_wanted(put_back: Path) -> None:
    LedgerFile(put_back, desk="a").append(draft("c"))
    assert len(audit(put_back)) == 1
    take_as_it_is(put_back)
    assert audit(put_back) == ()
    LedgerFile(put_back, desk="a").append(draft("d"))
    assert LedgerFile(put_back, desk="a").notes == ()


def test_a_ledger_that_is_gone_with_its_mirror_is_told(book: Path) -> None:
    shutil.rmtree(book / ".copydesk")
    ledger_of(book).unlink()
    assert "it held 3 entries, and now 0" in LedgerFile(book, desk="a").notes[0]


def test_a_newest_entry_that_was_changed_in_both_copies_is_told(book: Path) -> None:
    for path in (ledger_of(book), mirror_of(book)):
        lines = path.read_bytes().splitlines(keepends=True)
        lines[-1] = entry_line(3, [{**draft("a2", page="9.9:v"), "desk": "a", "tick": 3}], lines[-2])
        path.write_bytes(b"".join(lines))
    assert "is not there as it was recorded" in audit(book)[0].what


def test_an_older_line_that_was_changed_in_both_copies_is_told(book: Path) -> None:
    for path in (ledger_of(book), mirror_of(book)):
        lines = path.read_bytes().splitlines(keepends=True)
        lines[1] = entry_line(1, [{**draft("a0", page="9.9:v"), "desk": "a", "tick": 1}], lines[0])
        path.write_bytes(b"".join(lines))
    [problem] = audit(book)
    assert problem.line == 3
    assert "it was not written after line 2 as that line now is" in problem.what
    mend(book)
    assert audit(book) == ()
    assert read_again(book) == ["a0", "a1", "a2"]


def test_a_merge_a_mend_and_a_restore_are_no_loss(book: Path) -> None:
    there = book.with_name("there")
    shutil.copytree(book, there)
    for number in range(3):
        LedgerFile(there, desk="b").append(draft(f"t{number}"))
    LedgerFile(book, desk="a").append(draft("h0"))
    archive = backup(book).path
    merge(book, there)
    LedgerFile(book, desk="a").append(draft("h1"))
    assert audit(book) == ()
    mend(book, take=Counts.LEDGER)
    restore(archive, book)
    assert audit(book) == ()
    assert names(LedgerFile(book, desk="a").entries()) == ["a0", "a1", "a2", "h0"]
    assert LedgerFile(book, desk="a").notes == ()


def test_where_nothing_can_be_kept_outside_the_folder_recording_goes_on(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("")
    monkeypatch.setenv("COPYDESK_STATE", os.fspath(tmp_path / "file"))
    LedgerFile(book, desk="a").append(draft("c"))
    assert read_again(book) == ["a0", "a1", "a2", "c"]
    assert audit(book) == ()


@pytest.mark.parametrize("kept", ["", "{}", '{"book": 1', '{"book": "", "entries": "x"}', "[" * 500])
def test_a_note_that_cannot_be_read_is_no_note(book: Path, kept: str) -> None:
    [file] = (Path(os.environ["COPYDESK_STATE"]) / "ledgers").iterdir()
    file.write_text(kept)
    assert audit(book) == ()
    assert LedgerFile(book, desk="a").notes == ()
