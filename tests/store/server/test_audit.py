"""Checking and mending a ledger on a server."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.cli.main import main
from copydesk.store.server import rows as server_rows
from server_trials import on_server

if TYPE_CHECKING:
    from pathlib import Path

    import database


@pytest.fixture
def service(server: database.Server) -> str:
    return server.own_service()


def said(capsys: pytest.CaptureFixture[str], *arguments: object, code: int = 0) -> tuple[str, str]:
    """What a command says on standard output and standard error."""
    assert main([str(argument) for argument in arguments]) == code
    found = capsys.readouterr()
    return found.out, found.err


def test_audit_names_what_is_wrong_on_the_server_and_mends_what_it_can(
    folder: Path, service: str, server: database.Server, capsys: pytest.CaptureFixture[str]
) -> None:
    on_server(folder, service)
    said(capsys, "ledger", folder, "move", "--to", "server")
    said(capsys, "pages", folder)
    with server.connect() as line:
        line.execute("update copydesk_entries set body = '{}' where book = %s and number in (1, 2)", [service])
        line.execute("delete from copydesk_entries where book = %s and number = 3", [service])
        line.execute("update copydesk_entries set key = 'q' where book = %s and number = 2", [service])
    out, _ = said(capsys, "audit", folder, code=1)
    assert f"server {service}: entry 1 is damaged: its checksum does not agree; copydesk audit --mend brings it" in out
    assert "entry 2 is damaged: its checksum does not agree; no copy in this folder has it" in out
    assert "entries are missing between number 1 and 3: 1" in out
    out, _ = said(capsys, "audit", folder, "--mend", code=1)
    assert "brought back from the copy here: 1" in out
    assert "what stood in entry 2 could not be brought back" in out
    assert "entry 1 is damaged" not in out
    said(capsys, "pages", folder)
    with server.connect() as line:
        found = [str(row.entry["entry"]) for row in server_rows.after(line, service, 0) if row.entry]
    assert sorted(found) == ["a", "b", "c"], "what the server lost was sent again"
