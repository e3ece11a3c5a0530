"""The least rights that a desk's account needs on the server, as the help names them."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from psycopg.errors import InsufficientPrivilege

from copydesk.book.common.errors import ServerRefusedError
from copydesk.store.plan_file.book_file import read_book
from copydesk.store.server import rows as server_rows
from copydesk.store.server.audit import mend_server
from copydesk.store.server.move_ledger import move_to_file, move_to_server
from copydesk.store.server.server_ledger import ServerLedger
from ledger_trials import draft, names
from server_trials import on_server

if TYPE_CHECKING:
    import database

FORBIDDEN = (
    "update copydesk_entries set tick = 1",
    "delete from copydesk_entries",
    "delete from copydesk_ledgers",
    "drop table copydesk_entries",
)
HELP = (Path(__file__).parents[3] / "copydesk" / "help" / "server.md").read_text("utf-8")


def rights(who: str) -> list[str]:
    """The lines of SQL that the help gives for an account, with ``{}`` for its name."""
    told = [line.strip() for line in HELP.splitlines() if line.strip().startswith("grant ")]
    return [line.replace(who, "{}") for line in told if line.endswith(f" to {who};")]


@pytest.fixture(autouse=True)
def tables(server: database.Server) -> None:
    """The tables are there, made by the account that owns them."""
    with server.connect() as line:
        server_rows.prepare(line)


def test_a_desk_records_with_the_rights_that_the_help_names(server: database.Server, tmp_path: Path) -> None:
    assert len(rights("scribe")) == 2
    with server.account(*rights("scribe")) as name:
        store = ServerLedger(tmp_path, desk="window", service=name)
        assert [entry["entry"] for entry in store.append_many([draft("a"), draft("b")])] == ["a", "b"]
        store.append(draft("c"))
        assert not store.notes
        store.close()
        again = ServerLedger(tmp_path, desk="loft", service=name)
        assert names(again.entries()) == ["a", "b", "c"]
        again.close()
        with server.connect_as(name) as line:
            for forbidden in FORBIDDEN:
                with pytest.raises(InsufficientPrivilege):
                    line.execute(forbidden)


@pytest.mark.parametrize("missing", [0, 1])
def test_no_right_named_is_one_too_many(server: database.Server, tmp_path: Path, missing: int) -> None:
    fewer = [right for at, right in enumerate(rights("scribe")) if at != missing]
    with server.account(*fewer) as name, pytest.raises(ServerRefusedError, match="permission denied"):  # noqa: SIM117
        with closing(ServerLedger(tmp_path, desk="window", service=name)) as store:
            store.append(draft("a"))


def test_a_keeper_moves_and_mends_with_the_rights_that_the_help_names(server: database.Server, folder: Path) -> None:
    with server.account(*rights("keeper")) as name:
        on_server(folder, name)
        assert move_to_server(folder, read_book(folder)).entries == 3
        ServerLedger(folder, desk="window", service=name).close()
        with server.connect() as line:
            line.execute("update copydesk_entries set sum = 1 where book = %s and number = 2", [name])
        assert "brought back from the copy here: 1" in mend_server(folder, name)[0]
        assert move_to_file(folder, read_book(folder), desk="window").entries == 3


def test_a_visitor_reads_and_records_nothing(server: database.Server, tmp_path: Path) -> None:
    with server.account(*rights("scribe"), *rights("visitor")) as name:
        first = ServerLedger(tmp_path, desk="window", service=name)
        first.append(draft("a"))
        first.close()
        with server.connect() as line:
            line.execute(f"revoke insert, update on copydesk_ledgers, copydesk_entries from {name}")  # type: ignore[arg-type]
            line.execute(f"revoke update (last) on copydesk_ledgers from {name}")  # type: ignore[arg-type]
        reader = ServerLedger(tmp_path, desk="loft", service=name)
        assert names(reader.entries()) == ["a"]
        with pytest.raises(ServerRefusedError, match=r"Nothing was recorded: .*permission denied"):
            reader.append(draft("b"))
        reader.close()
