"""The copy of a ledger on a server that is kept in the folder."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.store.files.book_folder import LedgerPaths
from ledger_trials import draft, names

if TYPE_CHECKING:
    from pathlib import Path

    from server_trials import Opener


def test_a_copy_that_cannot_be_kept_stops_nobody(at_desk: Opener, tmp_path: Path) -> None:
    store = at_desk("window")
    hidden = LedgerPaths(tmp_path / "window").hidden
    hidden.write_text("in the way")
    store.append(draft("a"))
    assert "copy of the server's ledger could not be kept" in store.notes[0]
    assert names(at_desk("door").entries()) == ["a"]
    hidden.unlink()
    store.append(draft("b"))
    store.append(draft("c"))
    assert names(at_desk("window").entries()) == ["a", "b", "c"]
