"""The ledger and the disk under it: faults, locks, permissions, links; and the database over it."""

from __future__ import annotations

import errno
import os
import stat
import subprocess
import sys
import threading
import time
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.store.files.book_folder import LedgerPaths
from copydesk.store.files.disk import Disk
from copydesk.store.files.file_lock import held
from copydesk.store.journal.audit import audit
from copydesk.store.journal.ledger_file import LedgerFile
from faulty_disk import FaultyDisk
from ledger_trials import draft, ledger_of, mirror_of, names, read_again, written

# --- disks that refuse ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("error", "said"),
    [
        (errno.ENOSPC, "the disk is full; make room"),
        (errno.EDQUOT, "may not fill more"),
        (errno.EIO, "the disk reports a fault"),
        (errno.EROFS, "can only be read"),
        (errno.EACCES, "this account may not write there"),
        (errno.ESTALE, "the network folder is gone"),
        (errno.EMFILE, "too many files are open"),
        (errno.EXDEV, "the system says"),
    ],
)
def test_each_fault_of_the_disk_is_a_sentence_and_nothing_is_recorded(tmp_path: Path, error: int, said: str) -> None:
    written(tmp_path)
    before = ledger_of(tmp_path).read_bytes()
    healthy = FaultyDisk()
    LedgerFile(tmp_path, desk="b", disk=healthy)
    opening = healthy.touches
    for touch in range(opening, opening + 40):
        disk = FaultyDisk({touch: error})
        ledger = LedgerFile(tmp_path, desk="b", disk=disk)
        try:
            ledger.append(draft("b"))
        except CopydeskError as refused:
            assert said in str(refused)
            assert "\n" not in str(refused)
            assert ledger_of(tmp_path).read_bytes() == before
            ledger.append(draft("b"))
        assert read_again(tmp_path) == ["a0", "a1", "a2", "b"]
        ledger_of(tmp_path).write_bytes(before)
        mirror_of(tmp_path).write_bytes(before)
        if disk.touches < touch:
            break
    assert touch > opening + 8, "faults were met at every step of an entry"


def test_short_writes_are_written_on(tmp_path: Path) -> None:
    disk = FaultyDisk(dict.fromkeys(range(5, 40), "short"), share=0.01)
    LedgerFile(tmp_path, desk="a", disk=disk).append(draft("a"))
    assert read_again(tmp_path) == ["a"]


def test_a_folder_that_can_only_be_read_is_read(tmp_path: Path) -> None:
    written(tmp_path)

    class ReadOnly(Disk):
        def open_to_append(self, _: Path) -> int:
            raise OSError(errno.EROFS, os.strerror(errno.EROFS))

    ledger = LedgerFile(tmp_path, desk="b", disk=ReadOnly())
    assert names(ledger.entries()) == ["a0", "a1", "a2"]
    with pytest.raises(CopydeskError, match=r"Nothing was recorded: .*the disk can only be read"):
        ledger.append(draft("b"))


def test_a_mirror_that_cannot_be_written_does_not_stop_an_entry(tmp_path: Path) -> None:
    class NoMirror(Disk):
        def append(self, path: Path, data: bytes, at: int, **how: Any) -> os.stat_result:
            if "mirror" in path.name:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
            return super().append(path, data, at, **how)

    ledger = LedgerFile(tmp_path, desk="a", disk=NoMirror())
    ledger.append(draft("a"))
    ledger.append(draft("b"))
    [note] = ledger.notes
    assert note.startswith("The entry is safe, but the mirror")
    LedgerFile(tmp_path, desk="b").append(draft("c"))
    assert ledger_of(tmp_path).read_bytes() == mirror_of(tmp_path).read_bytes()


def test_a_mirror_turned_into_a_link_does_not_take_back_an_entry(tmp_path: Path) -> None:
    ledger = written(tmp_path)
    mirror_of(tmp_path).rename(tmp_path / "outside")
    mirror_of(tmp_path).symlink_to(tmp_path / "outside")
    ledger.append(draft("b"))
    assert any("The entry is safe, but the mirror" in note and "is a link" in note for note in ledger.notes)
    assert read_again(tmp_path) == ["a0", "a1", "a2", "b"]


def test_an_entry_whose_sync_failed_is_synced_when_asked_for_again(tmp_path: Path) -> None:
    class NoWayBack(FaultyDisk):
        syncs = 0
        broken = True

        def sync(self, _: int) -> None:
            self.syncs += 1
            if self.broken:
                raise OSError(errno.EIO, os.strerror(errno.EIO))

        def truncate(self, *_: int) -> None:
            raise OSError(errno.EIO, os.strerror(errno.EIO))

    written(tmp_path)
    disk = NoWayBack()
    ledger = LedgerFile(tmp_path, desk="b", disk=disk)
    with pytest.raises(CopydeskError, match="the disk reports a fault"):
        ledger.append(draft("b"))
    with pytest.raises(CopydeskError, match="the disk reports a fault"):
        ledger.append(draft("b"))
    disk.broken, disk.syncs = False, 0
    assert ledger.append(draft("b"))["tick"] == 4
    assert disk.syncs == 1
    assert read_again(tmp_path) == ["a0", "a1", "a2", "b"]


# --- locks ----------------------------------------------------------------------------------------------------------


def test_a_desk_that_holds_on_is_waited_for_only_so_long(tmp_path: Path) -> None:
    ledger = LedgerFile(tmp_path, desk="b", patience=0.05)
    with held(LedgerPaths(tmp_path), Disk()):
        began = time.monotonic()
        with pytest.raises(CopydeskError, match="another desk is still writing"):
            ledger.append(draft("b"))
        assert 0.05 <= time.monotonic() - began < 2
    ledger.append(draft("b"))
    assert read_again(tmp_path) == ["b"]


def test_a_lock_on_a_file_tidied_away_meanwhile_is_no_lock(tmp_path: Path) -> None:
    ledger, places = LedgerFile(tmp_path, desk="b"), LedgerPaths(tmp_path)
    writing = threading.Thread(target=ledger.append, args=(draft("b"),))
    with ExitStack() as second:
        with held(places, Disk()):
            writing.start()
            time.sleep(0.05)  # the desk waits for the first lock
            places.lock.unlink()
            second.enter_context(held(places, Disk()))
        time.sleep(0.05)
        assert writing.is_alive(), "the desk wrote although another holds the lock"
    writing.join()
    assert read_again(tmp_path) == ["b"]


def test_a_folder_that_cannot_be_locked_is_a_sentence(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    import portalocker

    def no_locks(*_: object) -> None:
        raise portalocker.exceptions.LockException("no locks available")

    monkeypatch.setattr(portalocker, "lock", no_locks)
    with pytest.raises(CopydeskError, match="cannot be locked"):
        LedgerFile(tmp_path, desk="a").append(draft("a"))


# --- who may write, and where ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(("folder", "file"), [(0o700, 0o600), (0o755, 0o644), (0o775, 0o664), (0o777, 0o664)])
def test_files_get_the_folders_permissions_but_never_for_all(tmp_path: Path, folder: int, file: int) -> None:
    tmp_path.chmod(folder)
    before = os.umask(0o077)
    try:
        written(tmp_path)
    finally:
        os.umask(before)
    for path in tmp_path.rglob("*"):
        mode = stat.S_IMODE(path.lstat().st_mode)
        assert mode == ((folder & ~0o002) if path.is_dir() else file), path
    assert audit(tmp_path) == ()


@pytest.mark.parametrize(
    "name", ["ledger.jsonl", ".copydesk/ledger.mirror.jsonl", ".copydesk/ledger.lock", ".copydesk"]
)
def test_links_are_not_followed(tmp_path: Path, name: str) -> None:
    book, outside = tmp_path / "book", tmp_path / "outside"
    book.mkdir()
    written(book)
    (book / name).rename(outside)
    before = outside.read_bytes() if outside.is_file() else b""
    (book / name).symlink_to(outside)
    try:
        ledger = LedgerFile(book, desk="b")
        ledger.append(draft("b"))
    except CopydeskError as refused:
        assert "link" in str(refused)
    else:
        assert any("link" in note for note in ledger.notes)
    assert outside.is_dir() or outside.read_bytes() == before


def test_a_pipe_in_the_ledgers_place_does_not_hang(tmp_path: Path) -> None:
    os.mkfifo(ledger_of(tmp_path))
    with pytest.raises(CopydeskError, match="not an ordinary file"):
        LedgerFile(tmp_path, desk="a")


def test_the_hidden_folder_stays_out_of_version_control(tmp_path: Path) -> None:
    written(tmp_path)
    assert (tmp_path / ".copydesk" / ".gitignore").read_text() == "*\n"


# --- the database ---------------------------------------------------------------------------------------------------


def test_the_ledger_is_a_tinydb_table(tmp_path: Path) -> None:
    from tinydb import where

    from copydesk.store.journal.journal import Journal
    from copydesk.store.journal.tinydb_storage import EntryDatabase

    written(tmp_path)
    journal = Journal(ledger_of(tmp_path), Disk())
    journal.catch_up()
    table = EntryDatabase(journal)
    assert [document["entry"] for document in table.search(where("tick") > 1)] == ["a1", "a2"]
    assert table.get(doc_id=2) == journal.by_id["a1"]
    assert table.insert(draft("b", tick=4)) == 4
    assert [document["entry"] for document in table.search(where("tick") > 2)] == ["a2", "b"]
    assert len(table) == 4


def test_the_database_takes_no_change_but_new_entries(tmp_path: Path) -> None:
    from copydesk.store.journal.journal import Journal
    from copydesk.store.journal.tinydb_storage import EntryDatabase

    written(tmp_path)
    journal = Journal(ledger_of(tmp_path), Disk())
    journal.catch_up()
    database = EntryDatabase(journal)
    before = ledger_of(tmp_path).read_bytes()
    for change in (
        database.drop_tables,
        database.truncate,
        lambda: database.update({"what": "ruled"}),
        lambda: database.remove(doc_ids=[1]),
    ):
        with pytest.raises(CopydeskError, match="never changed"):
            change()
    assert ledger_of(tmp_path).read_bytes() == before
    assert len(database) == 3


def test_opening_the_module_does_not_import_the_database() -> None:
    code = (
        "import sys, copydesk.store.journal.ledger_file; "
        "sys.exit('tinydb' in sys.modules or 'portalocker' in sys.modules)"
    )
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[3])}
    assert subprocess.run([sys.executable, "-c", code], env=environment, check=False).returncode == 0
