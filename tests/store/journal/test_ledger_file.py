"""The ledger in a book folder: what other programs, disks and people may do to it."""

from __future__ import annotations

import errno
import os
from typing import TYPE_CHECKING

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.store.files.book_folder import LedgerPaths
from copydesk.store.files.disk import Disk
from copydesk.store.journal.audit import audit
from copydesk.store.journal.ledger_file import LedgerFile
from copydesk.store.journal.line_format import Header, entry_line, header_line
from faulty_disk import FaultyDisk
from ledger_trials import draft, ledger_of, mirror_of, names, read_again, written

if TYPE_CHECKING:
    from pathlib import Path

# --- opening and reading --------------------------------------------------------------------------------------------


def test_looking_at_a_book_writes_nothing(tmp_path: Path) -> None:
    ledger = LedgerFile(tmp_path, desk="a")
    assert (ledger.entries(), ledger.refresh(), ledger.notes) == ([], [], ())
    assert list(tmp_path.iterdir()) == []
    written(tmp_path)
    before = {path: path.stat().st_mtime_ns for path in tmp_path.rglob("*")}
    assert names(LedgerFile(tmp_path, desk="b", read_only=True).entries()) == ["a0", "a1", "a2"]
    assert {path: path.stat().st_mtime_ns for path in tmp_path.rglob("*")} == before


def test_a_look_at_an_unchanged_file_reads_nothing(tmp_path: Path) -> None:
    written(tmp_path)
    disk = FaultyDisk()
    ledger = LedgerFile(tmp_path, desk="b", disk=disk)
    ledger.entries()
    before = disk.touches
    assert ledger.refresh() == []
    assert disk.touches == before + 1


def test_only_what_is_new_is_read(tmp_path: Path) -> None:
    class Counting(Disk):
        count = 0

        def read(self, path: Path, start: int = 0, length: int = -1) -> tuple[os.stat_result, bytes]:
            status, data = super().read(path, start, length)
            self.count += len(data)
            return status, data

    writer = written(tmp_path, 200)
    disk = Counting()
    reader = LedgerFile(tmp_path, desk="b", disk=disk)
    whole = disk.count
    assert len(reader.entries()) == 200
    writer.append(draft("new"))
    assert names(reader.refresh()) == ["new"]
    assert disk.count - whole < whole / 50


def test_opened_to_be_read_refuses_to_write(tmp_path: Path) -> None:
    written(tmp_path)
    ledger = LedgerFile(tmp_path, desk="b", read_only=True)
    with pytest.raises(CopydeskError, match="opened only to be read"):
        ledger.append(draft("b"))
    assert read_again(tmp_path) == ["a0", "a1", "a2"]


def test_a_newer_ledger_is_only_read(tmp_path: Path) -> None:
    more = {"tick": 1, "seal": "red wax", "what": "sealed"}
    ledger_of(tmp_path).write_bytes(header_line(Header(2, "b0")) + entry_line(1, [draft("a", **more)]))
    before = ledger_of(tmp_path).read_bytes()
    ledger = LedgerFile(tmp_path, desk="b")
    assert ledger.entries() == [draft("a", **more)]
    assert any("newer copydesk" in note for note in ledger.notes)
    with pytest.raises(CopydeskError, match="newer copydesk"):
        ledger.append(draft("b"))
    assert ledger_of(tmp_path).read_bytes() == before


def test_a_ledger_made_newer_while_open_is_only_read_from_then_on(tmp_path: Path) -> None:
    ledger = written(tmp_path)
    newer = tmp_path / "newer"
    newer.write_bytes(ledger_of(tmp_path).read_bytes().replace(*_headers(tmp_path)))
    newer.replace(ledger_of(tmp_path))
    with pytest.raises(CopydeskError, match="newer copydesk"):
        ledger.append(draft("b"))
    assert read_again(tmp_path) == ["a0", "a1", "a2"]


def _headers(folder: Path) -> tuple[bytes, bytes]:
    old = ledger_of(folder).read_bytes().splitlines(keepends=True)[0]
    return old, header_line(Header(2, "b0"))


def test_the_older_form_is_written_on(tmp_path: Path) -> None:
    ledger_of(tmp_path).write_bytes(header_line(Header(0, "b0")) + entry_line(1, [draft("a", tick=4)]))
    assert LedgerFile(tmp_path, desk="b").append(draft("b"))["tick"] == 5


# --- files changed by others ----------------------------------------------------------------------------------------


def test_a_replaced_file_is_read_anew(tmp_path: Path) -> None:
    ledger = written(tmp_path)
    ledger.entries()
    other = tmp_path / "other"
    lines = ledger_of(tmp_path).read_bytes().splitlines(keepends=True)
    other.write_bytes(b"".join([*lines, entry_line(4, [draft("b", tick=4)])]))
    other.replace(ledger_of(tmp_path))
    before = ledger.generation
    assert names(ledger.refresh()) == ["b"]
    assert ledger.generation > before
    assert ledger.notes == ()
    assert ledger.append(draft("c"))["tick"] == 5


def test_a_file_replaced_by_an_older_one_is_spoken_of(tmp_path: Path) -> None:
    ledger = written(tmp_path)
    older = tmp_path / "older"
    older.write_bytes(b"".join(ledger_of(tmp_path).read_bytes().splitlines(keepends=True)[:2]))
    older.replace(ledger_of(tmp_path))
    assert ledger.refresh() == []
    assert names(ledger.entries()) == ["a0"]
    assert any("of the entries read before 2 no longer stand in it" in note for note in ledger.notes)
    assert any("shorter than its mirror" in note for note in ledger.notes)


def test_a_file_rewritten_in_place_is_read_anew(tmp_path: Path) -> None:
    ledger = written(tmp_path)
    before = ledger.generation
    data = ledger_of(tmp_path).read_bytes()
    ledger_of(tmp_path).write_bytes(data.replace(b'"a2"', b'"aX"'))
    ledger.refresh()
    assert ledger.generation > before
    assert names(ledger.entries()) == ["a0", "a1"]
    assert any("ledger.jsonl:4: this line is damaged" in note for note in ledger.notes)


def test_a_file_cut_short_while_open_is_spoken_of(tmp_path: Path) -> None:
    ledger = written(tmp_path)
    os.truncate(ledger_of(tmp_path), ledger_of(tmp_path).stat().st_size - 10)
    ledger.refresh()
    assert names(ledger.entries()) == ["a0", "a1"]
    assert any("was cut short by another program" in note for note in ledger.notes)


def test_a_touched_file_is_not_read_anew(tmp_path: Path) -> None:
    ledger = written(tmp_path)
    before = ledger.generation
    os.utime(ledger_of(tmp_path))
    assert ledger.refresh() == []
    assert ledger.generation == before


def test_a_file_that_is_gone_is_not_begun_again(tmp_path: Path) -> None:
    ledger = written(tmp_path)
    ledger_of(tmp_path).rename(tmp_path / "elsewhere")
    for act in (ledger.refresh, lambda: ledger.append(draft("b"))):
        with pytest.raises(CopydeskError, match="is gone"):
            act()
    assert names(ledger.entries()) == ["a0", "a1", "a2"]
    assert not ledger_of(tmp_path).exists()
    (tmp_path / "elsewhere").rename(ledger_of(tmp_path))
    assert ledger.append(draft("b"))["tick"] == 4


@pytest.mark.parametrize("empty", [False, True])
def test_with_the_ledger_gone_the_mirror_is_read(tmp_path: Path, empty: bool) -> None:
    written(tmp_path)
    ledger_of(tmp_path).unlink()
    if empty:
        ledger_of(tmp_path).touch()
    ledger = LedgerFile(tmp_path, desk="b")
    assert names(ledger.entries()) == ["a0", "a1", "a2"]
    assert any("only its mirror could be read" in note for note in ledger.notes)
    with pytest.raises(CopydeskError, match="--mend"):
        ledger.append(draft("b"))


def test_a_folder_that_vanishes_and_comes_back(tmp_path: Path) -> None:
    book = tmp_path / "book"
    book.mkdir()
    ledger = written(book)
    book.rename(tmp_path / "drawer")
    with pytest.raises(CopydeskError):
        ledger.refresh()
    with pytest.raises(CopydeskError, match="put the drive back"):
        ledger.append(draft("b"))
    assert not book.exists()
    (tmp_path / "drawer").rename(book)
    ledger.append(draft("b"))
    assert read_again(book) == ["a0", "a1", "a2", "b"]


def test_a_folder_that_was_never_there(tmp_path: Path) -> None:
    ledger = LedgerFile(tmp_path / "nowhere", desk="a")
    assert ledger.entries() == []
    with pytest.raises(CopydeskError, match="the folder is not there"):
        ledger.append(draft("a"))
    assert list(tmp_path.iterdir()) == []


def test_the_hidden_folder_may_be_tidied_away_while_desks_are_open(tmp_path: Path) -> None:
    one, other = written(tmp_path, desk="one"), LedgerFile(tmp_path, desk="other")
    for path in (tmp_path / ".copydesk").iterdir():
        path.unlink()
    (tmp_path / ".copydesk").rmdir()
    other.append(draft("x"))
    one.append(draft("y"))
    assert mirror_of(tmp_path).read_bytes() == ledger_of(tmp_path).read_bytes()
    assert audit(tmp_path) == ()


def test_the_clock_does_not_matter(tmp_path: Path) -> None:
    ledger = LedgerFile(tmp_path, desk="a")
    ledger.append(draft("late", at="2031-01-01T00:00:00+00:00"))
    ledger.append(draft("early", at="1999-01-01T00:00:00+00:00"))
    os.utime(ledger_of(tmp_path), (0, 0))
    ledger.append(draft("now"))
    assert read_again(tmp_path) == ["late", "early", "now"]


class BadMirror(Disk):
    """A disk that cannot read one file any more."""

    def read(self, path: Path, start: int = 0, length: int = -1) -> tuple[os.stat_result, bytes]:
        if "mirror" in path.name:
            raise OSError(errno.EIO, "Input/output error")
        return super().read(path, start, length)


def test_a_mirror_that_cannot_be_read_is_told_whenever_the_book_is_opened(tmp_path: Path) -> None:
    first = LedgerFile(tmp_path, desk="window")
    first.append(draft("a"))
    assert not first.notes
    for disk in (BadMirror(), Disk()):
        if type(disk) is Disk:
            mirror = LedgerPaths(tmp_path).mirror
            mirror.unlink()
            mirror.mkdir()
        store = LedgerFile(tmp_path, desk="window", disk=disk)
        assert len(store.entries()) == 1
        (note,) = store.notes
        assert note.startswith("The ledger has no second copy now, since its mirror cannot be read: ")
        assert "ledger.mirror.jsonl" in note


@pytest.mark.parametrize("what", ["folder", "link", "pipe"])
def test_what_stands_in_the_mirrors_place_stops_no_entry_and_is_told(tmp_path: Path, what: str) -> None:
    LedgerFile(tmp_path, desk="window").append(draft("a"))
    mirror = LedgerPaths(tmp_path).mirror
    mirror.unlink()
    other = tmp_path / "other.txt"
    other.write_text("dear")
    {"folder": mirror.mkdir, "link": lambda: mirror.symlink_to(other), "pipe": lambda: os.mkfifo(mirror)}[what]()
    store = LedgerFile(tmp_path, desk="window")
    store.append(draft("b"))
    (said,) = store.news()
    assert said.startswith("The entry is safe, but the mirror of the ledger could not be written: ")
    assert read_again(tmp_path) == ["a", "b"]
    assert other.read_text() == "dear"
    (problem,) = audit(tmp_path)
    assert "its mirror cannot be read" in problem.what
    mirror.rmdir() if what == "folder" else mirror.unlink()
    store.append(draft("c"))
    assert mirror.read_bytes() == ledger_of(tmp_path).read_bytes()
    assert not audit(tmp_path)


def test_an_empty_ledger_is_not_begun_anew_beside_a_mirror_that_nobody_can_read(tmp_path: Path) -> None:
    LedgerFile(tmp_path, desk="window").append(draft("a"))
    mirror = LedgerPaths(tmp_path).mirror
    mirror.unlink()
    mirror.mkdir()
    ledger_of(tmp_path).write_bytes(b"")
    with pytest.raises(CopydeskError, match="not an ordinary file"):
        LedgerFile(tmp_path, desk="window").append(draft("b"))
    assert ledger_of(tmp_path).read_bytes() == b""
