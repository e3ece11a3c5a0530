"""Random lives of books, all they tell held against itself: ``python tests/long_truth.py [--lives 300] [--seed N]``.

A life is some thirty things done to a book at the job's seam: pages ruled, written whole, to a line or to some words,
begun, held, checked; faults; spaces filled, moved, given up, added; leaves cancelled, replaced, lost and added; flaws,
other rulings, remedies; the plan's file changed; things done at another desk; and some of it taken back. After every
step nothing may have vanished unsaid, no figure may be told in two ways, and undoing must restore the book. At its end
the book is opened anew, and everything is taken back. Prints what was untrue, with the life's number, which repeats it.
"""

from __future__ import annotations

import argparse
import random
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parent / "shared"))

from life import Life
from life_books import NAMES


def main() -> int:
    """Live so many lives; whether any had anything untrue."""
    parser = argparse.ArgumentParser(description="Random lives of books, everything they tell held against itself.")
    parser.add_argument("--lives", type=int, default=300)
    parser.add_argument("--steps", type=int, default=30, help="things done in a life")
    parser.add_argument("--seed", type=int, default=1, help="the number of the first life; the others follow")
    parser.add_argument("--minutes", type=float, default=float("inf"), help="begin no other life after so long")
    asked = parser.parse_args()
    until = time.monotonic() + 60 * asked.minutes
    began, lived, counts, untrue = time.process_time(), 0, Counter[str](), 0
    while lived < asked.lives and time.monotonic() < until:
        number = asked.seed + lived
        kind = NAMES[number % len(NAMES)]
        counted, found = one_life(kind, number, asked.steps)
        lived, counts, untrue = lived + 1, counts + counted, untrue + bool(found)
        for sentence in found:
            say(f"life {number} ({kind}): {sentence}")
    say(", ".join(f"{name} {count}" for name, count in sorted(counts.items())))
    done = sum(count for name, count in counts.items() if not name.endswith("refused"))
    say(f"{done} things done, {sum(counts.values()) - done} refused")
    spent = time.process_time() - began
    say(f"{lived} lives from {asked.seed} on, {untrue} with anything untrue [{spent:.0f} s of one core]")
    return int(untrue > 0)


def say(line: str) -> None:
    """Print a line at once."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def one_life(kind: str, number: int, steps: int) -> tuple[Counter[str], list[str]]:
    """What was done in one life, and what was untrue at the first step at which anything was."""
    with tempfile.TemporaryDirectory() as top:
        life = Life(Path(top) / "book", kind, random.Random(number))
        try:
            for _ in range(steps):
                if found := life.live():
                    return life.counts, [*found, *(f"  after: {done}" for done in life.done[-2:])]
            return life.counts, life.afresh() or life.all_taken_back()
        finally:
            life.close()


if __name__ == "__main__":
    sys.exit(main())
