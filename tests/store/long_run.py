"""The long form of the ledger's trials, with figures: ``python tests/store/long_run.py [--seed N] [--share 0.1]``."""

from __future__ import annotations

import argparse
import os
import random
import sys
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING

sys.path.insert(0, str(Path(__file__).parents[2]))
sys.path.insert(0, str(Path(__file__).parents[1] / "shared"))

import database
import ledger_damage
import ledger_trials as trials
import server_trials
from copydesk.store.folder.merge import merge
from copydesk.store.journal.audit import mend
from copydesk.store.journal.ledger_file import LedgerFile

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.store.files.disk import Disk


def main() -> None:
    """Run every trial and print what was found; stops at the first promise that is broken."""
    parser = argparse.ArgumentParser(description="Hurt ledgers in many ways and see that nothing is lost.")
    parser.add_argument("--seed", type=int, default=None, help="repeat a run")
    parser.add_argument("--share", type=float, default=1.0, help="how much of the whole to run, from 0 to 1")
    chosen = parser.parse_args()
    seed = random.SystemRandom().randrange(10**9) if chosen.seed is None else chosen.seed
    say(f"seed {seed}")
    for trial in (kills, writers, crowd, faults, deaths, power, damage, server):
        began = time.perf_counter()
        with tempfile.TemporaryDirectory() as folder:
            told = trial(Path(folder), trials.seeded(seed), chosen.share)
        say(f"{trial.__name__}: {told} [{time.perf_counter() - began:.0f} s]")


def say(line: str) -> None:
    """Print a line at once."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def kills(top: Path, chance: random.Random, share: float) -> str:
    """Desks killed at random points, two at a time on one ledger."""
    acknowledged, killed, rounds = 0, 0, 10
    for book in range(max(1, round(50 * share))):
        folder = top / str(book)
        folder.mkdir()
        acknowledged += trials.kill_writers(folder, rounds, chance)
        killed += 2 * rounds
    return f"{killed} desks killed while writing, {acknowledged} entries acknowledged, none lost, none doubled"


def writers(top: Path, chance: random.Random, share: float) -> str:
    """Eight desks write at once."""
    count = max(10, round(500 * share))
    speed = trials.race(top, 8, count)
    return f"8 desks, {count} entries each, none lost, none doubled; {speed:.0f} entries a second with the desks' start"


def crowd(top: Path, chance: random.Random, share: float) -> str:
    """Two hundred desks write at the same moment."""
    desks = max(10, round(200 * share))
    longest = trials.crowd(top, desks, 10)
    return f"{desks} desks at once, 10 entries each, none lost, none doubled; the longest wait {longest:.2f} s"


def faults(top: Path, chance: random.Random, share: float) -> str:
    """Disks that fail now and then, in every way."""
    kept = refused = 0
    runs = max(10, round(2000 * share))
    for run in range(runs):
        folder = top / str(run)
        folder.mkdir()
        steps: list[tuple[dict[int, int | str], int]] = [
            (random_faults(chance), chance.randrange(1, 5)) for _ in range(chance.randrange(1, 5))
        ]
        more, less = trials.write_on_faulty_disks(folder, steps)
        kept, refused = kept + more, refused + less
    return f"{runs} runs, {kept} entries acknowledged and all there, {refused} refused or cut short"


def random_faults(chance: random.Random) -> dict[int, int | str]:
    """One to four faults at random touches of the disk."""
    kinds = (*trials.ERRORS, "short", "torn", "dead")
    return {chance.randrange(120): chance.choice(kinds) for _ in range(chance.randrange(1, 5))}


def deaths(top: Path, chance: random.Random, share: float) -> str:
    """The program dies at every single touch of the disk while it records, mends and merges."""
    told = []
    acts: list[tuple[str, Callable[[Path], None], Callable[[Path, Disk], object]]] = [
        ("recording", begin, record),
        ("recording after an unfinished line", tear, record),
        ("mending", harm, lambda book, disk: mend(book, disk=disk)),
        ("merging", part, lambda book, disk: merge(book, book / "other", disk=disk)),
    ]
    for name, before, act in acts:
        folder = top / name.replace(" ", "-")
        folder.mkdir()
        told.append(f"{name} {trials.die_at_every_touch(folder, before, act)}")
    return f"touches of the disk at which the program died: {', '.join(told)}; nothing lost at any"


def begin(book: Path) -> None:
    """Three entries."""
    ledger = LedgerFile(book, desk="a")
    for number in range(3):
        ledger.append(trials.draft(f"e{number}"))


def record(book: Path, disk: Disk) -> None:
    """One entry, then two together."""
    ledger = LedgerFile(book, desk="b", disk=disk)
    ledger.append(trials.draft("one"))
    ledger.append_many([trials.draft("two"), trials.draft("three")])


def tear(book: Path) -> None:
    """Three entries and a line that was never finished."""
    begin(book)
    with (book / "ledger.jsonl").open("ab") as file:
        file.write(b'{"number":4,"entries":[{"ent')


def harm(book: Path) -> None:
    """Three entries, one of them damaged, and an unfinished line."""
    tear(book)
    path = book / "ledger.jsonl"
    path.write_bytes(path.read_bytes().replace(b'"e1"', b'"eX"'))


def part(book: Path) -> None:
    """Two ledgers of one book, written apart."""
    begin(book)
    other = book / "other"
    other.mkdir()
    (other / "ledger.jsonl").write_bytes((book / "ledger.jsonl").read_bytes())
    LedgerFile(other, desk="c").append(trials.draft("there"))
    LedgerFile(book, desk="a").append(trials.draft("here"))


def power(top: Path, chance: random.Random, share: float) -> str:
    """The power is cut, and what was not waited for is gone."""
    books, runs, acknowledged = max(2, round(100 * share)), 10, 0
    for book in range(books):
        folder = top / str(book)
        folder.mkdir()
        acknowledged += trials.cut_power(folder, runs, chance)
    return f"{books * runs} cuts (modelled), {acknowledged} entries acknowledged, none lost"


def damage(top: Path, chance: random.Random, share: float) -> str:
    """Torn, flipped, zeroed, scrambled, cut, moved and doubled, the mirror too in every fourth."""
    ways = max(20, round(500 * share))
    figures = ledger_damage.damage_and_mend(top, ways, chance)
    return f"{ways} ways; entries " + ", ".join(f"{name} {count}" for name, count in figures.items())


def server(top: Path, chance: random.Random, share: float) -> str:
    """Desks on a database server: lines cut, desks killed, many writing at once."""
    if database.WHY_NOT:
        return database.WHY_NOT
    here = database.Server()
    os.environ.update(here.environment)
    try:
        here.start()
        for name in ("cuts/b", "kills", "race"):
            (top / name).mkdir(parents=True)
        cuts, killed = max(10, round(500 * share)), max(4, round(200 * share))
        count = max(10, round(500 * share))
        kept = server_trials.cut_lines(top / "cuts", here, cuts, chance)
        safe = server_trials.kill_writers(top / "kills", here, killed, chance)
        speed = server_trials.race(top / "race", here, 8, count)
    finally:
        here.remove()
    return (
        f"lines cut {cuts} times, {kept} entries acknowledged; {killed} desks killed, {safe} acknowledged; 8 desks, "
        f"{count} entries each, {speed:.0f} a second with the desks' start; none lost, none doubled"
    )


if __name__ == "__main__":
    main()
