"""The lock of a book folder: how long it is waited for, and folders that cannot be locked."""

from __future__ import annotations

import threading
import time
from contextlib import ExitStack
from typing import TYPE_CHECKING

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.store.files.book_folder import LedgerPaths
from copydesk.store.files.disk import Disk
from copydesk.store.files.file_lock import held
from copydesk.store.journal.ledger_file import LedgerFile
from ledger_trials import draft, read_again

if TYPE_CHECKING:
    from pathlib import Path


def test_a_desk_that_holds_on_is_waited_for_only_so_long(tmp_path: Path) -> None:
    ledger = LedgerFile(tmp_path, desk="b", patience=0.05)
    with held(LedgerPaths(tmp_path), Disk()):
        began = time.monotonic()
        with pytest.raises(CopydeskError, match="another desk is still writing"):
            ledger.append(draft("b"))
        assert time.monotonic() - began >= 0.05
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
