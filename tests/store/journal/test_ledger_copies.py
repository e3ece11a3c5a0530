"""The mirror never stops an entry, and always holds the whole ledger."""

from __future__ import annotations

import errno
import os
from typing import TYPE_CHECKING, Any

from copydesk.store.files.disk import Disk
from copydesk.store.journal.audit import audit, mend
from copydesk.store.journal.ledger_copies import read_copy, whole_file
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


def renumbered(book: Path, order: list[str]) -> None:
    """Put the ledger's entries into another order, as a merge by version control or by copydesk elsewhere does."""
    found = {str(entry["entry"]): entry for entry in LedgerFile(book, desk="r").entries()}
    whole = whole_file(read_copy(ledger_of(book), Disk()).found.headers[0], [[found[name]] for name in order])
    ledger_of(book).write_bytes(whole)


def test_a_mirror_left_short_by_a_ledger_replaced_from_outside_gets_everything_with_the_next_entry(
    tmp_path: Path,
) -> None:
    written(tmp_path)
    short = mirror_of(tmp_path).read_bytes()
    LedgerFile(tmp_path, desk="b").append_many([draft("b0"), draft("b1")])
    mirror_of(tmp_path).write_bytes(short)
    renumbered(tmp_path, ["b0", "a0", "a1", "b1", "a2"])
    [problem] = audit(tmp_path)
    assert "the mirror lacks 2 of the ledger's entries" in str(problem)
    ledger = LedgerFile(tmp_path, desk="c")
    ledger.append(draft("c"))
    assert "The mirror of the ledger lacked 2 entries; it has them again." in ledger.news()
    assert audit(tmp_path) == ()
    assert mirror_of(tmp_path).read_bytes() == ledger_of(tmp_path).read_bytes()


def test_what_only_the_mirror_has_stays_there_while_it_takes_what_it_lacks(tmp_path: Path) -> None:
    written(tmp_path)
    LedgerFile(tmp_path, desk="b").append(draft("b0"))
    short = ledger_of(tmp_path).read_bytes()
    LedgerFile(tmp_path, desk="b").append(draft("b1"))
    ledger_of(tmp_path).write_bytes(short)
    renumbered(tmp_path, ["b0", "a0", "a1", "a2"])
    ledger = LedgerFile(tmp_path, desk="c")
    for name in ("c", "d"):
        ledger.append(draft(name))
    held = read_copy(mirror_of(tmp_path), Disk()).entries
    assert set(held) == {"a0", "a1", "a2", "b0", "b1", "c", "d"}
    mend(tmp_path)
    assert set(read_again(tmp_path)) == {"a0", "a1", "a2", "b0", "b1", "c", "d"}
    assert audit(tmp_path) == ()
