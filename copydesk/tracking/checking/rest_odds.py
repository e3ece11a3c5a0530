"""Whether a hand makes more faults after a time at the desk, where odd days and repeated looks are no evidence.

Within one day the pages of a hand could as well have been written in any other order, if time at the desk did
nothing: whatever the day was like, and however faults cluster on a page. So the faults found on late pages are set
against all other choices of as many pages of that day. The odds (an exponential weight for every fault on a late
page, over its mean through all choices) have the mean 1 if there is nothing, and so has their product over days; the
chance that they ever reach 20 is then at most 1 in 20, however often one looks (J. Ville 1939; for tests by
permutation: A. Ramdas and others, "Game-theoretic statistics and safe anytime-valid inference", *Statistical Science*
38 (2023), 576-601; both from memory).
"""

from __future__ import annotations

import math
from itertools import groupby
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Sequence

ODDS = 20.0

_RISES = (0.3, 0.6)
"""Logarithms of the rises that are looked for, fault by fault."""

_RISES_CLUSTERED = (0.6, 1.2)
"""The same where what counts of a page's faults is the logarithm of one more than there are, for faults in clusters."""

_SINGLE_DAYS = 8
"""Days on which one page was written are compared in groups of so many."""


class TimedPage(NamedTuple):
    """Faults in the lines of a page, the day they were written on, and the minutes at the desk by then."""

    day: str
    lines: int
    faults: int
    sat_for: float


def odds_of_rise(pages: Sequence[TimedPage], cuts: Sequence[float]) -> list[float]:
    """For each length of sitting the odds that faults are more frequent from then on, against that they are not.

    Their mean is the odds that there is any such length. The newest day is left out, since it may go on.
    """
    groups = _groups(pages)
    return [_odds(groups, cut) for cut in cuts]


def _groups(pages: Sequence[TimedPage]) -> list[list[TimedPage]]:
    """Pages that may be put in any order: those of one day, and those of days with one page in groups of some days."""
    days = [list(own) for _, own in groupby(sorted(pages, key=lambda page: page.day), key=lambda page: page.day)]
    days = days[:-1] if len(days) > 1 else days
    single = [page for day in days if len(day) == 1 for page in day]
    groups = [single[at : at + _SINGLE_DAYS] for at in range(0, len(single), _SINGLE_DAYS)]
    return [*(day for day in days if len(day) > 1), *groups]


def _odds(groups: Sequence[Sequence[TimedPage]], cut: float) -> float:
    ways = [(counts, rise) for counts, rises in ((_plain, _RISES), (_damped, _RISES_CLUSTERED)) for rise in rises]
    logs = [math.fsum(_log_odds(counts(group), group, cut, rise) for group in groups) for counts, rise in ways]
    return math.fsum(math.exp(min(each, 700.0)) for each in logs) / len(logs)


def _plain(group: Sequence[TimedPage]) -> list[float]:
    """Faults of each page beyond what its lines let expect."""
    rate = sum(page.faults for page in group) / max(sum(page.lines for page in group), 1)
    return [page.faults - rate * page.lines for page in group]


def _damped(group: Sequence[TimedPage]) -> list[float]:
    """Logarithms of one more than the faults each page would have were all as long."""
    mean = sum(page.lines for page in group) / len(group)
    return [math.log1p(page.faults * mean / max(page.lines, 1)) for page in group]


def _log_odds(counts: Sequence[float], group: Sequence[TimedPage], cut: float, rise: float) -> float:
    """The logarithm of one group's odds: late pages' weights over their mean through all choices of as many."""
    late = [page.sat_for >= cut for page in group]
    number = sum(late)
    if number in (0, len(group)):
        return 0.0
    most = max(counts)
    weights = [math.exp(rise * (count - most)) for count in counts]
    # The sum of products over all choices: elementary symmetric polynomials, one weight after another.
    sums = [1.0] + [0.0] * number
    for weight in weights:
        for size in range(number, 0, -1):
            sums[size] += sums[size - 1] * weight
    own = math.fsum(rise * (count - most) for count, is_late in zip(counts, late, strict=True) if is_late)
    return own - math.log(sums[number] / math.comb(len(group), number))
