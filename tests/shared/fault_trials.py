"""Simulated records of faults in four worlds: as chance has it, where pages differ, where days do, and in clusters."""

from __future__ import annotations

import math
import random

from copydesk.tracking.checking.fault_rates import CheckedLines, rate_of, rest_after

WORLDS = ("chance alone", "pages differ", "days differ", "in clusters")
LINES = 30
_CLUSTERS = (1, 1, 1, 2, 3, 5)
TIRED_AFTER = 60.0


def record(rng: random.Random, world: str, pages: int, a_page: float, tired: float = 1.0) -> list[list[CheckedLines]]:
    """Day by day the pages of a hand; from an hour at the desk on it makes ``tired`` times as many faults."""
    days: list[list[CheckedLines]] = []
    written = 0
    while written < pages:
        of_day = rng.gammavariate(8, 1 / 8) if world == "days differ" else 1.0
        day, sat = [], 0.0
        for _ in range(rng.randrange(3, 6)):
            minutes = rng.uniform(20, 40)
            middle, sat = sat + minutes / 2, sat + minutes
            mean = a_page * of_day * (tired if middle >= TIRED_AFTER else 1.0)
            if world == "pages differ":
                mean *= rng.gammavariate(3, 1 / 3)
            if world == "in clusters":
                times = _poisson(rng, mean * len(_CLUSTERS) / sum(_CLUSTERS))
                faults = sum(rng.choice(_CLUSTERS) for _ in range(times))
            else:
                faults = _poisson(rng, mean)
            at = f"2026-{len(days) // 28 + 1:02}-{len(days) % 28 + 1:02}"
            day.append(CheckedLines("A", LINES, ("omission",) * faults, None, middle, at))
            written += 1
        days.append(day)
    return days


def _poisson(rng: random.Random, mean: float) -> int:
    left, count = math.exp(-mean), 0
    product = rng.random()
    while product > left:
        product *= rng.random()
        count += 1
    return count


def advised(days: list[list[CheckedLines]], every: int = 1) -> bool:
    """Whether a rest is ever advised, looked at after each page, or each of so many."""
    seen = [page for day in days for page in day]
    return any(rest_after(seen[:count]) is not None for count in range(4, len(seen) + 1, every))


def share_advised(books: int, seed: str, world: str, pages: int, a_page: float, tired: float = 1.0) -> float:
    """The share of records in which a rest is ever advised."""
    rng = random.Random(seed)
    return sum(advised(record(rng, world, pages, a_page, tired), 3) for _ in range(books)) / books


def share_held(books: int, seed: str, world: str, pages: int, a_page: float) -> float:
    """The share of 90 % ranges of the rate that hold the true one."""
    rng, held = random.Random(seed), 0
    for _ in range(books):
        found = rate_of(page for day in record(rng, world, pages, a_page) for page in day)
        held += found is not None and found.low <= 100 * a_page / LINES <= found.high
    return held / books
