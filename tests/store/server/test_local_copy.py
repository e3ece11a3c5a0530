"""The copy of a ledger on a server that is kept in the folder."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from copydesk.store.files.book_folder import LedgerPaths
from copydesk.store.server import connection as server_link
from copydesk.store.server.server_ledger import ServerLedger
from ledger_trials import draft, names
from relay import Relay

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    import database

    Opener = Callable[..., ServerLedger]


@pytest.fixture(autouse=True)
def quick_tries(monkeypatch: pytest.MonkeyPatch) -> None:
    """A line that broke is looked for again at once."""
    monkeypatch.setattr(server_link, "_PAUSES", (0.01,))
    monkeypatch.setattr("copydesk.store.server.server_ledger._SEND_AGAIN", 0.02)


@pytest.fixture
def relay(server: database.Server) -> Iterator[Relay]:
    """A line to the server that can be cut."""
    line = Relay(server.port)
    yield line
    line.close()


@pytest.fixture
def service(server: database.Server, relay: Relay) -> str:
    """A new ledger's name; desks reach it over the line that can be cut."""
    return server.own_service(relay.port)


@pytest.fixture
def at_desk(service: str, tmp_path: Path) -> Iterator[Opener]:
    """Opens the ledger at a desk with a folder of its own."""
    opened: list[ServerLedger] = []

    def open_it(desk: str, **more: Any) -> ServerLedger:
        folder = tmp_path / desk
        folder.mkdir(exist_ok=True)
        opened.append(ServerLedger(folder, desk=desk, service=service, **more))
        return opened[-1]

    yield open_it
    for store in opened:
        store.close()


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
