"""Random lives of books, all they tell held against itself: ``python tests/long_truth.py [--lives 200] [--seed N]``.

A life is some thirty things done to a book at the job's seam: pages ruled, written whole, to a line or to some words,
held, checked; spaces filled, moved, given up, added; leaves cancelled, replaced, lost and added; flaws, other rulings,
remedies; and some of it taken back. After every step nothing may have vanished unsaid, no figure may be told in two
ways, and undoing must restore the book. Prints what was untrue, with the life's number, which repeats it.
"""

from __future__ import annotations

import argparse
import random
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parent / "shared"))

from truth import NAMES, Life


def main() -> int:
    """Live so many lives; how many had anything untrue."""
    parser = argparse.ArgumentParser(description="Random lives of books, everything they tell held against itself.")
    parser.add_argument("--lives", type=int, default=200)
    parser.add_argument("--steps", type=int, default=30, help="things done in a life")
    parser.add_argument("--seed", type=int, default=1, help="the number of the first life; the others follow")
    asked = parser.parse_args()
    began, steps, untrue = time.perf_counter(), 0, 0
    for number in range(asked.seed, asked.seed + asked.lives):
        kind = NAMES[number % len(NAMES)]
        done, found = one_life(kind, number, asked.steps)
        steps += done
        untrue += bool(found)
        for sentence in found:
            sys.stdout.write(f"life {number} ({kind}): {sentence}\n")
            sys.stdout.flush()
    spent = time.perf_counter() - began
    sys.stdout.write(f"{asked.lives} lives, {steps} things done, {untrue} lives with anything untrue [{spent:.0f} s]\n")
    return int(untrue > 0)


def one_life(kind: str, number: int, steps: int) -> tuple[int, list[str]]:
    """Things done in one life, and what was untrue at the first step at which anything was."""
    with tempfile.TemporaryDirectory() as top:
        life = Life(Path(top) / "book", kind, random.Random(number))
        try:
            for _ in range(steps):
                if found := life.live():
                    return len(life.done), [*found, f"  after: {life.done[-1]}"]
            return len(life.done), life.afresh()
        finally:
            life.job.close()


if __name__ == "__main__":
    sys.exit(main())
