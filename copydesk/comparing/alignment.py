"""Aligning a copied page with its exemplar: runs of the same words first, then what lies between them.

Runs of three words or more that both share are found first; the best chain of them, in order and near one
another, holds the page in place however much is missing between. The stretches between are aligned word by
word. The exemplar may go on past the copy: a page partly typed is no omission.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from math import inf, log2
from typing import TYPE_CHECKING

from copydesk.comparing.word_alignment import AlignedRun, align_words, merged

if TYPE_CHECKING:
    from collections.abc import Sequence


RUN = 3
"""Words that must agree running for a run to hold the page in place."""
MOST_PLACES = 12
"""Three words that stand in more places than this in reach do not show where the page belongs."""
MOST_RUNS = 120
"""Runs that are weighed at most, the longest first; of a copy of thousands of words, one for every eight."""
BEHIND = 3
"""How much more it costs to begin before the page's place than after it: what stands before is already written."""
TAIL = 40
"""How many exemplar words past the copy's own number are looked at for its last words."""


@dataclass(frozen=True, slots=True)
class MatchingRun:
    """``length`` words alike in both, from word ``at`` of the copy and word ``place`` of the exemplar."""

    at: int
    place: int
    length: int

    @property
    def shift(self) -> int:
        """How much further the exemplar is than the copy."""
        return self.place - self.at


def align(copy: Sequence[str], text: Sequence[str], start: int) -> list[AlignedRun]:
    """Every copied word against the exemplar from ``start``; steps meet end to end and use up the copy.

    Args:
        copy: keys of the copied words.
        text: keys of the exemplar's words in reach.
        start: where in ``text`` the page should begin. Where it begins earlier, so do the steps.
    """
    runs = chain(shared_runs(copy, text), start)
    at, place = 0, start
    if runs and runs[0].place < start:
        place = max(0, min(start, runs[0].shift))
    steps: list[AlignedRun] = []
    for run in runs:
        steps += _moved(align_words(copy[at : run.at], text[place : run.place]), at, place)
        at, place = run.at + run.length, run.place + run.length
        steps.append(AlignedRun("same", run.at, at, run.place, place))
    end = place + len(copy) - at + TAIL
    return merged(steps + _moved(align_words(copy[at:], text[place:end], open_end=True), at, place))


def _moved(steps: list[AlignedRun], at: int, place: int) -> list[AlignedRun]:
    """Steps of a stretch, counted from the beginning of the whole."""
    return [
        AlignedRun(step.what, step.copy_from + at, step.copy_to + at, step.text_from + place, step.text_to + place)
        for step in steps
    ]


def shared_runs(copy: Sequence[str], text: Sequence[str]) -> list[MatchingRun]:
    """The longest runs of at least ``RUN`` words that stand in both, wherever they stand."""
    places: dict[tuple[str, ...], list[int]] = {}
    for place, words in enumerate(zip(*(text[offset:] for offset in range(RUN)), strict=False)):
        places.setdefault(words, []).append(place)
    ends: dict[int, int] = {}
    found: dict[tuple[int, int], int] = {}
    first: dict[int, int] = {}
    for at, words in enumerate(zip(*(copy[offset:] for offset in range(RUN)), strict=False)):
        here = places.get(words, ())
        for place in here if len(here) <= MOST_PLACES else ():
            shift = place - at
            if ends.get(shift) != at + RUN - 1:
                first[shift] = at
            ends[shift] = at + RUN
            found[first[shift], shift] = at + RUN - first[shift]
    runs = [MatchingRun(at, at + shift, length) for (at, shift), length in found.items()]
    longest = sorted(runs, key=lambda run: -run.length)[: max(MOST_RUNS, len(copy) // 8)]
    return sorted(longest, key=lambda run: (run.at, run.place))


def chain(runs: Sequence[MatchingRun], start: int) -> list[MatchingRun]:
    """The best runs that follow one another in both texts, trimmed where they overlap.

    A run counts by its words; a leap from one run to the next costs more the further it goes, so that a few
    words found far away by chance do not draw the page there.
    """
    scores: list[float] = []
    before: list[int] = []
    for index, run in enumerate(runs):
        behind = BEHIND if run.shift < start else 1
        best, source = run.length - behind * _leap(run.shift - start), -1
        for earlier in range(index):
            gain = scores[earlier] + _gain(runs[earlier], run)
            if gain > best:
                best, source = gain, earlier
        scores.append(best)
        before.append(source)
    picked: list[MatchingRun] = []
    index = max(range(len(runs)), key=scores.__getitem__, default=-1)
    if index >= 0 and scores[index] <= 0:
        return []
    while index >= 0:
        picked.append(runs[index])
        index = before[index]
    return _trimmed(picked[::-1])


def _leap(words: int) -> float:
    """What a leap of so many words costs, in words that must agree to make up for it."""
    return 0.0 if words == 0 else 1.0 + 0.5 * log2(1 + abs(words))


def _overlap(one: MatchingRun, other: MatchingRun) -> int:
    """How many words of ``other`` must go so that it follows ``one`` in both texts."""
    return max(0, one.at + one.length - other.at, one.place + one.length - other.place)


def _gain(one: MatchingRun, other: MatchingRun) -> float:
    """What ``other`` adds to a chain that ends in ``one``."""
    left = other.length - _overlap(one, other)
    return left - _leap(other.shift - one.shift) if left > 0 else -inf


def _trimmed(runs: list[MatchingRun]) -> list[MatchingRun]:
    """The chain with overlaps taken from the beginning of each later run."""
    out: list[MatchingRun] = []
    for run in runs:
        lost = _overlap(out[-1], run) if out else 0
        out.append(MatchingRun(run.at + lost, run.place + lost, run.length - lost))
    return out


RUN = 3
"""Words that must agree running to count as one sign of a place."""
NEIGHBOURHOOD = 40
"""Signs count together when the places they point to lie within about so many words."""
LEAST_SHARE = 0.15
"""A place is likely when at least this share of the copied runs of three points to it."""
MOST_VOTES = 50
"""Three words that stand oftener than this in the copy vote no oftener."""


def locate(copy: Sequence[str], text: Sequence[str]) -> int | None:
    """The likely place in a text of the first of the copied words, or ``None``.

    Every run of three copied words votes for the places where it stands; the neighbourhood with the most votes
    wins, if they are enough.

    Args:
        copy: keys of the copied words.
        text: keys of the text to look in.
    """
    wanted: dict[tuple[str, ...], list[int]] = {}
    for at, words in enumerate(zip(*(copy[offset:] for offset in range(RUN)), strict=False)):
        wanted.setdefault(words, []).append(at)
    begins: list[int] = []
    for place, words in enumerate(zip(*(text[offset:] for offset in range(RUN)), strict=False)):
        if words in wanted:
            begins += [place - at for at in wanted[words][:MOST_VOTES]]
    return _likeliest(begins, len(copy) - RUN + 1)


def _likeliest(begins: list[int], runs: int) -> int | None:
    """The middle of the closest and largest group of votes."""
    if not begins:
        return None
    groups = Counter(begin // NEIGHBOURHOOD for begin in begins)
    best = max(groups, key=lambda group: (groups[group] + groups[group + 1], -group))
    votes = sorted(begin for begin in begins if begin // NEIGHBOURHOOD in (best, best + 1))
    return max(0, votes[(len(votes) - 1) // 2]) if len(votes) >= max(1, LEAST_SHARE * runs) else None
