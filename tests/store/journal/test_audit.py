"""The audit, and mending from the mirror."""

from __future__ import annotations

import errno
import json
import os
import shutil
from typing import TYPE_CHECKING

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.store.files.disk import Disk
from copydesk.store.journal.audit import Counts, audit, mend
from copydesk.store.journal.ledger_file import LedgerFile
from copydesk.store.journal.line_format import Header, entry_line, header_line
from faulty_disk import FaultyDisk
from ledger_trials import draft, ledger_of, mirror_of, names, read_again

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book with five entries in four lines."""
    ledger = LedgerFile(tmp_path, desk="a")
    for number in range(3):
        ledger.append(draft(f"a{number}"))
    ledger.append_many([draft("b0"), draft("b1")])
    return tmp_path


def change(path: Path, old: bytes, new: bytes) -> bytes:
    before = path.read_bytes()
    assert old in before
    path.write_bytes(before.replace(old, new))
    return before


def test_a_sound_ledger_has_no_findings_and_is_left_alone(book: Path) -> None:
    before = [path.stat().st_mtime_ns for path in (ledger_of(book), mirror_of(book))]
    assert audit(book) == ()
    done = mend(book)
    assert (done.entries, done.brought_back, done.lost, done.kept) == (5, 0, (), ())
    assert [path.stat().st_mtime_ns for path in (ledger_of(book), mirror_of(book))] == before


def test_a_book_without_a_ledger_is_sound(tmp_path: Path) -> None:
    assert audit(tmp_path) == ()
    assert mend(tmp_path).entries == 0
    assert not ledger_of(tmp_path).exists()


def test_a_book_without_a_mirror_is_sound_and_mending_makes_one(book: Path) -> None:
    shutil.rmtree(book / ".copydesk")
    assert audit(book) == ()
    mend(book)
    assert mirror_of(book).read_bytes() == ledger_of(book).read_bytes()


def test_a_damaged_line_is_named_and_brought_back(book: Path) -> None:
    before = change(ledger_of(book), b'"a1"', b'"a8"')
    hurt = ledger_of(book).read_bytes()
    [line, mirrored] = map(str, audit(book))
    assert line.startswith("ledger.jsonl:3: this line is damaged: its checksum does not agree; the mirror has it")
    assert mirrored.startswith(".copydesk/ledger.mirror.jsonl: entries only here, no longer in the ledger: 1")
    done = mend(book)
    assert ledger_of(book).read_bytes() == before
    assert (done.entries, done.brought_back, done.lost) == (5, 1, ())
    assert [path.read_bytes() for path in done.kept] == [hurt]
    assert audit(book) == ()
    assert done.sentences[0] == "The ledger holds 5 entries; brought back from the mirror: 1"


def test_what_neither_has_is_named(book: Path) -> None:
    change(ledger_of(book), b'"a1"', b'"a8"')
    change(mirror_of(book), b'"a1"', b'"a9"')
    assert any("the mirror does not have it" in str(problem) for problem in audit(book))
    done = mend(book)
    [lost] = done.lost
    assert str(lost).startswith("ledger.jsonl:3: what stood in this line could not be brought back")
    assert len(done.kept) == 2
    assert read_again(book) == ["a0", "a2", "b0", "b1"]
    assert audit(book) == ()


def test_lines_missing_from_both_are_counted(book: Path) -> None:
    for path in (ledger_of(book), mirror_of(book)):
        lines = path.read_bytes().splitlines(keepends=True)
        path.write_bytes(b"".join(lines[:2] + lines[4:]))
    [problem] = audit(book)
    assert str(problem).startswith("ledger.jsonl:3: 2 lines are missing before number 4")
    assert any("2 lines are missing" in note for note in LedgerFile(book, desk="b").notes)
    [lost] = mend(book).lost
    assert str(lost) == "ledger.jsonl: lines that stand in neither copy and are lost: 2"
    assert audit(book) == ()


def test_a_lost_end_comes_back(book: Path) -> None:
    before = ledger_of(book).read_bytes()
    ledger_of(book).write_bytes(b"".join(before.splitlines(keepends=True)[:3]))
    assert [problem.file for problem in audit(book)] == [".copydesk/ledger.mirror.jsonl"]
    assert mend(book).brought_back == 3
    assert ledger_of(book).read_bytes() == before


def test_an_entry_written_after_a_lost_end_stands_after_it(book: Path) -> None:
    before = ledger_of(book).read_bytes()
    ledger_of(book).write_bytes(b"".join(before.splitlines(keepends=True)[:3]))
    ledger = LedgerFile(book, desk="b")
    assert ledger.append(draft("new"))["tick"] == 6
    assert ledger.append(draft("newer"))["tick"] == 7
    mend(book)
    assert read_again(book) == ["a0", "a1", "a2", "b0", "b1", "new", "newer"]
    assert ledger_of(book).read_bytes().startswith(before)


def test_a_ledger_that_is_gone_comes_back(book: Path) -> None:
    before = ledger_of(book).read_bytes()
    ledger_of(book).unlink()
    assert str(audit(book)[0]).startswith("ledger.jsonl: the ledger is gone")
    mend(book)
    assert ledger_of(book).read_bytes() == before


def test_a_damaged_mirror_is_renewed(book: Path) -> None:
    before = change(mirror_of(book), b'"a1"', b'"a9"')
    [problem] = audit(book)
    assert str(problem).startswith(".copydesk/ledger.mirror.jsonl:3: in the mirror, this line is damaged")
    done = mend(book)
    assert mirror_of(book).read_bytes() == ledger_of(book).read_bytes() == before
    assert (done.brought_back, done.lost, len(done.kept)) == (0, (), 1)


def test_a_damaged_header_is_renewed(book: Path) -> None:
    before = change(ledger_of(book), b'"schema":1', b'"schema":8')
    named = [str(problem) for problem in audit(book)]
    assert any("the first line, which names the book, is missing" in problem for problem in named)
    assert LedgerFile(book, desk="b").why_read_only == ""
    mend(book)
    assert ledger_of(book).read_bytes() == before
    change(ledger_of(book), b'"schema":1', b'"schema":8')
    mirror_of(book).unlink()
    mend(book)
    assert audit(book) == ()
    assert read_again(book) == ["a0", "a1", "a2", "b0", "b1"]


def test_an_unfinished_end_is_named_and_cleared(book: Path) -> None:
    before = ledger_of(book).read_bytes()
    ledger_of(book).write_bytes(before + b'{"number":5')
    [problem] = audit(book)
    assert str(problem).startswith("ledger.jsonl:6: the last line is unfinished (11 bytes)")
    done = mend(book)
    assert ledger_of(book).read_bytes() == before
    assert [path.read_bytes() for path in done.kept] == [before + b'{"number":5']
    assert [problem.line for problem in done.lost] == [6]


def test_two_branches_put_together_by_version_control(book: Path) -> None:
    base = ledger_of(book).read_bytes()
    ours = entry_line(5, [draft("ours", tick=6, desk="a")])
    theirs = entry_line(5, [draft("theirs", tick=6, desk="b")]) + entry_line(6, [draft("more", tick=7, desk="b")])
    ledger_of(book).write_bytes(base + b"<<<<<<< HEAD\n" + ours + b"=======\n" + theirs + b">>>>>>> other\n")
    assert read_again(book) == ["a0", "a1", "a2", "b0", "b1", "ours", "theirs", "more"]
    assert sum("version control" in str(problem) for problem in audit(book)) >= 3
    assert mend(book).lost == ()
    mend(book)
    assert audit(book) == ()
    assert read_again(book) == ["a0", "a1", "a2", "b0", "b1", "ours", "theirs", "more"]
    assert LedgerFile(book, desk="b").notes == ()


def test_lines_put_together_out_of_order_are_sorted(book: Path) -> None:
    lines = ledger_of(book).read_bytes().splitlines(keepends=True)
    ledger_of(book).write_bytes(b"".join([*lines[:2], lines[3], lines[2], *lines[4:]]))
    assert any("lines were moved" in str(problem) for problem in audit(book))
    mend(book)
    assert ledger_of(book).read_bytes() == b"".join(lines)


def test_one_id_for_two_entries_is_named(book: Path) -> None:
    with ledger_of(book).open("ab") as file:
        file.write(entry_line(5, [draft("a1", tick=6, what="checked")]))
    [problem] = audit(book)
    assert str(problem).startswith("ledger.jsonl:6: the id 'a1' was given to another entry before")
    assert len(read_again(book)) == 5


def test_a_newer_ledger_is_not_mended(book: Path) -> None:
    lines = ledger_of(book).read_bytes().splitlines(keepends=True)
    newer = header_line(Header(7, "b0")) + b"".join(lines[1:3]) + b"no line of ours\n"
    ledger_of(book).write_bytes(newer)
    assert any("a newer copydesk wrote this ledger (form 7)" in str(problem) for problem in audit(book))
    with pytest.raises(CopydeskError, match="newer copydesk"):
        mend(book)
    assert ledger_of(book).read_bytes() == newer


def test_files_that_all_may_change_are_named(book: Path) -> None:
    ledger_of(book).chmod(0o666)
    (book / ".copydesk").chmod(0o777)
    assert [problem.file for problem in audit(book)] == ["ledger.jsonl", ".copydesk"]


def test_what_stands_in_place_of_the_lock_is_named(book: Path) -> None:
    lock = book / ".copydesk" / "ledger.lock"
    lock.unlink()
    assert audit(book) == ()
    lock.mkdir()
    assert [problem.file for problem in audit(book)] == [".copydesk/ledger.lock"]
    with pytest.raises(CopydeskError, match="move it away"):
        mend(book)
    lock.rmdir()
    lock.symlink_to(book / "elsewhere")
    assert [problem.file for problem in audit(book)] == [".copydesk/ledger.lock"]
    with pytest.raises(CopydeskError):
        mend(book)


def test_copies_left_by_a_synchronised_folder_are_named(book: Path) -> None:
    shutil.copy(ledger_of(book), book / "ledger (conflicting copy).jsonl")
    (book / "ledgers of my aunt.txt").write_text("not ours")
    (book / "ledger-link.jsonl").symlink_to(ledger_of(book))
    [problem] = audit(book)
    assert problem.file == "ledger (conflicting copy).jsonl"
    assert "copydesk merge" in problem.what


def test_a_desk_that_is_open_sees_what_was_mended(book: Path) -> None:
    change(ledger_of(book), b'"a1"', b'"a8"')
    desk = LedgerFile(book, desk="b")
    desk.entries()
    assert desk.notes
    mend(book)
    assert names(desk.refresh()) == ["a1"]
    assert desk.notes == ()
    assert names(desk.entries()) == ["a0", "a1", "a2", "b0", "b1"]


def test_entries_of_desks_writing_meanwhile_are_not_lost(book: Path) -> None:
    desk = LedgerFile(book, desk="b")
    change(ledger_of(book), b'"a1"', b'"a8"')

    class Busy(Disk):
        def put(self, path: Path, data: bytes) -> None:
            with pytest.raises(CopydeskError, match="another desk is still writing"):
                LedgerFile(book, desk="c", patience=0.01).append(draft("c"))
            super().put(path, data)

    mend(book, disk=Busy())
    desk.append(draft("b"))
    assert read_again(book) == ["a0", "a1", "a2", "b0", "b1", "b"]


@pytest.mark.parametrize("touch", range(2, 22))
def test_a_disk_that_fails_while_mending_loses_nothing(book: Path, touch: int) -> None:
    before = change(ledger_of(book), b'"a1"', b'"a8"')
    disk = FaultyDisk({touch: errno.EIO})
    try:
        mend(book, disk=disk)
    except CopydeskError as refused:
        assert "the disk reports a fault" in str(refused)
        assert not list(book.rglob("*.new"))
    assert set(read_again(book)) >= {"a0", "a2", "b0", "b1"}
    mend(book)
    assert ledger_of(book).read_bytes() == before


def test_a_folder_that_cannot_be_written_is_not_mended(book: Path) -> None:
    change(ledger_of(book), b'"a1"', b'"a8"')

    class ReadOnly(Disk):
        def open_to_append(self, _: Path) -> int:
            raise OSError(errno.EROFS, os.strerror(errno.EROFS))

    with pytest.raises(CopydeskError, match="can only be read"):
        mend(book, disk=ReadOnly())
    assert len(audit(book, disk=ReadOnly())) == 2


def edited(path: Path, old: bytes, new: bytes) -> None:
    """Change a line of a ledger as somebody would who gives it a checksum that agrees."""
    lines = path.read_bytes().splitlines(keepends=True)
    for at, line in enumerate(lines):
        if old in line:
            number, entries = json.loads(line)["number"], json.loads(line.replace(old, new))["entries"]
            lines[at] = entry_line(number, entries)
    path.write_bytes(b"".join(lines))


@pytest.mark.parametrize("copy", [ledger_of, mirror_of])
def test_an_entry_that_differs_between_the_copies_is_shown_with_both(book: Path, copy: Callable[[Path], Path]) -> None:
    whole = ledger_of(book).read_bytes()
    edited(copy(book), b'"a1","at":"2027', b'"a1","at":"2017')
    [problem] = [problem for problem in audit(book) if "differs" in problem.what]
    here, there = ("2017", "2027") if copy is ledger_of else ("2027", "2017")
    assert str(problem).startswith(
        f"ledger.jsonl:3: the entry 'a1' differs from the mirror's: at is '{here}-01-12T09:30:00+01:00' here, "
        f"'{there}-01-12T09:30:00+01:00' in the mirror; copydesk audit --mend --take ledger"
    )
    before = [ledger_of(book).read_bytes(), mirror_of(book).read_bytes()]
    with pytest.raises(CopydeskError, match=r"Nothing was mended: ledger\.jsonl:3: the entry 'a1' differs"):
        mend(book)
    assert [ledger_of(book).read_bytes(), mirror_of(book).read_bytes()] == before
    sound = Counts.MIRROR if copy is ledger_of else Counts.LEDGER
    mend(book, take=sound)
    assert ledger_of(book).read_bytes() == mirror_of(book).read_bytes() == whole
    assert audit(book) == ()


def test_a_disagreement_outlives_further_entries(book: Path) -> None:
    edited(mirror_of(book), b'"a1","at":"2027', b'"a1","at":"2017')
    for name in ("c", "d", "e"):
        LedgerFile(book, desk="b").append(draft(name))
    [problem] = audit(book)
    assert "the entry 'a1' differs" in str(problem)
    mend(book, take=Counts.LEDGER)
    assert ledger_of(book).read_bytes() == mirror_of(book).read_bytes()
    assert read_again(book) == ["a0", "a1", "a2", "b0", "b1", "c", "d", "e"]


def test_numbers_in_place_of_a_mark_of_version_control_are_not_missed(book: Path) -> None:
    with ledger_of(book).open("ab") as file:
        file.write(b"<<<<<<< HEAD\n")
    LedgerFile(book, desk="b").append(draft("c"))
    done = mend(book)
    assert (done.entries, done.lost) == (6, ())
    assert audit(book) == ()


def test_an_entry_with_facts_that_nothing_can_have_is_named_and_set_aside(book: Path) -> None:
    LedgerFile(book, desk="b").append(draft("odd", minutes="many"))
    [problem] = audit(book)
    assert str(problem).startswith("ledger.jsonl:6: the entry 'odd': its 'minutes' is 'many', and must be a number")
    done = mend(book)
    assert [str(each) for each in done.lost] == [
        "ledger.jsonl:6: the entry 'odd': its 'minutes' is 'many', and must be a number; it was set aside"
    ]
    assert done.entries == 5
    assert any(b'"odd"' in path.read_bytes() for path in done.kept)
    assert audit(book) == ()
    assert read_again(book) == ["a0", "a1", "a2", "b0", "b1"]
