"""The tables in a database."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.store.server import rows as server_rows
from copydesk.store.server.server_ledger import ServerLedger
from ledger_trials import draft, names
from server_trials import until

if TYPE_CHECKING:
    from pathlib import Path

    import database


def test_two_desks_may_make_the_tables_at_one_moment(server: database.Server, tmp_path: Path) -> None:
    with server.connect() as line:
        line.execute("create schema if not exists fresh")
    service = server.own_service()
    with (server.folder / "services").open("a") as file:
        file.write(f"[{service}-f]\nhost=127.0.0.1\nport={server.port}\ndbname=postgres\nuser=desk\n")
        file.write("options=-csearch_path=fresh\n")
    from threading import Thread

    stores = []
    for number in range(4):
        folder = tmp_path / str(number)
        folder.mkdir()
        stores.append(ServerLedger(folder, desk=str(number), service=f"{service}-f"))
    writers = [Thread(target=store.append, args=(draft(store.desk),)) for store in stores]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()
    assert sorted(names(stores[0].entries()) + names(stores[0].refresh()))
    until(lambda: (stores[0].refresh(), len(stores[0].entries()))[1] == 4)
    for store in stores:
        store.close()
    with server.connect() as line:
        line.execute("drop schema fresh cascade")


def test_a_book_s_name_may_hold_any_letter(server: database.Server) -> None:
    assert server_rows.key_of("salt-road") == "salt-road"
    odd = ["", "a" * 101, "wasser·weg", "sha256:00", "line\nbreak", "nul\0"]
    keys = {server_rows.key_of(name) for name in odd}
    assert len(keys) == len(odd)
    assert all(key.startswith("sha256:") and key.isascii() for key in keys)
    with server.connect() as line:
        assert server_rows.find(line, "nul\0") is None
