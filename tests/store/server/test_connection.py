"""The line to a server: what may pass, and what is never shown."""

from __future__ import annotations

from typing import TYPE_CHECKING

import psycopg
import pytest

from copydesk.book.common.errors import CopydeskError, NotAllowedError, ServerRefusedError
from copydesk.store.server import connection as server_link
from copydesk.store.server import rows as server_rows
from copydesk.store.server.server_ledger import ServerLedger
from ledger_trials import draft
from server_trials import until

if TYPE_CHECKING:
    from pathlib import Path

    import database


def test_the_password_is_never_told(server: database.Server, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    service = server.own_service()
    monkeypatch.setenv("PGPASSFILE", str(tmp_path / "none"))
    monkeypatch.setenv("PGPASSWORD", "a-wrong-one")
    with pytest.raises(CopydeskError, match="password authentication failed") as caught:
        ServerLedger(tmp_path, desk="window", service=service)
    assert "a-wrong-one" not in str(caught.value)


def test_a_wrong_password_is_told_as_such_and_nothing_is_kept_for_later(
    server: database.Server, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    service = server.own_service()
    first = ServerLedger(tmp_path, desk="window", service=service)
    first.append(draft("a"))
    first.close()
    monkeypatch.setenv("PGPASSFILE", str(tmp_path / "none"))
    for password in ("a-wrong-one", ""):
        monkeypatch.setenv("PGPASSWORD", password)
        with pytest.raises(ServerRefusedError, match="does not let this desk in"):
            ServerLedger(tmp_path / "other", desk="loft", service=service)
        shut_out = ServerLedger(tmp_path, desk="window", service=service)
        assert len(shut_out.entries()) == 1, "the copy here can be looked at"
        assert "put the name, the password or the rights right" in shut_out.why_read_only
        assert shut_out.notes == (shut_out.why_read_only,)
        with pytest.raises(NotAllowedError, match=r"Nothing was recorded: .*does not let this desk in"):
            shut_out.append(draft("b"))
        assert shut_out.waiting == 0
        shut_out.close()
    with (
        pytest.raises(ServerRefusedError, match="Nothing was moved"),
        server_link.connected(service, "Nothing was moved"),
    ):
        pass


def test_a_password_changed_while_a_desk_is_open_stops_it(server: database.Server, tmp_path: Path) -> None:
    with server.account() as name, server.connect() as line:
        server_rows.prepare(line)
        line.execute(f"grant all on copydesk_ledgers, copydesk_entries to {name}")  # type: ignore[arg-type]
        store = ServerLedger(tmp_path, desk="window", service=name)
        store.append(draft("a"))
        line.execute(f"alter role {name} password 'y'")  # type: ignore[arg-type]
        line.execute("select pg_terminate_backend(pid) from pg_stat_activity where usename = %s", [name])
        until(lambda: store.refresh() == [] and bool(store.why_read_only))
        assert any("does not let this desk in" in each for each in store.notes)
        with pytest.raises(NotAllowedError, match="does not let this desk in"):
            store.append(draft("b"))
        store.close()


@pytest.mark.parametrize(
    ("said", "turned_away"),
    [
        ('FATAL:  password authentication failed for user "desk"', True),
        ('definition of service "loft" not found', True),
        ("FATAL:  sorry, too many clients already", False),
        ("FATAL:  the database system is starting up", False),
        ("Connection refused", False),
    ],
)
def test_who_is_turned_away_is_told_from_who_must_wait(said: str, turned_away: bool) -> None:
    assert server_link.is_turned_away(psycopg.OperationalError(said)) is turned_away
    assert not server_link.is_turned_away(ValueError(said))


@pytest.mark.parametrize(
    ("error", "passes"),
    [
        (psycopg.OperationalError("gone"), True),
        (psycopg.errors.LockNotAvailable("held"), True),
        (psycopg.errors.ReadOnlySqlTransaction("standby"), True),
        (psycopg.errors.InsufficientPrivilege("no"), False),
        (psycopg.errors.UndefinedColumn("no"), False),
    ],
)
def test_what_may_pass_is_told_from_what_will_not(error: Exception, passes: bool) -> None:
    assert server_link.is_passing(error) is passes
    assert server_link.reason(psycopg.OperationalError("first line.\n\tsecond")) == "first line"
