"""A plain model of where the eye leaps, and the share of its leaps that a page's warnings had named.

The model: the scribe looks back to the exemplar after any word, seeks the word last written, and lands on the
same word (weight 1) or on one that shares its last three letters (weight 0.3) further on, the more easily the
nearer it stands on the page: a bell curve over lines and letters. It is ours. It shares with ``watch`` the notion
that nearness counts, sideways and down, and none of its figures; it knows nothing of line ends. A second model lets
every recurrence within two lines draw alike. No published figures of where leaps happen were at hand, so the shares
compare ways of warning with one another and foretell no workshop's slips.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import exp

from copydesk.comparing.eye_skip import Recurrence, watch
from slips import plain

LINES_AWAY, LETTERS_AWAY = 1.0, 10.0
REACH = 3


@dataclass(frozen=True, slots=True)
class Leap:
    """From one word of the page to another, with its weight."""

    one: int
    other: int
    weight: float


def cast(words: Sequence[str], letters: int) -> list[list[str]]:
    """Words in lines of so many letters."""
    lines: list[list[str]] = [[]]
    for word in words:
        if lines[-1] and sum(map(len, lines[-1])) + len(lines[-1]) + len(word) > letters:
            lines.append([])
        lines[-1].append(word)
    return lines


def leaps(lines: Sequence[Sequence[str]]) -> list[Leap]:
    """Every leap the page allows, by the bell curve."""
    spots, left = [], 0
    for number, words in enumerate(lines):
        left = 0
        for each in words:
            spots.append((number, left, plain(each)))
            left += len(each) + 1
    found: list[Leap] = []
    for one, (line, letters, word) in enumerate(spots):
        for other in range(one + 2, len(spots)):
            below, to, like = spots[other]
            if below - line > REACH:
                break
            weight = 1.0 if like == word else 0.3 if len(word) > 3 and like[-3:] == word[-3:] else 0.0
            away = ((below - line) / LINES_AWAY) ** 2 + ((to - letters) / LETTERS_AWAY) ** 2
            if word and weight:
                found.append(Leap(one, other, weight * exp(-away / 2)))
    return found


def level(lines: Sequence[Sequence[str]]) -> list[Leap]:
    """Every recurrence within two lines, all alike."""
    ends = [number for number, line in enumerate(lines) for _ in line]
    return [Leap(leap.one, leap.other, 1.0) for leap in leaps(lines) if ends[leap.other] - ends[leap.one] <= 2]


Model = Callable[[Sequence[Sequence[str]]], list[Leap]]


@dataclass(slots=True)
class Recall:
    """Leaps made, and how many of them lay where the eye was warned, by us and by chance."""

    leaps: int = 0
    warned: int = 0
    by_chance: int = 0


def recall(pages: Sequence[Sequence[str]], model: Model, most: int, seed: int, letters: int = 42) -> Recall:
    """Make 40 leaps on each page and count those that ``most`` warnings had named, word for word.

    Chance draws as many warnings from all that could have been given on the page, each alike.
    """
    draw = random.Random(seed)
    counts = Recall()
    for words in pages:
        lines = cast(words, letters)
        starts = [sum(map(len, lines[:at])) for at in range(len(lines) + 1)]
        made, ranked = model(lines), watch(lines, 0, exemplar_lines=starts, most=len(words) ** 2)
        warned = _named(ranked[:most])
        chance = _named(draw.sample(ranked, min(most, len(ranked))))
        for leap in draw.choices(made, [leap.weight for leap in made], k=40) if made else []:
            counts.leaps += 1
            counts.warned += (leap.one, leap.other) in warned
            counts.by_chance += (leap.one, leap.other) in chance
    return counts


def _named(warnings: Sequence[Recurrence]) -> set[tuple[int, int]]:
    """The pairs of words that warnings name: one for each word of their phrases."""
    return {
        (each.places[0][2] + by, each.places[1][2] + by)
        for each in warnings
        for by in range(len(each.words[0].split()))
    }
