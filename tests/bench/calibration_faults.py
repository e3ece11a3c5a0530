"""What faults tell, in four worlds: how often ranges of rates hold, and how often a rest is advised, rightly or not."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "shared"))

from fault_trials import WORLDS, share_advised, share_held


def rates(books: int, seed: int) -> None:
    """The share of 90 % ranges that hold, by pages and faults a page."""
    sizes = [(pages, a_page) for pages in (20, 60, 150) for a_page in (0.5, 1.0, 2.0)]
    print(f"{'pages, faults a page':16}" + "".join(f"{f'{pages}, {a_page:g}':>9}" for pages, a_page in sizes))
    for world in WORLDS:
        held = (share_held(2 * books, f"{seed} {world} {size}", world, *size) for size in sizes)
        print(f"{world:20}" + "".join(f"{each:9.3f}" for each in held), flush=True)


def rests(books: int, seed: int) -> None:
    """The share of records in which a rest is ever advised: 200 pages without a pattern, 80 where faults double."""
    print(f"{'faults a page':20}{'no pattern':>24}{'doubling':>24}")
    print(f"{'':20}" + 2 * "".join(f"{a_page:8.1f}" for a_page in (1.0, 1.5, 2.5)))
    for world in WORLDS:
        cells = [
            share_advised(books, f"{seed} {world} {a_page}", world, pages, a_page, tired)
            for pages, tired in ((200, 1.0), (80, 2.0))
            for a_page in (1.0, 1.5, 2.5)
        ]
        print(f"{world:20}" + "".join(f"{each:8.3f}" for each in cells), flush=True)


SECTIONS = {"rates": rates, "rests": rests}
