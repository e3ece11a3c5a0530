"""The disk under a ledger: faults, permissions, links."""

from __future__ import annotations

import errno
import os
import stat
from typing import TYPE_CHECKING

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.store.files.disk import Disk
from copydesk.store.journal.audit import audit
from copydesk.store.journal.ledger_file import LedgerFile
from faulty_disk import FaultyDisk
from ledger_trials import draft, ledger_of, mirror_of, names, read_again, written

if TYPE_CHECKING:
    from pathlib import Path


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
