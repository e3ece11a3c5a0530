"""Ten thousand keys and clicks at random: ``python tests/desk/long_keys.py [--steps 10000] [--seed N]``.

The desk is opened anew every five hundred steps, on the same book; where it breaks, the last keys are told.
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
from wandering import Wanderer, expect_sound

SHIPPED = Path(__file__).parents[2] / "projects" / "twelve-waters"
AT_A_SITTING = 500


def main() -> None:
    """Wander, sitting after sitting."""
    parser = argparse.ArgumentParser(description="Keys and clicks at random.")
    parser.add_argument("--steps", type=int, default=10_000)
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
    say(f"{chosen.steps} keys and clicks, none broke the desk; {entries} entries, the ledger sound")


def say(line: str) -> None:
    """Print a line at once."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


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
