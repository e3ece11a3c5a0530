"""The stores that must all keep the same promises, a database server, and the way to the trials beside these tests."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

import database
from copydesk.store.journal.ledger_file import LedgerFile
from copydesk.store.server.server_ledger import ServerLedger

sys.path.insert(0, str(Path(__file__).parent))  # the long trials, of which the suite runs a short form

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from copydesk.store.journal.ledger_store import LedgerStore


@pytest.fixture(scope="session")
def one_server() -> Iterator[database.Server]:
    """A database server for all tests of this process; it does not wait for the platter."""
    if database.WHY_NOT:
        pytest.skip(database.WHY_NOT)
    server = database.Server(fsync="off")
    server.start()
    yield server
    server.remove()


@pytest.fixture
def server(one_server: database.Server, monkeypatch: pytest.MonkeyPatch) -> database.Server:
    """The server, which this test's desks find through libpq's own files."""
    for name, value in one_server.environment.items():
        monkeypatch.setenv(name, value)
    return one_server


@pytest.fixture(params=["file", "server"])
def open_store(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Callable[[str], LedgerStore]]:
    """Opens the same ledger for the desk named; once for each kind of store there is.

    With a server, each desk has a folder of its own, as on a machine of its own.
    """
    opened: list[LedgerStore] = []
    service = ""
    if request.param == "server":
        service = request.getfixturevalue("server").service(f"s{abs(hash(tmp_path))}")

    def at_desk(desk: str) -> LedgerStore:
        if not service:
            opened.append(LedgerFile(tmp_path, desk=desk))
        else:
            folder = tmp_path / f"{desk}-{len(opened)}"
            folder.mkdir()
            opened.append(ServerLedger(folder, desk=desk, service=service))
        return opened[-1]

    yield at_desk
    for store in opened:
        store.close()
