"""Simulated hands, page by page, held against what is told of them after each page.

The hands differ from what the project assumes of hands: see ``Way``.
"""

from __future__ import annotations

import math
from random import Random
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.hands.hand_fit import Usage, from_pages
from copydesk.book.hands.hand_set import HandSet

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence


LINES = 30


class Way(NamedTuple):
    """A way of writing: how a hand's mean moves, and how its pages stray from it; all in shares of its letters.

    ``drift`` is the movement a page, up or down; ``step`` a sudden change at page ``step_at``; ``wander`` a chance
    change each page; ``settles`` what a new hand closes up by, most of it in its first ten pages. Pages stray by
    ``scatter``; pages of one sitting (three of them) alike by ``sittings``; one page in ``strange`` by four times that.
    ``stated`` is what the hand is said to write beside what it writes, None where that is a chance.
    """

    drift: float = 0.0
    step: float = 0.0
    step_at: int = 20
    wander: float = 0.0
    settles: float = 0.0
    scatter: float = 0.025
    sittings: float = 0.0
    strange: int = 0
    stated: float | None = None


class Told(NamedTuple):
    """What was told after a page: how far off it was, as a share of the truth, and whether its range held that."""

    off: float
    held: bool


def course(way: Way, pages: int, chance: Random) -> list[float]:
    """The hand's mean on each page and the next, in shares of its first."""
    sign = chance.choice((-1, 1))
    found, wandered = [], 0.0
    for page in range(pages + 1):
        step = way.step * (page >= way.step_at)
        found.append(1 + sign * (way.drift * page + step) + wandered - way.settles * math.exp(-page / 5))
        wandered += chance.gauss(0, way.wander)
    return found


def book_of(way: Way, pages: int, chance: Random) -> tuple[HandSet, list[Usage], list[float]]:
    """What is stated of a hand, what its pages say, and its true letters a line on each page and the next."""
    letters = chance.uniform(26, 40)
    truth = [letters * share for share in course(way, pages, chance)]
    stated = way.stated if way.stated is not None else 1 + chance.gauss(0, 0.04)
    usages, sitting = [], 0.0
    for page in range(pages):
        if page % 3 == 0:
            sitting = chance.gauss(0, way.sittings)
        strays = way.scatter * (4 if way.strange and chance.randrange(way.strange) == 0 else 1)
        middle = truth[page] * (1 + sitting + chance.gauss(0, strays)) + chance.uniform(-0.1, 0.1)
        usages.append(Usage(LINES, middle - 0.1, middle + 0.1))
    return HandSet.from_letters(truth[0] * stated), usages, truth


def told(way: Way, books: int, after: Sequence[int], seed: int) -> dict[int, list[Told]]:
    """What is told of so many hands after these pages."""
    found: dict[int, list[Told]] = {page: [] for page in after}
    for number in range(books):
        before, usages, truth = book_of(way, max(after), Random(f"{way} {seed} {number}"))
        for page in after:
            known = from_pages(before, usages[:page])
            found[page].append(Told(known.letters_per_line / truth[page] - 1, known.low <= truth[page] <= known.high))
    return found


def rmse(found: Sequence[Told]) -> float:
    """The root of the mean square by which it was off."""
    return math.sqrt(math.fsum(each.off**2 for each in found) / len(found))


def share_held(found: Sequence[Told]) -> float:
    """The share of ranges that held the truth."""
    return sum(each.held for each in found) / len(found)


def ways() -> Iterator[tuple[str, Way]]:
    """The ways the tables are made for."""
    yield "steady", Way()
    yield "steady, pages stray by 1.5 %", Way(scatter=0.015)
    yield "steady, pages stray by 4 %", Way(scatter=0.04)
    yield "steady, sittings differ by 1.5 %", Way(scatter=0.02, sittings=0.015)
    yield "steady, one page in 12 is strange", Way(strange=12)
    yield "steady, stated 15 % too close", Way(stated=1.15)
    yield "moves by 0.1 % a page", Way(drift=0.001)
    yield "moves by 0.3 % a page", Way(drift=0.003)
    yield "moves by 0.8 % a page", Way(drift=0.008)
    yield "a step of 7 % at page 21", Way(step=0.07)
    yield "a step of 3 % at page 21", Way(step=0.03)
    yield "wanders by 0.8 % a page", Way(wander=0.008)
    yield "closes up by 6 % at first", Way(settles=0.06)
