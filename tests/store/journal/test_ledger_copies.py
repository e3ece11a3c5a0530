"""The mirror never stops an entry."""

from __future__ import annotations

import errno
import os
from typing import TYPE_CHECKING, Any

from copydesk.store.files.disk import Disk
from copydesk.store.journal.ledger_file import LedgerFile
from ledger_trials import draft, ledger_of, mirror_of, read_again, written

if TYPE_CHECKING:
    from pathlib import Path


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
