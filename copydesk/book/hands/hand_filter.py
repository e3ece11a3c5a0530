"""Following a hand from page to page: where its mean stands on the next one, and how sure that is.

A hand has a mean, and pages that scatter about it. Most hands are steady; some move, evenly or by fits and starts; now
and then one changes at a stroke (another pen, another room), and now and then a page is strange in itself (words passed
over). No page alone tells which of these it was, so each is followed beside the others and believed as far as it
foretold the pages that came: every course in ``COURSES`` with a *path* for each time at which the hand may have
changed of late. Paths of a change some pages ago have become one with those of none. A page may be strange
(``STRANGE``); it then says next to nothing, and when the next stands where it stood, the two are believed.

With logarithms of letters a line y, level m, movement b a page and scatter s:

    y = m + e,  e of variance s² (usual) or s² + STRANGE.size² (strange);   m' = m + b + w + c,  b' = b + t,

w and t of the course's ``wander`` and ``turn``, c mostly zero, else of the size of a change.

Sources, all from memory: the linear growth model and its mixtures, M. West and J. Harrison, *Bayesian Forecasting and
Dynamic Models*, 2nd ed. (1997), chs. 7 and 12 (12.3 for steps and outliers, and for making several paths one); A. C.
Harvey, *Forecasting, Structural Time Series Models and the Kalman Filter* (1989), ch. 2; pages that count for little
where they are strange: G. Agamennoni, J. I. Nieto and E. M. Nebot, "An outlier-robust Kalman filter" (2011). How far
hands move, and how often they change, is our own judgement.
"""

from __future__ import annotations

import math
from itertools import pairwise
from statistics import NormalDist
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.distributions import Mixture, Part
from copydesk.book.hands.hand_set import RANGE_LEVEL, Ahead

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.hands.hand_set import HandSet


SCATTER_FREEDOM = 12.0
"""The scatter assumed beforehand counts as much as twelve pages seen."""


class Course(NamedTuple):
    """How a hand may move, as standard deviations in shares of its letters a line, and how likely that is beforehand.

    ``drift`` is what is thought of its movement a page before any is seen; ``wander`` and ``turn`` how far its mean
    and its movement change by chance from one page to the next. ``belief`` counts for where the hand is said to stand,
    ``allowed`` for the range: a steady hand is not to pay for those that move, nor is one that moves to be left out of
    its range until it can be seen to.
    """

    drift: float
    wander: float
    turn: float
    belief: float
    allowed: float


COURSES = (
    Course(drift=0.0, wander=0.0005, turn=0.0, belief=0.56, allowed=0.25),
    Course(drift=0.004, wander=0.0004, turn=0.0001, belief=0.26, allowed=0.4),
    Course(drift=0.01, wander=0.006, turn=0.0005, belief=0.18, allowed=0.35),
)
"""A hand that keeps still, one that moves evenly, one that wanders."""


class Event(NamedTuple):
    """What may happen at a page: how likely it is, and how far it carries, as a standard deviation."""

    chance: float
    size: float


STRANGE = Event(0.02, 0.15)
CHANGE, GREAT_CHANGE = Event(0.015, 0.05), Event(0.002, 0.2)

_CHANGES = tuple(
    (math.log(each.chance / (1 - CHANGE.chance - GREAT_CHANGE.chance)), each.size**2) for each in (CHANGE, GREAT_CHANGE)
)
"""The logarithm of how much less likely than none each is, and its variance."""

MISSTATED = Event(0.2, 4.0)
"""What was known beforehand may be wrong altogether; its size is in standard errors of what was known."""

_KEPT = 3
"""Paths of a course beside the two that change just now: a change one page ago, two pages ago, and all before."""

_HALF = 2 / 3
"""What a difference of two pages that follow one another says of the scatter, beside a page of known mean."""

_STANDS_OUT = 6.0
"""A square so many times the usual counts no more: the page was strange, or the hand changed."""


class Followed(NamedTuple):
    """A hand's mean on the next page with its standard error, degrees of freedom, movement a page, and scatter.

    ``scatter`` is a factor on the standard deviations assumed of the pages. ``foretold`` has where the hand was thought
    to stand before each page, from the first on, and how far that may be off. ``ahead`` has the courses from there on.
    """

    value: float
    error: float
    freedom: float
    per_page: float
    scatter: float
    foretold: tuple[tuple[float, float], ...]
    ahead: tuple[Ahead, ...]


class Path(NamedTuple):
    """One course followed to the next page: the mean there and the movement, with their variances and how they go.

    ``belief`` is the logarithm of how far it is believed, by the chance it gave to the pages that came.
    """

    belief: float
    mean: float
    movement: float
    mean_variance: float
    together: float
    movement_variance: float


def followed(before: HandSet, values: Sequence[float], variances: Sequence[float]) -> Followed:
    """Where a hand stands after pages of these values (letters a line, oldest first) and assumed variances."""
    unit = before.letters_per_line
    heights = [math.log(value / unit) for value in values]
    spreads = [variance / value**2 for value, variance in zip(values, variances, strict=True)]
    factor, freedom = scatter_of(heights, spreads)
    error = before.error / unit if before.error else 1.0
    paths = [_beginning(course, error) for course in COURSES]
    foretold = []
    for page, (height, spread) in enumerate(zip(heights, spreads, strict=True)):
        if page:
            paths = [_may_change(each) for each in paths]
        found = _mixed([path for each in paths for path in each])
        stands = unit * math.exp(found.mean)
        foretold.append((stands, stands * math.sqrt(found.mean_variance)))
        paths = [
            [carried(path, course, height, factor * spread) for path in each]
            for course, each in zip(COURSES, paths, strict=True)
        ]
    found = _mixed([path for each in paths for path in each])
    value = unit * math.exp(found.mean)
    doubted = [
        path._replace(belief=path.belief + math.log(course.allowed / course.belief))
        for course, each in zip(COURSES, paths, strict=True)
        for path in each
    ]
    return Followed(
        value,
        value * _error(doubted, found.mean),
        freedom,
        value * found.movement,
        math.sqrt(factor),
        tuple(foretold),
        _ahead(paths, found.mean),
    )


def unseen(before: HandSet) -> tuple[Ahead, ...]:
    """The courses from the first page on of a hand of which no page is seen."""
    error = before.error / before.letters_per_line
    known = (_beginning(course, error)[1:] for course in COURSES)
    return _ahead(list(known), 0.0)


def _ahead(paths: Sequence[Sequence[Path]], mean: float) -> tuple[Ahead, ...]:
    """The paths of each course as one, from where the hand stands on; shares as they are believed."""
    courses = [_mixed(each) for each in paths]
    shares, _ = _shares(courses)
    return tuple(
        Ahead(
            share,
            found.mean - mean,
            found.movement,
            found.mean_variance,
            found.together,
            found.movement_variance,
            course.wander**2,
            course.turn**2,
        )
        for share, found, course in zip(shares, courses, COURSES, strict=True)
    )


def scatter_of(heights: Sequence[float], variances: Sequence[float]) -> tuple[float, float]:
    """The factor by which pages scatter more or less than assumed, as a variance, and its degrees of freedom.

    It comes from how pages that follow one another differ, which a hand that moves or changes hardly alters: half the
    mean square successive difference (J. von Neumann and others, "The mean square successive difference", *Annals of
    Mathematical Statistics* 12 (1941), 153-62; from memory). A difference that stands out counts no more than
    ``_STANDS_OUT``.
    """
    pairs = zip(pairwise(heights), pairwise(variances), strict=True)
    squares = [(after - before) ** 2 / (one + other) for (before, after), (one, other) in pairs]
    freedom, factor = SCATTER_FREEDOM + _HALF * len(squares), 1.0
    for _ in range(4):
        most = _STANDS_OUT * factor
        factor = (SCATTER_FREEDOM + _HALF * math.fsum(min(square, most) for square in squares)) / freedom
    return factor, freedom


def carried(path: Path, course: Course, value: float, variance: float) -> Path:
    """A path corrected by a page, and carried on to the next.

    Each number moves by its share of what the page came otherwise than foretold. The page is usual or strange; what it
    says as either is mixed by how likely it is to be that.
    """
    belief, mean, movement, level_var, both, slope_var = path
    off = value - mean
    usual = level_var + variance
    strange = usual + STRANGE.size**2
    as_usual = (1 - STRANGE.chance) / math.sqrt(usual) * math.exp(-off * off / (2 * usual))
    as_strange = STRANGE.chance / math.sqrt(strange) * math.exp(-off * off / (2 * strange))
    if whole := as_usual + as_strange:
        belief += math.log(whole)
        share = as_usual / whole
        # Over the two cases: how much of what is off is taken over, and by how much the variances are less.
        gain = share / usual + (1 - share) / strange
        less = gain - share * (1 - share) * ((1 / usual - 1 / strange) * off) ** 2
        mean += level_var * gain * off
        movement += both * gain * off
        slope_var -= both * both * less
        both, level_var = both - both * level_var * less, level_var - level_var * level_var * less
    else:  # so far off that a number cannot hold the chance: it says nothing
        belief -= off * off / (2 * strange)
    # On to the next page, where the movement has been added to the mean.
    return Path(
        belief,
        mean + movement,
        movement,
        level_var + 2 * both + slope_var + course.wander**2,
        both + slope_var,
        slope_var + course.turn**2,
    )


def _beginning(course: Course, error: float) -> list[Path]:
    """The paths before the first page: what was known may hold, or be wrong altogether; heights count from it."""
    known, astray = (math.log(course.belief * share) for share in (1 - MISSTATED.chance, MISSTATED.chance))
    return [
        Path(astray, 0.0, 0.0, (MISSTATED.size * error) ** 2, 0.0, course.drift**2),
        Path(known, 0.0, 0.0, error**2, 0.0, course.drift**2),
    ]


def _may_change(paths: list[Path]) -> list[Path]:
    """The paths of a course at the next page: two that change there, then the others, the newest change first."""
    belief, mean, movement, level_var, both, slope_var = _mixed(paths)
    changed = [
        Path(belief + odds, mean, movement, level_var + variance, both, slope_var) for odds, variance in _CHANGES
    ]
    # The two that changed a page ago stand where that page stood, whatever their size, and so do those of long ago.
    kept = [_mixed(paths[:2]), *paths[2:]] if len(paths) > 2 else paths
    if len(kept) > _KEPT:
        kept = [*kept[: _KEPT - 1], _mixed(kept[_KEPT - 1 :])]
    return [*changed, *kept]


def _mixed(paths: Sequence[Path]) -> Path:
    """Several paths as one of the same mean and variances."""
    shares, belief = _shares(paths)
    mean = movement = level_var = both = slope_var = 0.0
    for share, path in zip(shares, paths, strict=True):
        mean += share * path[1]
        movement += share * path[2]
    for share, (_, at, turning, own, together, turning_var) in zip(shares, paths, strict=True):
        off, turned = at - mean, turning - movement
        level_var += share * (own + off * off)
        both += share * (together + off * turned)
        slope_var += share * (turning_var + turned * turned)
    return Path(belief, mean, movement, level_var, both, slope_var)


def _shares(paths: Sequence[Path]) -> tuple[list[float], float]:
    """How far each path is believed, as a share of all, and the logarithm of how far all are."""
    most = max(path[0] for path in paths)  # logarithms, since the chances may be too small for a number
    shares = [math.exp(path[0] - most) for path in paths]
    whole = sum(shares)
    return [share / whole for share in shares], most + math.log(whole)


def _error(paths: Sequence[Path], mean: float) -> float:
    """The standard error of the mean that gives a normal curve the range which the paths together give."""
    shares, _ = _shares(paths)
    parts = (Part(share, path.mean, math.sqrt(path.mean_variance)) for share, path in zip(shares, paths, strict=True))
    return Mixture(tuple(parts)).half_width(mean, RANGE_LEVEL) / NormalDist().inv_cdf(0.5 + RANGE_LEVEL / 2)
