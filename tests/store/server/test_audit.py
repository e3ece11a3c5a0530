"""Checking and mending a ledger on a server."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any
from zlib import crc32

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
    assert "2 entries kept in this folder are not on it yet" in out
    out, _ = said(capsys, "audit", folder, "--mend", code=1)
    assert "brought back from the copy here: 1" in out
    assert "what stood in entry 2 could not be brought back" in out
    assert "entry 1 is damaged" not in out
    said(capsys, "pages", folder)
    with server.connect() as line:
        found = [str(row.entry["entry"]) for row in server_rows.after(line, service, 0) if row.entry]
    assert sorted(found) == ["a", "b", "c"], "what the server lost was sent again"


def put(line: Any, service: str, number: int, body: dict[str, Any]) -> None:
    """A row as other hands might write it: its checksum agrees."""
    written = json.dumps(body)
    line.execute(
        "insert into copydesk_entries (book, number, key, tick, body, sum) values (%s, %s, %s, 1, %s, %s)",
        [service, number, body.get("entry", f"row{number}"), written, crc32(written.encode())],
    )
    line.execute("update copydesk_ledgers set last = %s where book = %s", [number, service])


def test_a_row_with_a_false_count_stops_no_desk(
    folder: Path, service: str, server: database.Server, capsys: pytest.CaptureFixture[str]
) -> None:
    on_server(folder, service)
    said(capsys, "ledger", folder, "move", "--to", "server")
    with server.connect() as line:
        for number, tick in enumerate((2**53, -1, "7", None, True, 2.5), 4):
            put(line, service, number, {"entry": f"false{number}", "tick": tick, "what": "written"})
        put(line, service, 10, {"tick": 4})
    _, err = said(capsys, "record", folder, "1r", "ruled")
    assert "entry 4 on the server" in err and "has not the id and the count" in err
    with server.connect() as line:
        newest = [row.entry for row in server_rows.after(line, service, 0) if row.entry][-1]
    assert newest["what"] == "ruled" and newest["tick"] == 4
    out, _ = said(capsys, "audit", folder, code=1)
    assert out.count("has not the id and the count that an entry must have") == 7


def test_facts_that_cannot_be_are_told_until_the_entry_is_taken_back(
    folder: Path, service: str, server: database.Server, capsys: pytest.CaptureFixture[str]
) -> None:
    on_server(folder, service)
    said(capsys, "ledger", folder, "move", "--to", "server")
    at = "2027-01-12T09:30:00+01:00"
    with server.connect() as line:
        put(line, service, 4, {"entry": "w4", "tick": 4, "at": at, "what": "written", "about": "", "minutes": "many"})
    out, _ = said(capsys, "audit", folder, code=1)
    assert "entry 4: its 'minutes' is 'many', and must be" in out
    assert "copydesk undo book w4 takes the entry back" in out
    said(capsys, "undo", folder, "w4")
    assert "is sound" in said(capsys, "audit", folder)[0]


def test_an_entry_lost_and_sent_again_is_not_missing(
    folder: Path, service: str, server: database.Server, capsys: pytest.CaptureFixture[str]
) -> None:
    on_server(folder, service)
    said(capsys, "ledger", folder, "move", "--to", "server")
    said(capsys, "record", folder, "1r", "ruled")
    said(capsys, "record", folder, "1v", "ruled")
    said(capsys, "audit", folder)
    with server.connect() as line:
        line.execute("delete from copydesk_entries where book = %s and number = 4", [service])
        held = server_rows.after(line, service, 0)
    assert [row.number for row in held] == [1, 2, 3, 5]
    out, _ = said(capsys, "audit", folder, code=1)
    assert "it lacks 1 entry that later ones name as known" in out
    said(capsys, "pages", folder)
    assert "is sound" in said(capsys, "audit", folder)[0]
    for given in (("ledger", folder, "--json"), ("log", folder, "--json")):
        found = json.loads(said(capsys, *given)[0])
        assert (found["entries"] if isinstance(found, dict) else len(found)) == 5
