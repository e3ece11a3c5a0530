"""A workshop of fifty desks on a database server: how much it takes in, and how soon another desk sees an entry.

``python tests/bench/bench_server.py [--desks 50] [--seconds 10]``. The server is PostgreSQL as it comes, waiting for
the platter, on this machine; each desk is a process with a folder of its own. Beside the figures stand those of as
many desks on one folder, with the ledger in a file.
"""

from __future__ import annotations

import argparse
import multiprocessing
import os
import random
import statistics
import sys
import tempfile
import time
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

sys.path.insert(0, str(Path(__file__).parents[1] / "shared"))

import database
from copydesk.store.journal.ledger_file import LedgerFile
from copydesk.store.server.server_ledger import ServerLedger

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from copydesk.store.journal.ledger_store import LedgerStore

    Opener = Callable[[int], LedgerStore]

LOOKS = 0.25  # seconds between two looks of a desk, as in copydesk/desk/app.py
EACH = 20  # entries that each desk records as fast as it can
_fork = multiprocessing.get_context("fork")


def entry(desk: int, number: int) -> dict[str, Any]:
    """An entry as desks record them, which says when it was recorded by the clock that all processes share."""
    page = {"what": "written", "about": "3.5:r", "page": "21r", "hand": "A", "from_line": 1, "to_line": 31}
    return {"entry": f"{desk}-{number}-{os.urandom(4).hex()}", "at": "2027-01-12T09:30:00+01:00", **page}


def at_all_desks(desks: int, work: Callable[[int, LedgerStore, Any, Any], None], opener: Opener) -> list[Any]:
    """Do something at every desk at the same moment; what each found."""
    ready, found = _fork.Barrier(desks), _fork.Queue()
    processes = [_fork.Process(target=_at_desk, args=(at, work, opener, ready, found)) for at in range(desks)]
    for process in processes:
        process.start()
    told = [found.get() for _ in processes]
    for process in processes:
        process.join()
    return told


def _at_desk(at: int, work: Callable[..., None], opener: Opener, ready: Any, found: Any) -> None:
    store = opener(at)
    store.entries()
    ready.wait()
    work(at, store, ready, found)
    store.close()


def rush(at: int, store: LedgerStore, ready: Any, found: Any) -> None:
    """Record as fast as can be: when it began and ended, and the longest that one entry took."""
    began, longest = time.monotonic(), 0.0
    for number in range(EACH):
        before = time.monotonic()
        store.append(entry(at, number))
        longest = max(longest, time.monotonic() - before)
    found.put((began, time.monotonic(), longest))
    ready.wait()


def watch(at: int, store: LedgerStore, ready: Any, found: Any, *, seconds: float, pause: float, every: float) -> None:
    """Record now and then and look every ``pause`` seconds: how long ago each entry seen had been recorded."""
    chance, waits, takes = random.Random(at), list[float](), list[float]()
    end = time.monotonic() + seconds
    next_entry, number = time.monotonic() + chance.uniform(0, every), 0
    while (now := time.monotonic()) < end:
        if now >= next_entry:
            store.append({**entry(at, number), "sent": time.monotonic()})
            takes.append(time.monotonic() - now)
            next_entry, number = now + chance.uniform(0.5, 1.5) * every, number + 1
        seen = time.monotonic()
        waits += [seen - float(each["sent"]) for each in store.refresh() if "sent" in each]  # type: ignore[arg-type]
        time.sleep(pause)
    ready.wait()
    found.put((waits, takes))


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser(description="Fifty desks on one server.")
    parser.add_argument("--desks", type=int, default=50)
    parser.add_argument("--seconds", type=float, default=10.0)
    chosen = parser.parse_args()
    if database.WHY_NOT:
        print(database.WHY_NOT)
        return
    server = database.Server()
    os.environ.update(server.environment)
    try:
        server.start()
        with tempfile.TemporaryDirectory() as top:
            measure(server, Path(top), chosen.desks, chosen.seconds)
    finally:
        server.remove()


def measure(server: database.Server, top: Path, desks: int, seconds: float) -> None:
    """Everything, in turn."""
    print(f"{desks} desks on {os.cpu_count()} processors")
    server.service("rush")
    file_folder = top / "file"
    file_folder.mkdir()
    on_server = throughput(at_all_desks(desks, rush, partial(on_service, top, "rush")))
    in_file = throughput(at_all_desks(desks, rush, partial(in_folder, file_folder)))
    print(f"recording as fast as can be: server {on_server}; file {in_file}")
    expect(partial(on_service, top, "rush"), desks * EACH)
    expect(partial(in_folder, file_folder), desks * EACH)
    for pause, what in ((LOOKS, "looking four times a second"), (0.002, "looking all the time")):
        few = desks if pause == LOOKS else min(desks, 8)
        service = server.service(f"watch{round(pause * 1000)}")
        told = at_all_desks(
            few, partial(watch, seconds=seconds, pause=pause, every=2.0), partial(on_service, top, service)
        )
        waits = [wait for desk, _ in told for wait in desk]
        takes = [take for _, desk in told for take in desk]
        print(f"{few} desks, {len(takes) / seconds:.0f} entries a second, {what}:")
        print(f"  until another desk sees an entry: {spread(waits)} ({len(waits)} times)")
        print(f"  until an entry is safe: {spread(takes)}")
    idle(top, server.service("idle"), file_folder)


def throughput(told: Sequence[tuple[float, float, float]]) -> str:
    """Entries a second of all desks, and the longest wait."""
    took = max(ended for _, ended, _ in told) - min(began for began, _, _ in told)
    longest = max(longest for _, _, longest in told)
    return f"{len(told) * EACH / took:.0f} entries a second, longest wait {longest * 1000:.0f} ms"


def expect(opener: Opener, count: int) -> None:
    """See that nothing was lost or doubled."""
    store = opener(10_000)
    names = [each["entry"] for each in store.entries()]
    store.close()
    assert len(names) == len(set(names)) == count, (len(names), len(set(names)), count)


def spread(times: Sequence[float]) -> str:
    """Median, nineteen in twenty, and the worst, in milliseconds."""
    cut = statistics.quantiles(times, n=20)
    return f"median {statistics.median(times) * 1000:.1f}, 95 % {cut[-1] * 1000:.1f}, worst {max(times) * 1000:.1f} ms"


def idle(top: Path, service: str, file_folder: Path) -> None:
    """What a look costs where nothing is new: a desk makes four a second, whoever else is there."""
    costs = []
    for store in (on_service(top, service, 20_000), in_folder(file_folder, 20_000)):
        store.append(entry(20_000, 0))
        time.sleep(0.1)
        store.refresh()
        began = time.perf_counter()
        for _ in range(2_000):
            store.refresh()
        costs.append((time.perf_counter() - began) / 2_000)
        store.close()
    print(f"a look where nothing is new: server {costs[0] * 1e6:.0f} µs, {costs[0] / costs[1]:.1f} times the file's")


def on_service(top: Path, service: str, at: int) -> LedgerStore:
    """The ledger on the server, at a desk with a folder of its own."""
    folder = top / f"{service}-{at}"
    folder.mkdir()
    return ServerLedger(folder, desk=f"desk{at}", service=service)


def in_folder(folder: Path, at: int) -> LedgerStore:
    """The ledger in one folder."""
    return LedgerFile(folder, desk=f"desk{at}", patience=120)


if __name__ == "__main__":
    main()
