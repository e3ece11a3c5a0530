"""Simulated scribes whose eye is led in one way, and the share of their leaps that warnings had named.

One leaps to near words wherever they stand, one to words beneath in the exemplar's lines, one between the edges of its
lines. How the pull falls off, and with what, is drawn here otherwise than ``watch`` has it. The best single rule for a
scribe is to rank all pairs by the scribe's own pull.
"""

from __future__ import annotations

import random
from typing import TYPE_CHECKING

from copydesk.comparing.eye_skip import Habits, watch
from leaps import cast
from slips import plain

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence


REACH = 20
Line = tuple[int, int, bool, bool]


def places(lines: Sequence[Sequence[str]]) -> list[Line]:
    """For each word its line, the letters before it, and whether it is the first or the last of its line."""
    found: list[Line] = []
    for number, line in enumerate(lines):
        left = 0
        for at, word in enumerate(line):
            found.append((number, left, at == 0, at == len(line) - 1))
            left += len(word) + 1
    return found


def near(apart: int, one: Line, other: Line) -> float:
    """Near in words."""
    return 1 / (1 + (apart / 6) ** 2)


def beneath(apart: int, one: Line, other: Line) -> float:
    """Beneath in the exemplar's next two lines."""
    return (other[0] - one[0] in (1, 2)) * max(0.0, 1 - abs(other[1] - one[1]) / 14) / (other[0] - one[0] or 1)


def edges(apart: int, one: Line, other: Line) -> float:
    """At the ends, or the beginnings, of the exemplar's next two lines."""
    return float(other[0] - one[0] in (1, 2) and ((one[2] and other[2]) or (one[3] and other[3])))


SCRIBES: dict[str, Callable[[int, Line, Line], float]] = {
    "near in words": near,
    "exemplar's column": beneath,
    "edges of lines": edges,
}


def leaps(words: Sequence[str], where: Sequence[Line], scribe: str) -> dict[tuple[int, int], float]:
    """Every leap the page allows this scribe, with its weight; words that end alike draw a third as much."""
    keys, pull, found = [plain(word) for word in words], SCRIBES[scribe], {}
    for one, key in enumerate(keys):
        for other in range(one + 2, min(one + REACH, len(keys))):
            like = 1.0 if key == keys[other] else 0.3 if len(key) > 3 and keys[other][-3:] == key[-3:] else 0.0
            weight = like * pull(other - one, where[one], where[other]) if key and like else 0.0
            if weight > 0:
                found[one, other] = weight
    return found


def recall(
    pages: Sequence[Sequence[str]], scribe: str, habits: Habits, seed: int, most: int = 5, own_lines: bool = True
) -> tuple[float, float]:
    """The share of leaps named by ``most`` warnings a page, and by as many chosen by the scribe's own rule."""
    rng = random.Random(seed)
    ours = best = whole = 0
    for words in pages:
        # The exemplar's lines are not those of the copy.
        exemplar, copy = cast(words, 55), cast(words, 42)
        weights = leaps(words, places(exemplar), scribe)
        if not weights:
            continue
        starts = [sum(map(len, exemplar[:at])) for at in range(len(exemplar))] if own_lines else []
        told = watch(copy, 0, exemplar_lines=[*starts, len(words)] if own_lines else (), most=most, habits=habits)
        phrases = [(each.places[0][2], each.places[1][2], len(each.words[0].split())) for each in told]
        named = {(one + by, other + by) for one, other, length in phrases for by in range(length)}
        rule = set(sorted(weights, key=weights.__getitem__, reverse=True)[: len(told)])
        for leap in rng.choices(list(weights), list(weights.values()), k=40):
            whole += 1
            ours += leap in named
            best += leap in rule
    return ours / whole, best / whole
