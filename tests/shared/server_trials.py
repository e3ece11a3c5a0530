"""Ways to hurt desks on a server, and what must hold afterwards: short with the tests, a long run by itself.

Run as a program, this file is one desk that writes until it is killed: ``server_trials.py FOLDER DESK SERVICE COUNT``
prints the id of each entry as soon as it is acknowledged.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING

from copydesk.store.server import connection as server_link
from copydesk.store.server import rows as server_rows
from copydesk.store.server.server_ledger import ServerLedger
from ledger_trials import draft, kill_after_some, names
from relay import Relay

if TYPE_CHECKING:
    import random
    from collections.abc import Callable

    import database

    Opener = Callable[..., ServerLedger]

PLAN = """title: A small book
divisions: [{title: On frost, words: 400}]
page: {width: 100, height: 140, margins: {inner: 10, head: 10, outer: 20, foot: 30}}
ruling: {lines: 10}
hands: {A: {name: first, letters_per_line: 20}}
"""


def on_server(folder: Path, service: str) -> None:
    """Write the line into the plan."""
    (folder / "book.yaml").write_text(f"{PLAN}server: {service}\n", "utf-8")


def kept(server: database.Server, service: str) -> list[str]:
    """The ids on the server, in order."""
    with server.connect() as line:
        found = server_rows.after(line, service, 0)
    return [str(row.entry["entry"]) for row in found if row.entry is not None]


def until(condition: Callable[[], bool], patience: float = 10.0) -> None:
    """Wait until something holds."""
    limit = time.monotonic() + patience
    while not condition():
        assert time.monotonic() < limit
        time.sleep(0.005)


def wait_until_sent(store: ServerLedger, patience: float = 20.0) -> None:
    """Wait until a desk has its line again, and nothing waits to be sent."""
    limit = time.monotonic() + patience
    store.refresh()
    while store.notes:
        assert time.monotonic() < limit, store.notes
        time.sleep(0.005)
        store.refresh()


def cut_lines(folder: Path, server: database.Server, cuts: int, chance: random.Random) -> int:
    """Two desks write while their lines are cut at random; entries acknowledged, each on the server once in the end."""
    vars(server_link)["_PAUSES"] = (0.002,)
    relay = Relay(server.port)
    service = server.service(f"cuts{chance.randrange(10**9)}", relay.port)
    desks = [ServerLedger(folder, desk="a", service=service), ServerLedger(folder / "b", desk="b", service=service)]
    acknowledged: list[str] = []
    for number in range(cuts):
        relay.mend()
        relay.passed, relay.cut_at, relay.pass_last = 0, chance.randint(1, 20), chance.random() < 0.5
        for part in range(3):
            store = chance.choice(desks)
            acknowledged += names(store.append_many([draft(f"{number}-{part}"), draft(f"{number}-{part}-too")]))
            chance.choice(desks).refresh()
    relay.mend()
    for store in desks:
        wait_until_sent(store)
    assert sorted(kept(server, service)) == sorted(acknowledged), "an entry is lost or doubled"
    for store in desks:
        wait_until_sent(store)
        while len(store.entries()) < len(acknowledged):
            store.refresh()
        assert sorted(names(store.entries())) == sorted(acknowledged)
        store.close()
    relay.close()
    return len(acknowledged)


def start_writer(folder: Path, desk: str, service: str, count: int) -> subprocess.Popen[bytes]:
    """A desk in a process of its own, with a folder of its own."""
    folder.mkdir(exist_ok=True)
    command = [sys.executable, __file__, str(folder), desk, service, str(count)]
    paths = os.pathsep.join(filter(None, [str(Path(__file__).parents[2]), os.environ.get("PYTHONPATH", "")]))
    return subprocess.Popen(command, stdout=subprocess.PIPE, env={**os.environ, "PYTHONPATH": paths})


def kill_writers(folder: Path, server: database.Server, kills: int, chance: random.Random) -> int:
    """Desks are killed while they write, two at a time; the number of acknowledged entries, all on the server."""
    service = server.service(f"kills{chance.randrange(10**9)}")
    acknowledged: list[str] = []
    for number in range(0, kills, 2):
        desks = [start_writer(folder / f"{letter}{number}", f"{letter}{number}", service, 100_000) for letter in "ab"]
        for desk in desks:
            acknowledged += kill_after_some(desk, chance, 0.03)
    found = kept(server, service)
    assert len(found) == len(set(found)), "an entry is doubled"
    assert set(acknowledged) <= set(found), "an acknowledged entry is lost"
    return len(acknowledged)


def race(folder: Path, server: database.Server, desks: int, count: int) -> float:
    """Several desks write at once; entries a second. None is lost, doubled or out of its desk's order."""
    service = server.service(f"race{time.monotonic_ns()}")
    began = time.perf_counter()
    writers = [start_writer(folder / f"desk{number}", f"desk{number}", service, count) for number in range(desks)]
    for number, writer in enumerate(writers):
        assert writer.communicate()[0].decode().split() == [f"desk{number}-{entry}" for entry in range(count)]
    took = time.perf_counter() - began
    found = kept(server, service)
    assert len(found) == len(set(found)) == desks * count
    for number in range(desks):
        of_desk = [name for name in found if name.startswith(f"desk{number}-")]
        assert of_desk == [f"desk{number}-{entry}" for entry in range(count)]
    with server.connect() as line:
        rows = server_rows.after(line, service, 0)
    assert [row.number for row in rows] == list(range(1, desks * count + 1))
    assert [row.entry["tick"] for row in rows if row.entry] == list(range(1, desks * count + 1))
    return desks * count / took


def write_until_killed(folder: Path, desk: str, service: str, count: int) -> None:
    """Record entries, naming each on stdout once it is acknowledged."""
    store = ServerLedger(folder, desk=desk, service=service)
    for number in range(count):
        name = f"{desk}-{number}"
        store.append(draft(name, note="over the ford and home " * (number % 7)))
        os.write(1, f"{name}\n".encode())
    store.close()


if __name__ == "__main__":
    write_until_killed(Path(sys.argv[1]), sys.argv[2], sys.argv[3], int(sys.argv[4]))
