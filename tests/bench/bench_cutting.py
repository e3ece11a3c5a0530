"""The exhaustive cutting of a skin beside rows that all lie one way: how long it takes, and what it gains.

Run: python tests/bench/bench_cutting.py
Prints ratios; nothing here passes or fails.
"""

from __future__ import annotations

import random
import statistics
import time
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.materials.guillotine_cuts import MOST_SEARCHED, cut_best, cut_one_way

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.book.materials.guillotine_cuts import Cuts

SKINS = 60
SIZES = ((2, 4), (5, 8), (9, 16), (17, 40), (41, MOST_SEARCHED), (MOST_SEARCHED + 1, 400))
"""Sheets that a skin would hold by area alone, from fewest to most."""


class Case(NamedTuple):
    """A skin and the sheet to cut from it, in thousandths of a millimetre as the book's cutting has them."""

    width: int
    height: int
    sheet: tuple[int, int]


def cases(fewest: int, most: int, seed: int = 1) -> list[Case]:
    """Skins of 500 to 900 by 400 to 750 mm, and sheets of which so many would fill one."""
    chance = random.Random(seed)
    found = []
    while len(found) < SKINS:
        width, height = chance.randint(500, 900), chance.randint(400, 750)
        area = width * height / chance.uniform(fewest, most)
        shape = chance.uniform(1.1, 1.6)
        sheet = round((area * shape) ** 0.5), round((area / shape) ** 0.5)
        if fewest <= width * height // (sheet[0] * sheet[1]) <= most and sheet[0] != sheet[1]:
            found.append(Case(width * 1000, height * 1000, (sheet[0] * 1000, sheet[1] * 1000)))
    return found


def timed(cut: Callable[[int, int, tuple[int, int]], Cuts], case: Case) -> tuple[float, int]:
    """The shortest of three runs in seconds, and the sheets cut."""
    taken, sheets = [], 0
    for _ in range(3):
        begun = time.perf_counter()
        sheets = len(cut(*case).pieces)
        taken.append(time.perf_counter() - begun)
    return min(taken), sheets


def main() -> None:
    """Print a line for each number of sheets to a skin."""
    print("sheets a skin   one way   exhaustive            ratio   longest   sheets gained   skins that gain")
    for fewest, most in SIZES:
        pairs = [(timed(cut_one_way, case), timed(cut_best, case)) for case in cases(fewest, most)]
        plain, best = (statistics.median(pair[at][0] for pair in pairs) * 1000 for at in (0, 1))
        longest = max(pair[1][0] for pair in pairs) * 1000
        before, after = (sum(pair[at][1] for pair in pairs) for at in (0, 1))
        gaining = sum(one[1] < other[1] for one, other in pairs)
        print(
            f"{fewest:4} to {most:<4}   {plain:7.3f} ms   {best:7.3f} ms   {best / plain:9.1f} x   {longest:6.1f} ms"
            f"   {after / before - 1:13.1%}   {gaining:7} of {SKINS}"
        )


if __name__ == "__main__":
    main()
