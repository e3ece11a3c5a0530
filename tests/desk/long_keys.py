"""Keys and clicks at random for a long time: ``python tests/desk/long_keys.py [--steps N] [--bursts N] [--browser N]``.

``--steps`` are single keys and clicks at a desk without a terminal; ``--bursts`` are keys, clicks, pastes and new
sizes that arrive together in a real terminal; ``--browser`` are the same in a browser at ``copydesk serve``. A desk is
opened anew now and then, on the same book; where it breaks, the last of what was sent is told.
"""

from __future__ import annotations

import argparse
import asyncio
import os
import random
import shutil
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))
sys.path.insert(0, str(Path(__file__).parents[1] / "shared"))

from copydesk.desk.app import Desk
from copydesk.job import Job
from copydesk.store.journal.audit import audit
from desk_terminal import DRAWN, SIZES, Terminal, burst
from wandering import Wanderer, expect_sound

SHIPPED = Path(__file__).parents[2] / "projects" / "twelve-waters"
AT_A_SITTING = 500
BURSTS_AT_A_SITTING = 200
RESIZED = 0.05
"""The share of bursts before which the terminal gets another size."""


def main() -> None:
    """Wander, sitting after sitting."""
    parser = argparse.ArgumentParser(description="Keys and clicks at random.")
    parser.add_argument("--steps", type=int, default=10_000)
    parser.add_argument("--bursts", type=int, default=0, help="bursts in a real terminal")
    parser.add_argument("--browser", type=int, default=0, help="bursts in a browser, where Chromium is installed")
    parser.add_argument("--seed", type=int, default=None, help="repeat a run")
    chosen = parser.parse_args()
    seed = random.SystemRandom().randrange(10**9) if chosen.seed is None else chosen.seed
    say(f"seed {seed}")
    os.environ["TEXTUAL_ANIMATIONS"] = "none"
    began, entries, chance = time.perf_counter(), 0, random.Random(seed)
    with tempfile.TemporaryDirectory() as top:
        os.chdir(top)
        folder = Path(shutil.copytree(SHIPPED, Path(top) / "book", ignore=shutil.ignore_patterns(".*")))
        for done in range(0, chosen.steps, AT_A_SITTING):
            entries = asyncio.run(sit(folder, chance, min(AT_A_SITTING, chosen.steps - done), entries))
            took = time.perf_counter() - began
            say(f"{min(done + AT_A_SITTING, chosen.steps)} steps, {entries} entries [{took:.0f} s]")
        if chosen.steps:
            say(f"{chosen.steps} keys and clicks, none broke the desk; {entries} entries, the ledger sound")
        if chosen.bursts:
            in_a_terminal(folder, Path(top) / "home", chance, chosen.bursts)
        if chosen.browser:
            asyncio.run(in_a_browser(folder, Path(top) / "tab", chance, chosen.browser))


def say(line: str) -> None:
    """Print a line at once."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def in_a_terminal(folder: Path, home: Path, chance: random.Random, bursts: int) -> None:
    """So many bursts in a real terminal; a desk that was asked to quit is opened anew."""
    home.mkdir()
    began, sent, opened, events = time.perf_counter(), 0, 0, 0
    while sent < bursts:
        terminal, opened = Terminal(folder, home), opened + 1
        terminal.wait_for(DRAWN)
        last: list[list[str]] = []
        try:
            for _ in range(min(BURSTS_AT_A_SITTING, bursts - sent)):
                if chance.random() < RESIZED:
                    terminal.resize(*chance.choice(SIZES))
                last = [*last[-20:], burst(chance, terminal.rows, terminal.columns)]
                terminal.send("".join(last[-1]))
                terminal.read(chance.choice((0, 0, 0.005, 0.05)))
                sent, events = sent + 1, events + len(last[-1])
                if terminal.process.poll() is not None:
                    break
            terminal.read(1.0)
            ended = terminal.process.poll()
            log = home / "mistakes.log"
            if ended not in (None, 0) or log.exists():
                say(f"the desk ended with {ended}; the last bursts: {last}")
                say(
                    (home / "mistakes.log").read_text() if (home / "mistakes.log").exists() else "no mistake was logged"
                )
                raise SystemExit(1)
        finally:
            terminal.kill()
        took = time.perf_counter() - began
        say(f"{sent} bursts, {events} keys, clicks and pastes, {opened} desks opened [{took:.0f} s]")
    assert audit(folder) == ()
    say(f"{sent} bursts in a terminal, no desk ended unasked, no mistake logged, the ledger sound")


async def in_a_browser(folder: Path, home: Path, chance: random.Random, bursts: int) -> None:
    """So many bursts in a browser at ``copydesk serve``; the desk must still draw afterwards."""
    from browser_tab import CHROMIUM, opened_tab, served

    if CHROMIUM is None:
        say("no Chromium is installed, so no browser was tried")
        return
    began = time.perf_counter()
    state = home / "state"
    with served(folder, state) as address:
        async with opened_tab(address, home) as tab:
            for number in range(1, bursts + 1):
                await tab.burst(chance)
                if number % 100 == 0:
                    say(f"{number} bursts in a browser [{time.perf_counter() - began:.0f} s]")
            assert await tab.is_open(), "the desk in the browser ended"
    assert not (state / "mistakes.log").exists(), (state / "mistakes.log").read_text()
    assert audit(folder) == ()
    say(f"{bursts} bursts in a browser, the desk still open, no mistake logged, the ledger sound")


async def sit(folder: Path, chance: random.Random, steps: int, least: int) -> int:
    """One sitting; how many entries there are after it."""
    other = Job.open(folder, desk="door")
    desk = Desk(Job.open(folder, desk="window"))
    wanderer = Wanderer(desk, other, chance)
    try:
        async with desk.run_test(size=(120, 40)) as pilot:
            await wanderer.wander(pilot, steps)
            return expect_sound(desk, folder, least)
    except BaseException:
        say(f"the last keys: {wanderer.done[-40:]}")
        raise
    finally:
        desk.job.close()
        other.close()


if __name__ == "__main__":
    main()
