"""The line to a server: what may pass, and what is never shown."""

from __future__ import annotations

from typing import TYPE_CHECKING

import psycopg
import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.store.server import connection as server_link
from copydesk.store.server.server_ledger import ServerLedger

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
