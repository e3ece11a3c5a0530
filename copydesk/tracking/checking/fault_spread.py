"""The range of a rate of faults, where pages and days differ and faults come in clusters.

The variance of a count is as many times the count as the pages, and then the days, show it to be (a quasi-Poisson
model: P. McCullagh and J. A. Nelder, *Generalized Linear Models*, 2nd ed. 1989, 4.5 and 6.2, from memory). Few pages
tell little of that, so what they show leans on what is usual, and that of the days on that of the pages. A count of
so many effective faults has the range of a gamma distribution (the Jeffreys range: L. D. Brown, T. T. Cai and A.
DasGupta, *Statistical Science* 16 (2001), 101-33, from memory), made wider as Student's range is wider than the
normal one.
"""

from __future__ import annotations

import math
from collections import defaultdict
from statistics import NormalDist
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.distributions import Range, chi_square_quantile, student_quantile

if TYPE_CHECKING:
    from collections.abc import Hashable, Iterable, Sequence


_USUAL, _USUAL_WEIGHT, _PAGES_WEIGHT = 1.1, 4.0, 2.0
"""How many times the count its variance is until pages tell, for how many pages that counts, and for how many days what
pages show counts. Our own judgement."""


class FaultCount(NamedTuple):
    """Faults in the lines of one page, and the day it was written on."""

    day: Hashable
    lines: int
    faults: int


def mean_range(counted: Sequence[FaultCount], level: float) -> Range:
    """The range of the mean of the faults in so many lines, in faults in all of them."""
    faults = sum(each.faults for each in counted)
    spread, freedom = _spread(counted)
    tail = 0.5 + level / 2
    spread *= (student_quantile(tail, freedom) / NormalDist().inv_cdf(tail)) ** 2
    effective = faults / spread
    if not faults:
        return Range(0.0, 0.0, spread * chi_square_quantile(tail, 2.0) / 2)
    low, high = (spread * chi_square_quantile(share, 2 * effective + 1) / 2 for share in (1 - tail, tail))
    return Range(min(low, faults), float(faults), high)


def _spread(counted: Sequence[FaultCount]) -> tuple[float, float]:
    """How many times the count its variance is, and on how many degrees of freedom that rests."""
    pages, by_pages = _seen(counted)
    page = (_USUAL * _USUAL_WEIGHT + pages * by_pages) / (_USUAL_WEIGHT + pages)
    days: dict[Hashable, list[FaultCount]] = defaultdict(list)
    for each in counted:
        days[each.day].append(each)
    number, by_days = _seen([_joined(own) for own in days.values()])
    day = (page * _PAGES_WEIGHT + number * by_days) / (_PAGES_WEIGHT + number)
    return max(day, 1.0), _USUAL_WEIGHT + number


def _seen(counted: Sequence[FaultCount]) -> tuple[int, float]:
    """On how many degrees of freedom the counts tell of their variance, and how many times the whole count it is."""
    faults, lines = sum(each.faults for each in counted), sum(each.lines for each in counted)
    freedom = len(counted) - 1
    if freedom < 1 or not faults:
        return 0, 0.0
    misfit = math.fsum((each.faults - faults / lines * each.lines) ** 2 for each in counted)
    return freedom, misfit * len(counted) / freedom / faults


def _joined(counted: Iterable[FaultCount]) -> FaultCount:
    own = tuple(counted)
    return FaultCount(own[0].day, sum(each.lines for each in own), sum(each.faults for each in own))
