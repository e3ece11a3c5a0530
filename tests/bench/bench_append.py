"""One entry made safe, beside a bare append and SQLite; opening and following a ledger.

``python tests/bench/bench_append.py``. The three write the same bytes in turn, so that they meet the same disk;
the ratios are what counts.
"""

from __future__ import annotations

import os
import secrets
import sqlite3
import statistics
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

from copydesk.store.journal.ledger_file import LedgerFile
from copydesk.store.journal.line_format import Header, entry_line, header_line

if TYPE_CHECKING:
    from collections.abc import Callable

SIZES = (0, 1_000, 20_000, 50_000)
TURNS = 300


def entry(tick: int) -> dict[str, Any]:
    """An entry as the desk records them, about 200 bytes as a line."""
    return {
        "entry": secrets.token_hex(8),
        "tick": tick,
        "at": "2027-01-12T09:30:00+01:00",
        "desk": "window",
        "hand": "A",
        "what": "written",
        "page": "3.5:r",
        "to_line": 31,
        "ends": "over the ford and",
    }


def filled(folder: Path, size: int) -> None:
    """A ledger of this many entries, one a line."""
    if size:
        lines = (entry_line(number, [entry(number)]) for number in range(1, size + 1))
        (folder / "ledger.jsonl").write_bytes(header_line(Header(1, "bench")) + b"".join(lines))


def bare(folder: Path) -> Callable[[], object]:
    """An append and a sync, and nothing else."""
    descriptor = os.open(folder / "bare", os.O_WRONLY | os.O_CREAT | os.O_APPEND)
    line = entry_line(20_000, [entry(20_000)])

    def append() -> None:
        os.write(descriptor, line)
        os.fsync(descriptor)

    return append


def sqlite(folder: Path, size: int) -> Callable[[], object]:
    """A row in SQLite, write-ahead log, synchronous in full."""
    database = sqlite3.connect(folder / "bench.sqlite", isolation_level=None)
    database.execute("pragma journal_mode=wal")
    database.execute("pragma synchronous=full")
    database.execute("create table entry(id integer primary key, body blob)")
    line = entry_line(20_000, [entry(20_000)])
    database.execute("begin")
    database.executemany("insert into entry(body) values (?)", ((line,) for _ in range(size)))
    database.execute("commit")
    return lambda: database.execute("insert into entry(body) values (?)", (line,))


def medians(acts: list[Callable[[], object]]) -> list[float]:
    """The median time of each in milliseconds; they take turns."""
    times: list[list[float]] = [[] for _ in acts]
    for _ in range(TURNS):
        for act, taken in zip(acts, times, strict=True):
            began = time.perf_counter()
            act()
            taken.append((time.perf_counter() - began) * 1000)
    return [statistics.median(taken[TURNS // 10 :]) for taken in times]


def best(act: Callable[[], object], turns: int = 5) -> float:
    """The best time in milliseconds."""
    taken = []
    for _ in range(turns):
        began = time.perf_counter()
        act()
        taken.append((time.perf_counter() - began) * 1000)
    return min(taken)


def measured(folder: Path, size: int) -> str:
    """One line of figures for a ledger of this size."""
    filled(folder, size)
    ledger, reader = LedgerFile(folder, desk="window"), LedgerFile(folder, desk="door")
    ledger.append(entry)
    plain, ours, theirs = medians([bare(folder), lambda: ledger.append(entry), sqlite(folder, size)])
    opening = best(lambda: LedgerFile(folder, desk="third"))
    reader.refresh()
    idle = best(reader.refresh, 200) * 1000
    new = statistics.median(read_one_new(ledger, reader) for _ in range(50)) * 1000
    ratios = f"{ours / plain:11.2f}  {ours / theirs:13.2f}"
    return f"{size:7}  {plain:7.3f}  {ours:9.3f}  {theirs:9.3f}  {ratios}  {opening:7.1f}  {idle:7.1f}  {new:10.1f}"


def read_one_new(ledger: LedgerFile, reader: LedgerFile) -> float:
    """The time to see another desk's entry, in milliseconds."""
    ledger.append(entry)
    return best(reader.refresh, 1)


def main() -> None:
    """Print a line for each size of ledger."""
    print("entries  bare ms  ledger ms  SQLite ms  ledger/bare  ledger/SQLite  open ms  idle us  one new us")
    for size in SIZES:
        with tempfile.TemporaryDirectory(dir=Path.cwd()) as folder:
            print(measured(Path(folder), size))


if __name__ == "__main__":
    main()
