"""Dated copies of a book folder, and restoring them."""

from __future__ import annotations

import errno
import os
import re
import shutil
import stat
import zipfile
from typing import TYPE_CHECKING

import pytest
from portalocker import LockFlags, lock

import copydesk.store.folder.backup as backup_module
from copydesk.book.common.errors import CopydeskError
from copydesk.store.files.disk import Disk
from copydesk.store.files.environment import now
from copydesk.store.folder.backup import backup, restore
from copydesk.store.journal.audit import audit
from copydesk.store.journal.ledger_file import LedgerFile
from faulty_disk import FaultyDisk
from ledger_trials import draft, read_again, seeded

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book folder with texts, a sample and a ledger."""
    folder = tmp_path / "ferry"
    (folder / "samples").mkdir(parents=True)
    (folder / "book.yaml").write_text("title: The Ferry\n")
    (folder / "samples" / "b.txt").write_bytes(bytes(range(256)) * 5000)
    LedgerFile(folder, desk="a").append_many([draft("a"), draft("b")])
    return folder


def state(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def contents(folder: Path) -> dict[str, bytes]:
    files = [path for path in folder.rglob("*") if path.is_file() and path.name != "ledger.lock"]
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


def test_a_copy_is_dated_and_holds_everything_but_the_lock(book: Path) -> None:
    done = backup(book)
    assert done.path.parent == book.parent
    assert re.fullmatch(r"ferry-\d{4}-\d\d-\d\d-\d{6}\.zip", done.path.name)
    with zipfile.ZipFile(done.path) as archive:
        assert {name: archive.read(name) for name in archive.namelist()} == contents(book)
    assert done.files == len(contents(book)) == 5
    assert not list(book.parent.glob(".*"))


def test_two_copies_in_one_second_have_two_names(book: Path) -> None:
    assert backup(book).path != backup(book).path


def test_what_a_killed_backup_left_is_cleared_away_and_the_next_in_the_same_second_works(
    book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    second = now()
    monkeypatch.setattr(backup_module, "now", lambda: second)
    half = book.parent / f".{book.name}-{second:%Y-%m-%d-%H%M%S}.zip.new"
    half.write_bytes(b"half a copy")
    other = book.parent / f".{book.name}-2026-01-01-000000.zip.new"
    with other.open("wb") as file:
        lock(file, LockFlags.EXCLUSIVE | LockFlags.NON_BLOCKING)
        made = backup(book)
        assert other.exists(), "what another backup is writing stays"
    assert not half.exists()
    assert made.path.name == f"{book.name}-{second:%Y-%m-%d-%H%M%S}.zip"
    backup(book)
    assert not list(book.parent.glob(".*.new"))


def test_a_copy_may_be_read_by_those_who_may_read_the_book(book: Path) -> None:
    book.chmod(0o700)
    assert stat.S_IMODE(backup(book).path.stat().st_mode) == 0o600


def test_links_are_left_out_and_named(book: Path, tmp_path: Path) -> None:
    (tmp_path / "secret").write_text("not in the book")
    (book / "link").symlink_to(tmp_path / "secret")
    (book / "folder").symlink_to(tmp_path)
    done = backup(book)
    assert [path.name for path in done.links] == ["folder", "link"]
    assert done.files == 5


def test_a_copy_in_the_books_own_folder_is_refused(book: Path) -> None:
    with pytest.raises(CopydeskError, match="would be lost with it"):
        backup(book, book / "samples")
    with pytest.raises(CopydeskError, match="is not a folder"):
        backup(book / "book.yaml")


@pytest.mark.parametrize(("name", "into"), [("samples/b.txt", 500), ("book.yaml", 65), ("", -22)])
def test_a_copy_that_does_not_read_back_is_thrown_away(
    book: Path, monkeypatch: pytest.MonkeyPatch, name: str, into: int
) -> None:
    write = backup_module._write

    def damaging(folder: Path, target: Path) -> dict[str, bytes]:
        sums = write(folder, target)
        with zipfile.ZipFile(target) as archive:
            start = archive.getinfo(name).header_offset if name else target.stat().st_size
        data = bytearray(target.read_bytes())
        data[start + into] ^= 255
        target.write_bytes(data)
        return sums

    monkeypatch.setattr(backup_module, "_write", damaging)
    with pytest.raises(CopydeskError, match=r"No copy was made: .* does not read back as it was"):
        backup(book)
    assert state(book.parent) == ["ferry"]


@pytest.mark.parametrize("error", [errno.ENOSPC, errno.EIO])
def test_a_disk_that_fails_leaves_no_half_copy(book: Path, error: int) -> None:
    for touch in range(20):
        disk = FaultyDisk({touch: error})
        try:
            backup(book, disk=disk)
        except CopydeskError as refused:
            assert str(refused).startswith("No copy was made")
            assert state(book.parent) == ["ferry"]
        else:
            next(book.parent.glob("*.zip")).unlink()
        if disk.touches <= touch:
            return
    raise AssertionError("the end was never reached")


def test_a_folder_that_can_only_be_read_is_copied(book: Path, tmp_path: Path) -> None:
    class NoLock(Disk):
        def open_to_append(self, _: Path) -> int:
            raise OSError(errno.EROFS, os.strerror(errno.EROFS))

    (tmp_path / "safe").mkdir()
    assert backup(book, tmp_path / "safe", disk=NoLock()).files == 5


def test_a_restored_book_is_the_book(book: Path, tmp_path: Path) -> None:
    before = contents(book)
    copy = backup(book).path
    done = restore(copy, tmp_path / "elsewhere")
    assert (done.files, done.kept) == (5, None)
    assert contents(tmp_path / "elsewhere") == before
    assert audit(tmp_path / "elsewhere") == ()
    LedgerFile(tmp_path / "elsewhere", desk="b").append(draft("c"))


def test_what_stood_there_is_kept(book: Path) -> None:
    book.chmod(0o750)
    copy = backup(book).path
    LedgerFile(book, desk="a").append(draft("later"))
    (book / "book.yaml").write_text("title: spoiled\n")
    newer = contents(book)
    done = restore(copy, book)
    assert done.kept is not None
    assert contents(done.kept) == newer
    assert (book / "book.yaml").read_text() == "title: The Ferry\n"
    assert read_again(book) == ["a", "b"]
    assert stat.S_IMODE(book.stat().st_mode) == 0o750


def test_a_copy_or_a_place_that_is_not_there_is_named(book: Path, tmp_path: Path) -> None:
    with pytest.raises(CopydeskError, match=r"there is no file .*none\.zip; name one"):
        restore(tmp_path / "none.zip", tmp_path / "again")
    made = backup(book).path
    with pytest.raises(CopydeskError, match=r"there is no folder .*nowhere to put it in"):
        restore(made, tmp_path / "nowhere" / "again")
    with pytest.raises(CopydeskError, match=r"there is no folder .*nowhere; make it"):
        backup(book, tmp_path / "nowhere")


def test_a_desk_that_is_open_is_told(book: Path) -> None:
    copy = backup(book).path
    desk = LedgerFile(book, desk="a")
    desk.append(draft("later"))
    restore(copy, book)
    desk.refresh()
    assert any("of the entries read before 1 no longer stand in it" in note for note in desk.notes)
    desk.append(draft("again"))
    assert read_again(book) == ["a", "b", "again"]


@pytest.mark.parametrize("name", ["../out.txt", "/out.txt", "samples/../../out.txt", "C:out.txt", "..\\out.txt"])
def test_an_archive_that_would_write_outside_is_refused(tmp_path: Path, name: str) -> None:
    archive = tmp_path / "bad.zip"
    with zipfile.ZipFile(archive, "w") as file:
        file.writestr("book.yaml", "title: x\n")
        file.writestr(name, "out")
    with pytest.raises(CopydeskError, match="would leave the folder"):
        restore(archive, tmp_path / "book")
    assert state(tmp_path) == ["bad.zip"]


def test_an_archive_that_is_no_book_is_refused(tmp_path: Path) -> None:
    archive = tmp_path / "bad.zip"
    with zipfile.ZipFile(archive, "w") as file:
        file.writestr("notes.txt", "nothing")
    with pytest.raises(CopydeskError, match="is not a backup of a book"):
        restore(archive, tmp_path / "book")


def test_an_archive_too_big_for_the_disk_is_refused(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    copy = backup(book).path
    usage = shutil.disk_usage(tmp_path)._replace(free=1000)
    monkeypatch.setattr(shutil, "disk_usage", lambda _: usage)
    with pytest.raises(CopydeskError, match="make room"):
        restore(copy, tmp_path / "elsewhere")


@pytest.mark.parametrize("seed", range(30))
def test_a_damaged_archive_leaves_everything_as_it_was(book: Path, seed: int) -> None:
    chance = seeded(seed)
    copy = backup(book).path
    data = bytearray(copy.read_bytes())
    for _ in range(chance.randrange(1, 4)):
        data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)
    copy.write_bytes(data[: len(data) - chance.choice([0, 0, 50])])
    before = contents(book)
    try:
        done = restore(copy, book)
    except CopydeskError as refused:
        assert "\n" not in str(refused)
        assert contents(book) == before
        assert state(book.parent) == ["ferry", copy.name]
    else:
        assert done.kept is not None
        assert contents(done.kept) == before


@pytest.mark.parametrize("touch", range(60))
def test_a_disk_that_fails_while_restoring_leaves_everything_as_it_was(book: Path, touch: int) -> None:
    copy = backup(book).path
    (book / "book.yaml").write_text("title: later\n")
    before = contents(book)
    try:
        done = restore(copy, book, disk=FaultyDisk({touch: errno.ENOSPC}))
    except CopydeskError as refused:
        assert str(refused).startswith("Nothing was restored")
        assert contents(book) == before
        assert state(book.parent) == ["ferry", copy.name]
    else:
        assert done.kept is not None
        assert contents(done.kept) == before
        assert (book / "book.yaml").read_text() == "title: The Ferry\n"
