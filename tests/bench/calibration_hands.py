"""How well each hand's closeness is known, page by page: simulated hands beside what is told of them."""

from __future__ import annotations

import sys
from pathlib import Path
from statistics import fmean

sys.path.insert(0, str(Path(__file__).parents[1] / "shared"))

from hand_trials import rmse, share_held, told, ways
from skip_trials import skipped

SPANS = {
    "1": (1,),
    "2": (2,),
    "3 to 5": (3, 4, 5),
    "6 to 10": (7, 9),
    "11 to 60": tuple(range(12, 61, 4)),
    "20": (20,),
    "21": (21,),
    "22": (22,),
    "23": (23,),
    "24": (24,),
    "25": (25,),
}
"""Pages after which it is asked; every page of a book would take long and tell little more."""


def closeness(books: int, seed: int) -> None:
    """Root mean square error in hundredths of the hand's letters, and the share of 90 % ranges that hold the truth."""
    print(f"{'after pages':34}" + "".join(f"{head:>11}" for head in SPANS))
    for name, way in ways():
        found = told(way, books, sorted({page for span in SPANS.values() for page in span}), seed)
        cells = ([each for page in span for each in found[page]] for span in SPANS.values())
        print(f"{name:34}" + "".join(f"{100 * rmse(cell):6.2f} {share_held(cell):5.2f}" for cell in cells), flush=True)


def skips(books: int, seed: int) -> None:
    """How far words passed over on a page move what is told of the hand, before the check of that page and after.

    After the check, what is left is how the lines of another text happen to break, now closer and now wider.
    """
    print(
        f"{'words, on':26}{'before the check: moved':>24}{'held':>6}{'named':>7}"
        f"{'after it: moved':>17}{'off by':>8}{'held':>6}"
    )
    for words in (20, 40):
        for at, pages, where in ((2, 3, "page 3, the newest"), (7, 8, "page 8, the newest"), (7, 10, "page 8 of 10")):
            found = [skipped(words, f"{seed} {number}", pages=pages, at=at) for number in range(books)]
            print(
                f"{f'{words}, {where}':26}{fmean(each.before for each in found):24.2f}"
                f"{fmean(each.held for each in found):6.2f}{fmean(each.named for each in found):7.2f}"
                f"{fmean(each.after for each in found):17.2f}{fmean(abs(each.after) for each in found):8.2f}"
                f"{fmean(each.held_after for each in found):6.2f}",
                flush=True,
            )


SECTIONS = {"closeness": closeness, "skips": skips}
