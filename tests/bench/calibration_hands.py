"""How well each hand's closeness is known, page by page: simulated hands beside what is told of them."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "shared"))

from hand_trials import pooled, rmse, share_held, told, ways

SPANS = (range(1, 2), range(2, 6), range(6, 13), range(13, 21), range(21, 25), range(25, 61))
PAGES = (1, 2, 3, 4, 5, 7, 10, 14, 17, 20, 21, 22, 23, 24, 28, 34, 40, 46, 52, 60)
"""Pages after which it is asked; every page of a book would take long and tell little more."""


def closeness(books: int, seed: int) -> None:
    """Root mean square error in hundredths of the hand's letters, and the share of 90 % ranges that hold the truth."""
    heads = [f"{span.start} to {span.stop - 1}" if len(span) > 1 else f"{span.start}" for span in SPANS]
    print(f"{'after pages':36}" + "".join(f"{head:>14}" for head in heads))
    for name, way in ways():
        found = told(way, books, PAGES, seed)
        cells = (pooled(found, span) for span in SPANS)
        print(f"{name:36}" + "".join(f"{100 * rmse(cell):8.2f} {share_held(cell):5.2f}" for cell in cells), flush=True)


SECTIONS = {"closeness": closeness}
