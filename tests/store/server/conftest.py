"""A line to the server that can be cut, desks that come over it, and a book with a ledger in its folder."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from copydesk.store.journal.ledger_file import LedgerFile
from copydesk.store.server import connection as server_link
from copydesk.store.server.server_ledger import ServerLedger
from ledger_trials import draft
from relay import Relay
from server_trials import PLAN

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    import database
    from server_trials import Opener


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


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A book with three entries in its folder."""
    book = tmp_path / "book"
    book.mkdir()
    (book / "book.yaml").write_text(PLAN, "utf-8")
    LedgerFile(book, desk="window").append_many([draft("a"), draft("b", note="\u202e über\0")])
    LedgerFile(book, desk="window").append(draft("c"))
    return book
