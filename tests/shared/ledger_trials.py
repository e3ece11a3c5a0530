"""Ways to hurt a ledger, and what must hold afterwards; a short form runs with the tests, a long one by itself.

Run as a program, this file is one desk that writes until it is killed: ``ledger_trials.py FOLDER DESK COUNT``
prints the id of each entry as soon as it is acknowledged.
"""

from __future__ import annotations

import contextlib
import errno
import os
import random
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import TYPE_CHECKING, Any

from copydesk.book.common.errors import CopydeskError
from copydesk.store.journal.audit import audit, mend
from copydesk.store.journal.ledger_file import LedgerFile
from faulty_disk import Dead, FaultyDisk, ForgetfulDisk

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from copydesk.store.files.disk import Disk
    from copydesk.store.journal.ledger_store import LedgerStore


def seeded(seed: int) -> random.Random:
    """Chance that can be repeated."""
    return random.Random(seed)


def draft(name: str, **more: Any) -> dict[str, Any]:
    """An entry to be recorded."""
    return {"entry": name, "at": "2027-01-12T09:30:00+01:00", "what": "written", "page": "3.5:r", **more}


def names(entries: Iterable[dict[str, Any]]) -> list[str]:
    """The ids of entries, in order."""
    return [entry["entry"] for entry in entries]


def refreshed(store: LedgerStore, count: int, patience: float = 5.0) -> list[str]:
    """The ids that refreshing gives until there are ``count`` of them: a server's call takes a moment to arrive."""
    found: list[str] = names(store.refresh())
    limit = time.monotonic() + patience
    while len(found) < count and time.monotonic() < limit:
        time.sleep(0.001)
        found += names(store.refresh())
    return found


def ledger_of(book: Path) -> Path:
    """The ledger's file."""
    return book / "ledger.jsonl"


def mirror_of(book: Path) -> Path:
    """The mirror's file."""
    return book / ".copydesk" / "ledger.mirror.jsonl"


def written(book: Path, count: int = 3, desk: str = "a") -> LedgerFile:
    """A ledger with the entries a0, a1, a2."""
    ledger = LedgerFile(book, desk=desk)
    for number in range(count):
        ledger.append(draft(f"{desk}{number}"))
    return ledger


def read_again(folder: Path) -> list[str]:
    """The ids that a desk opened now reads."""
    return names(LedgerFile(folder, desk="reader").entries())


def expect_sound(folder: Path, acknowledged: list[str], attempted: set[str]) -> None:
    """Every acknowledged entry is there once and in order, nothing is there that nobody wrote, and writing goes on."""
    found = read_again(folder)
    assert len(found) == len(set(found)), "an entry is doubled"
    assert set(found) <= attempted, "an entry that nobody wrote"
    assert [name for name in found if name in set(acknowledged)] == acknowledged, "an entry is lost or moved"
    last = f"last-{len(found)}-{time.monotonic_ns()}"
    attempted.add(last)
    LedgerFile(folder, desk="last").append(draft(last))
    assert read_again(folder) == [*found, last]
    assert audit(folder) == (), "writing on leaves the ledger sound"


# --- desks that are killed ------------------------------------------------------------------------------------------


def start_writer(folder: Path, desk: str, count: int) -> subprocess.Popen[bytes]:
    """A desk in a process of its own."""
    command = [sys.executable, __file__, str(folder), desk, str(count)]
    paths = os.pathsep.join(filter(None, [str(Path(__file__).parents[2]), os.environ.get("PYTHONPATH", "")]))
    environment = {**os.environ, "PYTHONPATH": paths}
    return subprocess.Popen(command, stdout=subprocess.PIPE, env=environment)


def write_until_killed(folder: Path, desk: str, count: int) -> None:
    """Record entries, naming each on stdout once it is acknowledged."""
    ledger = LedgerFile(folder, desk=desk, patience=60)
    for number in range(count):
        name = f"{desk}-{number}"
        ledger.append(draft(name, note="over the ford and home " * (number % 7)))
        os.write(1, f"{name}\n".encode())


def kill_writers(folder: Path, rounds: int, chance: random.Random) -> int:
    """In each round two desks write and are killed at random; the number of acknowledged entries, all safe."""
    acknowledged: list[str] = []
    for number in range(rounds):
        desks = [start_writer(folder, f"{letter}{number}", 100_000) for letter in "ab"]
        told = [kill_after_some(desk, chance) for desk in desks]
        found = read_again(folder)
        assert len(found) == len(set(found)), "an entry is doubled"
        for names_told in told:
            assert set(names_told) <= set(found), "an acknowledged entry is lost"
            acknowledged += names_told
    found = read_again(folder)
    assert set(acknowledged) <= set(found), "an acknowledged entry is lost"
    LedgerFile(folder, desk="last").append(draft("last"))
    assert audit(folder) == (), "the ledger is sound after the last entry"
    return len(acknowledged)


def kill_after_some(desk: subprocess.Popen[bytes], chance: random.Random, longest_seconds: float = 0.02) -> list[str]:
    """Let a desk write for a moment and kill it; the entries it acknowledged."""
    assert desk.stdout is not None
    first = desk.stdout.readline()
    time.sleep(chance.uniform(0, longest_seconds))
    desk.kill()
    whole = (first + desk.stdout.read()).decode().splitlines(keepends=True)
    desk.stdout.close()
    desk.wait()
    return [line.strip() for line in whole if line.endswith("\n")]


def race(folder: Path, writers: int, count: int) -> float:
    """Several desks write at once; entries a second. None is lost, doubled or out of its desk's order."""
    began = time.perf_counter()
    desks = [start_writer(folder, f"desk{number}", count) for number in range(writers)]
    told = [desk.communicate()[0].decode().split() for desk in desks]
    took = time.perf_counter() - began
    entries = LedgerFile(folder, desk="reader").entries()
    for number in range(writers):
        expected = [f"desk{number}-{entry}" for entry in range(count)]
        assert told[number] == expected
        assert [entry["entry"] for entry in entries if entry["desk"] == f"desk{number}"] == expected
    assert [entry["tick"] for entry in entries] == list(range(1, writers * count + 1))
    assert audit(folder) == ()
    assert (folder / "ledger.jsonl").read_bytes() == (folder / ".copydesk" / "ledger.mirror.jsonl").read_bytes()
    return writers * count / took


def crowd(folder: Path, desks: int, count: int) -> float:
    """Many desks on one machine write at the same moment, waiting no longer than a desk does; the longest wait."""
    stores = [LedgerFile(folder, desk=f"desk{number}") for number in range(desks)]
    waits: list[float] = []

    def write(number: int) -> None:
        for entry in range(count):
            began = time.perf_counter()
            stores[number].append(draft(f"{number}-{entry}"))
            waits.append(time.perf_counter() - began)

    with ThreadPoolExecutor(desks) as hands:
        list(hands.map(write, range(desks)))
    assert sorted(read_again(folder)) == sorted(
        f"{number}-{entry}" for number in range(desks) for entry in range(count)
    )
    assert audit(folder) == ()
    return max(waits)


# --- disks that fail ------------------------------------------------------------------------------------------------

ERRORS = (errno.ENOSPC, errno.EIO, errno.EROFS, errno.EDQUOT)


def write_on_faulty_disks(folder: Path, steps: list[tuple[dict[int, int | str], int]]) -> tuple[int, int]:
    """For each step a desk opens on a disk with these faults and records this many entries, half of them in one go.

    Returns:
        Entries acknowledged and entries refused.
    """
    acknowledged: list[str] = []
    attempted: set[str] = set()
    for number, (faults, count) in enumerate(steps):
        disk = FaultyDisk(faults)
        with contextlib.suppress(CopydeskError, Dead):
            ledger = LedgerFile(folder, desk=f"desk{number}", disk=disk)
            for entry in range(count):
                _record(ledger, [f"{number}-{entry}"], acknowledged, attempted)
            _record(ledger, [f"{number}-with-{entry}" for entry in range(count)], acknowledged, attempted)
    expect_sound(folder, acknowledged, attempted)
    return len(acknowledged), len(attempted) - len(acknowledged) - 1


def _record(ledger: LedgerFile, wanted: list[str], acknowledged: list[str], attempted: set[str]) -> None:
    attempted.update(wanted)
    with contextlib.suppress(CopydeskError):
        ledger.append_many([draft(name) for name in wanted])
        acknowledged += wanted


def die_at_every_touch(folder: Path, before: Callable[[Path], None], act: Callable[[Path, Disk], object]) -> int:
    """Let the program die at each touch of the disk that ``act`` makes, in turn; how many there are.

    ``folder`` holds one book folder for each. Afterwards every entry that ``before`` recorded is there once.
    """
    for touch in range(10_000):
        for share in (0.001, 0.5, 0.999):
            book = folder / f"{touch}-{share}"
            book.mkdir()
            before(book)
            kept = read_again(book)
            disk = FaultyDisk({touch: "dead"}, share=share)
            with contextlib.suppress(Dead):
                act(book, disk)
            found = read_again(book)
            assert len(found) == len(set(found))
            assert set(kept) <= set(found), f"lost where the program died at touch {touch}"
            LedgerFile(book, desk="last").append(draft("last"))
            mend(book)
            assert set(read_again(book)) >= {*found, "last"}
            assert audit(book) == ()
        if not disk.is_dead:
            return touch
    raise AssertionError("the action never ends")


def cut_power(folder: Path, runs: int, chance: random.Random) -> int:
    """Cut the power at a random touch of the disk while two desks write, again and again; entries acknowledged."""
    acknowledged: list[str] = []
    attempted: set[str] = set()
    for run in range(runs):
        before = {path: path.stat().st_size for path in folder.rglob("*")}
        disk = ForgetfulDisk({chance.randrange(90): "dead"})
        with contextlib.suppress(Dead):
            desks = [LedgerFile(folder, desk=f"{letter}{run}", disk=disk) for letter in "ab"]
            for number in range(6):
                _record(desks[number % 2], [f"{run}-{number}"], acknowledged, attempted)
        disk.cut_power(folder, before, chance)
        found = read_again(folder)
        assert [name for name in found if name in set(acknowledged)] == acknowledged, "an entry is lost or moved"
    mend(folder)  # the mirror is not waited for, so it may have lost bytes
    expect_sound(folder, acknowledged, attempted)
    return len(acknowledged)


if __name__ == "__main__":
    write_until_killed(Path(sys.argv[1]), sys.argv[2], int(sys.argv[3]))
