"""A ledger on a server: lines that break, servers that go and come back, entries kept here and sent later, once."""

from __future__ import annotations

import random
import signal
import time
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import database
import server_trials
from copydesk.book.common.errors import CopydeskError
from copydesk.store.server import connection as server_link
from copydesk.store.server import rows as server_rows
from copydesk.store.server.server_ledger import ServerLedger
from faulty_disk import FullDisk
from ledger_trials import draft, names, refreshed
from server_trials import kept, until

if TYPE_CHECKING:
    from pathlib import Path

    from relay import Relay
    from server_trials import Opener


def back(store: ServerLedger) -> bool:
    """Whether a desk has its line again, and nothing waits."""
    store.refresh()
    return not store.notes


def test_entries_recorded_without_the_server_are_kept_here_and_sent_once(
    at_desk: Opener, relay: Relay, server: database.Server, service: str
) -> None:
    window, door = at_desk("window"), at_desk("door")
    window.append(draft("a"))
    relay.cut()
    kept_here = [window.append(draft(name)) for name in ("b", "c")]
    assert [entry["tick"] for entry in kept_here] == [2, 3]
    told = window.news()
    assert told[0].startswith(f"The server {service} ")
    assert told[-1] == f"Kept here, to be sent to the server {service}: 2 entries."
    assert window.waiting == 2
    assert names(window.entries()) == ["a", "b", "c"]
    assert kept(server, service) == ["a"]
    relay.mend()
    until(lambda: back(window))
    told = window.news()
    assert f"The server {service} answers again." in told
    assert f"Sent to the server {service}: 2 entries kept here till now." in told
    assert kept(server, service) == ["a", "b", "c"]
    until(lambda: back(door))
    assert names(door.entries()) == ["a", "b", "c"]
    assert door.entries() == window.entries()


def test_what_was_committed_unheard_is_not_sent_twice(
    at_desk: Opener, relay: Relay, server: database.Server, service: str
) -> None:
    window = at_desk("window")
    window.append(draft("a"))
    relay.cut_at_commit = True
    calls: list[int] = []

    def make(tick: int) -> dict[str, Any]:
        calls.append(tick)
        return draft("b", tick=tick, desk="window")

    assert window.append(make)["tick"] == 2
    assert kept(server, service) == ["a", "b"], "the server has it, and the desk does not know"
    assert window.waiting == 1
    assert calls == [2], "a draft is made once"
    relay.mend()
    until(lambda: back(window))
    assert kept(server, service) == ["a", "b"]
    assert window.append(draft("c"))["tick"] == 3


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(cuts=st.lists(st.tuples(st.integers(1, 12), st.booleans()), min_size=1, max_size=4), count=st.integers(1, 3))
def test_a_line_cut_anywhere_loses_and_doubles_nothing(
    server: database.Server,
    relay: Relay,
    tmp_path_factory: pytest.TempPathFactory,
    cuts: list[tuple[int, bool]],
    count: int,
) -> None:
    service = server.own_service(relay.port)
    relay.mend()
    store = ServerLedger(tmp_path_factory.mktemp("desk"), desk="window", service=service)
    acknowledged = [str(store.append(draft("first"))["entry"])]
    for number, (at, passed) in enumerate(cuts):
        relay.passed, relay.cut_at, relay.pass_last = 0, at, passed
        for part in range(count):
            acknowledged += names(store.append_many([draft(f"{number}-{part}"), draft(f"{number}-{part}-too")]))
            store.refresh()
        relay.mend()
    until(lambda: back(store))
    found = kept(server, service)
    assert sorted(found) == sorted(acknowledged)
    assert [name for name in names(store.entries()) if name in acknowledged] == acknowledged
    ticks = [int(str(entry["tick"])) for entry in store.entries()]
    assert ticks == sorted(set(ticks))
    store.close()


def test_a_server_that_crashes_and_comes_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    if database.WHY_NOT:
        pytest.skip(database.WHY_NOT)
    server = database.Server()
    for name, value in server.environment.items():
        monkeypatch.setenv(name, value)
    try:
        server.start()
        store = ServerLedger(tmp_path, desk="window", service=server.service("crash"))
        store.append(draft("a"))
        server.stop(signal.SIGQUIT)
        store.append(draft("b"))
        server.start()
        until(lambda: back(store))
        assert kept(server, "crash") == ["a", "b"]
        store.close()
    finally:
        server.remove()


def test_a_book_opens_without_the_server_from_the_copy_here(at_desk: Opener, relay: Relay, service: str) -> None:
    first = at_desk("window")
    first.append_many([draft("a"), draft("b")])
    first.close()
    relay.cut()
    again = at_desk("window")
    assert names(again.entries()) == ["a", "b"]
    assert again.notes[0].startswith(f"The server {service} does not answer")
    assert again.append(draft("c"))["tick"] == 3
    again.close()
    third = at_desk("window")
    assert names(third.entries()) == ["a", "b", "c"]
    relay.mend()
    until(lambda: back(third))
    assert names(at_desk("door").entries()) == ["a", "b", "c"]


def test_a_server_never_reached_is_a_refusal_that_says_why(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    services = tmp_path / "services"
    services.write_text("[gone]\nhost=127.0.0.1\nport=1\ndbname=x\n")
    monkeypatch.setenv("PGSERVICEFILE", str(services))
    with pytest.raises(CopydeskError, match=r"on the server gone, which does not answer .*refused.*no copy"):
        ServerLedger(tmp_path, desk="window", service="gone")
    with pytest.raises(CopydeskError, match=r'let this desk in \(.*definition of service "unnamed" not found\)'):
        ServerLedger(tmp_path, desk="window", service="unnamed")


def test_two_desks_on_one_folder_know_of_each_other_without_the_server(
    service: str, relay: Relay, tmp_path: Path, server: database.Server
) -> None:
    stores = [ServerLedger(tmp_path, desk=name, service=service) for name in ("one", "two")]
    stores[0].append(draft("a"))
    relay.cut()
    stores[0].append(draft("b"))
    assert sorted(refreshed(stores[1], 2)) == ["a", "b"]
    assert stores[1].append(draft("c"))["tick"] == 3
    stores[0].close()
    relay.mend()
    until(lambda: back(stores[1]))
    assert sorted(kept(server, service)) == ["a", "b", "c"]
    stores[1].close()


def test_a_ledger_held_for_too_long_is_not_waited_for(
    at_desk: Opener, server: database.Server, service: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(server_link, "_SESSION", ("set lock_timeout = '50ms'", *server_link._SESSION[1:]))
    store = at_desk("window")
    store.append(draft("a"))
    with server.connect() as other, other.transaction():
        server_rows.hold(other, service, "", "")
        store.append(draft("b"))
        assert store.waiting == 1
    until(lambda: back(store))
    assert kept(server, service) == ["a", "b"]


def test_an_older_state_of_the_server_is_made_good_from_the_copies(
    at_desk: Opener, relay: Relay, server: database.Server, service: str
) -> None:
    store = at_desk("window")
    for name in "abcd":
        store.append(draft(name))
    relay.cut()
    _put_back(server, service, 2)
    relay.mend()
    until(lambda: back(store) and len(kept(server, service)) == 4)
    assert sorted(kept(server, service)) == ["a", "b", "c", "d"]
    assert any("had lost 2 entries; they are sent again" in each for each in store.news())
    assert names(store.entries()) == ["a", "b", "c", "d"]
    _put_back(server, service, 1)
    again = at_desk("window")
    until(lambda: back(again))
    assert sorted(kept(server, service)) == ["a", "b", "c", "d"]


def _put_back(server: database.Server, service: str, last: int) -> None:
    """What a backup of the server from earlier would have."""
    with server.connect() as line:
        line.execute("delete from copydesk_entries where book = %s and number > %s", [service, last])
        line.execute("update copydesk_ledgers set last = %s where book = %s", [last, service])


@pytest.mark.parametrize(
    ("harm", "said"),
    [
        (
            "delete from copydesk_entries where book = '{0}'; delete from copydesk_ledgers where book = '{0}'",
            "any more",
        ),
        ("update copydesk_ledgers set mark = 'strange' where book = '{0}'", "bears another mark"),
        ("update copydesk_ledgers set form = 2 where book = '{0}'", "written by a newer copydesk"),
        (
            "update copydesk_ledgers set closed = '\"it was moved\"' where book = '{0}'",
            "no longer in use: it was moved",
        ),
    ],
)
def test_a_ledger_that_is_not_ours_is_only_read(
    at_desk: Opener, server: database.Server, service: str, harm: str, said: str
) -> None:
    at_desk("window").append_many([draft("a"), draft("b")])
    with server.connect() as line:
        for statement in harm.format(service).split(";"):
            line.execute(statement)  # type: ignore[arg-type]
    store = at_desk("window")
    assert names(store.entries()) == ["a", "b"]
    assert said in store.why_read_only
    assert said in store.notes[0]
    with pytest.raises(CopydeskError, match=said):
        store.append(draft("c"))
    assert store.waiting == 0


def test_a_desk_hears_when_the_ledger_goes_out_of_use(at_desk: Opener, server: database.Server, service: str) -> None:
    store = at_desk("window")
    store.append(draft("a"))
    with server.connect() as line:
        server_rows.close(line, service, "it was moved into the folder at the door")
    until(lambda: (store.refresh(), store.why_read_only)[1] != "")
    with pytest.raises(CopydeskError, match="moved into the folder at the door"):
        store.append(draft("b"))


def test_a_damaged_row_is_left_out_and_named(at_desk: Opener, server: database.Server, service: str) -> None:
    at_desk("window").append_many([draft("a"), draft("b")])
    with server.connect() as line:
        line.execute('update copydesk_entries set body = \'{"entry":"z"}\' where book = %s and number = 1', [service])
    store = at_desk("door")
    assert names(store.entries()) == ["b"]
    assert f"entry 1 on the server {service} is damaged" in store.notes[0]
    assert names(at_desk("window").entries()) == ["a", "b"], "the copy has it"


def test_an_account_that_may_only_read_is_told_so(
    server: database.Server, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    service = server.own_service()
    (tmp_path / "a").mkdir()
    first = ServerLedger(tmp_path / "a", desk="a", service=service)
    first.append(draft("a"))
    first.close()
    with server.connect() as line:
        line.execute("create role reader login password 'r'")
        line.execute("grant select on copydesk_ledgers, copydesk_entries to reader")
    try:
        with (server.folder / "services").open("a") as file:
            file.write(f"[{service}-r]\nhost=127.0.0.1\nport={server.port}\ndbname=postgres\nuser=reader\n")
        monkeypatch.setenv("PGPASSWORD", "r")
        reader = ServerLedger(tmp_path, desk="b", service=f"{service}-r")
        with pytest.raises(CopydeskError, match=r"Nothing was recorded: the server .*permission denied"):
            reader.append(draft("b"))
        assert reader.waiting == 0
        reader.close()
    finally:
        with server.connect() as line:
            line.execute("drop owned by reader")
            line.execute("drop role reader")


def test_another_title_is_told(at_desk: Opener) -> None:
    at_desk("window", title="The Salt Road").append(draft("a"))
    assert at_desk("door", title="The Salt Road").notes == ()
    (note,) = at_desk("wall", title="Twelve Waters").notes
    assert "was begun for a book called 'The Salt Road'" in note


def test_where_nothing_can_be_kept_here_either_nothing_was_recorded(
    at_desk: Opener, relay: Relay, server: database.Server, service: str
) -> None:
    store = at_desk("window", disk=FullDisk())
    store.append(draft("a"))
    relay.cut()
    with pytest.raises(CopydeskError, match="disk is full"):
        store.append(draft("b"))
    assert store.waiting == 0
    assert names(store.entries()) == ["a"]


def test_a_look_where_nobody_called_puts_nothing_to_the_server(at_desk: Opener, relay: Relay) -> None:
    window, door = at_desk("window"), at_desk("door")
    window.append(draft("a"))
    assert refreshed(door, 1) == ["a"]
    until(lambda: not window.refresh() and not door.refresh())
    time.sleep(0.05)
    asked = relay.passed
    for _ in range(100):
        assert window.refresh() == door.refresh() == []
    assert relay.passed == asked


def test_desks_killed_while_writing_lose_nothing(server: database.Server, tmp_path: Path) -> None:
    assert server_trials.kill_writers(tmp_path, server, 6, random.Random(3)) >= 6


def test_desks_writing_at_once_lose_nothing(server: database.Server, tmp_path: Path) -> None:
    server_trials.race(tmp_path, server, 3, 40)


def test_lines_cut_at_random_lose_nothing(server: database.Server, tmp_path: Path) -> None:
    (tmp_path / "b").mkdir()
    assert server_trials.cut_lines(tmp_path, server, 12, random.Random(4)) == 72
