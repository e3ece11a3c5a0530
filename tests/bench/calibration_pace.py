"""How hours, pace and finish come true: simulated workshops beside what is told of them."""

from __future__ import annotations

import random
import sys
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING

sys.path.insert(0, str(Path(__file__).parents[1] / "shared"))

from pace_trials import WAYS, hours_told, pace_held, wrongly_moving
from workshop_trials import ROWS, bins, book, held

if TYPE_CHECKING:
    from workshop_trials import Told


def hours(books: int, seed: int) -> None:
    """Hours a week as shares of the true ones after so many days: mean, scatter, and how often 80 % ranges hold."""
    spans = (1, 3, 5, 7, 14, 28, 70)
    print(f"{'after days':20}" + "".join(f"{span:>18}" for span in spans))
    for way in WAYS:
        rng, cells = random.Random(f"{seed} {way}"), []
        for span in spans:
            told = [hours_told(way, span, rng) for _ in range(books)]
            ratios = [found.a_week / true for found, true in told]
            hold = sum((ends := found.range(0.8))[0] <= true <= ends[1] for found, true in told) / books
            mean = sum(ratios) / books
            scatter = (sum((each - mean) ** 2 for each in ratios) / books) ** 0.5
            cells.append(f"{mean:6.2f} {scatter:5.2f} {hold:5.2f}")
        print(f"{way:20}" + "".join(f"{cell:>18}" for cell in cells), flush=True)


def pace(books: int, seed: int) -> None:
    """The share of 90 % ranges of the pace that hold; the share of steady hands ever said to move."""
    print("own scatter, day effect     after 8, 25, 60 days     said to move")
    for own in (0.08, 0.15):
        for effect in (0.0, 0.1, 0.2):
            held_by = [pace_held(books, f"{seed} {own} {effect} {days}", days, effect, own) for days in (8, 25, 60)]
            wrong = wrongly_moving(max(books // 2, 1), f"{seed} {own} {effect}", 60, effect, own)
            print(
                f"{own:11.2f} {effect:11.2f}     " + "".join(f"{each:7.3f}" for each in held_by) + f"{wrong:12.3f}",
                flush=True,
            )


def finish(books: int, seed: int) -> None:
    """Shares of 80 % ranges that hold the day all is written, checked and whole, at 15, 40 and 70 % of the book."""
    print(f"{'':44}{'written':>18}{'checked':>18}{'whole':>18}")
    every: list[Told] = []
    for name, world in ROWS.items():
        lives = [book(world, f"{seed} {name} {number}") for number in range(books)]
        cells = (
            " ".join(f"{held([life[at] for life in lives if len(life) > at], what):.2f}" for at in range(3))
            for what in ("written", "checked", "whole")
        )
        print(f"{name:44}" + "".join(f"{cell:>18}" for cell in cells), flush=True)
        every += chain.from_iterable(lives)
    for title, pairs in (
        ("chance_by_due", [(told.said.chance_by_due or 0.0, told.checked <= told.due) for told in every]),
        ("chance_text_fits", [(told.chance_fits, told.fits) for told in every]),
    ):
        print(f"{title}: said, true (forecasts)")
        print("    " + "  ".join(f"{said:.2f} {true:.2f} ({count})" for said, true, count in bins(pairs)))


SECTIONS = {"hours": hours, "pace": pace, "finish": finish}
