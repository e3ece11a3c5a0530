"""Following a hand from page to page: where its mean stands on the next one, whether the hand is steady or moves.

A hand has a mean that may move, evenly or by fits and starts, and pages that scatter about it. Long before a slow
movement can be told from chance it has carried the hand away, so none is ever ruled out: each hand begins with a
movement a page that is unknown but small, and its pages narrow it down. A few courses are followed side by side, from
one that hardly moves to one that wanders, and each is believed as far as it foretold the pages that came.

Source of the rule: the linear growth model with unknown scatter, several of them mixed by how well each foretold, in
M. West and J. Harrison, *Bayesian Forecasting and Dynamic Models*, 2nd ed. (1997), chs. 4, 7 and 12; it is the local
linear trend of A. C. Harvey, *Forecasting, Structural Time Series Models and the Kalman Filter* (1989), ch. 2. How far
hands move is our own judgement.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.hands.hand_set import HandSet


PRIOR_FREEDOM = 2.0
"""The scatter assumed beforehand counts as much as two pages seen."""


class Course(NamedTuple):
    """How a hand may move, as standard deviations in shares of its letters a line.

    ``drift`` is what is thought of its movement a page before any is seen; ``wander`` and ``turn`` how far its mean
    and its movement change by chance from one page to the next.
    """

    drift: float
    wander: float
    turn: float


COURSES = (
    Course(drift=0.004, wander=0.0, turn=0.0),
    Course(drift=0.01, wander=0.001, turn=0.0003),
    Course(drift=0.01, wander=0.005, turn=0.002),
)
"""A hand that hardly moves, one that moves evenly, one that wanders."""


class Followed(NamedTuple):
    """A hand's mean on the next page with its standard error, degrees of freedom, movement a page, and scatter.

    ``scatter`` is a factor on the standard deviations assumed of the pages.
    """

    value: float
    error: float
    freedom: float
    per_page: float
    scatter: float


class Path(NamedTuple):
    """One course followed to the next page: the mean there and the movement, with their variances and how they go.

    Variances are for a scatter just as assumed. ``misfit`` is the sum of squares by which pages came otherwise than
    foretold, each in its own variance; ``surprise`` the sum of the logarithms of those variances.
    """

    mean: float
    movement: float
    mean_variance: float
    together: float
    movement_variance: float
    misfit: float
    surprise: float


def followed(before: HandSet, values: Sequence[float], variances: Sequence[float]) -> Followed:
    """Where a hand stands after pages of these values (letters a line, oldest first) and assumed variances."""
    pages = len(values)
    unit = math.fsum(values) / pages
    freedom = PRIOR_FREEDOM + pages - 1
    paths = [follow(course, values, variances, unit) for course in COURSES]
    factors = [(PRIOR_FREEDOM + path.misfit) / freedom for path in paths]
    belief = beliefs(paths, freedom)
    known = [
        _with_before(before, path, factor, pages * (course.wander * unit) ** 2, pages)
        for course, path, factor in zip(COURSES, paths, factors, strict=True)
    ]
    value = _mixed(belief, [each.value for each in known])
    variance = _mixed(belief, [each.variance + (each.value - value) ** 2 for each in known])
    share = _mixed(belief, [each.share for each in known])
    return Followed(
        value,
        math.sqrt(variance),
        1 / (share**2 / freedom + (1 - share) ** 2 / before.freedom),
        _mixed(belief, [path.movement for path in paths]),
        math.sqrt(_mixed(belief, factors)),
    )


def follow(course: Course, values: Sequence[float], variances: Sequence[float], unit: float) -> Path:
    """One course through the pages to the next; ``unit`` is what its shares are shares of.

    Nothing is assumed of where the hand began: the first page tells.
    """
    # A Kalman filter of two numbers, the mean and its movement a page, written out: their variances are level_var and
    # slope_var, their covariance is both. The first page sets the mean outright, so its variance begins as that page's.
    wander, turn = (course.wander * unit) ** 2, (course.turn * unit) ** 2
    movement, slope_var, level_var, both = 0.0, (course.drift * unit) ** 2, variances[0], 0.0
    mean, misfit, surprise = values[0], 0.0, 0.0
    level_var, both, slope_var = level_var + slope_var + wander, slope_var, slope_var + turn
    for value, scatter in zip(values[1:], variances[1:], strict=True):
        # Correct by this page: each number moves by its share of what the page came otherwise than foretold.
        foretold, off = level_var + scatter, value - mean
        misfit += off * off / foretold
        surprise += math.log(foretold)
        to_level, to_slope = level_var / foretold, both / foretold
        movement += to_slope * off
        mean += to_level * off + movement
        # Correct the variances, and step on to the next page, where the movement has been added to the mean. The order
        # of these lines matters: each uses what the one before has corrected.
        slope_var -= to_slope * both
        both -= to_level * both
        level_var = level_var * (1 - to_level) + 2 * both + slope_var + wander
        both, slope_var = both + slope_var, slope_var + turn
    return Path(mean, movement, level_var, both, slope_var, misfit, surprise)


def beliefs(paths: Sequence[Path], freedom: float) -> list[float]:
    """How far each course is believed, all alike beforehand: by the chance it gave to the pages that came."""
    # Student's density of all pages together, the scatter being unknown; logarithms, since it may be too small.
    logs = [-(path.surprise + freedom * math.log(PRIOR_FREEDOM + path.misfit)) / 2 for path in paths]
    most = max(logs)
    shares = [math.exp(each - most) for each in logs]
    whole = math.fsum(shares)
    return [share / whole for share in shares]


class _Weighed(NamedTuple):
    """A mean and its variance, and what share of it the pages have, the rest being what was known before."""

    value: float
    variance: float
    share: float


def _with_before(before: HandSet, path: Path, factor: float, wandered: float, pages: int) -> _Weighed:
    """What a course says and what was known before, each by how sure it is.

    What was known is where the hand began: it counts less by as much as the hand may have moved since.
    """
    variance = path.mean_variance * factor
    # The hand may have moved from where it began by its movement on each page since (known only so far) and by chance.
    moved = pages**2 * (path.movement**2 + path.movement_variance * factor) + wandered * factor
    trust, trust_before = 1 / variance, 1 / (before.error**2 + moved) if before.error else 0.0
    share = trust / (trust + trust_before)
    value = share * path.mean + (1 - share) * before.letters_per_line
    return _Weighed(value, share * variance, share)


def _mixed(belief: Sequence[float], values: Sequence[float]) -> float:
    return math.fsum(map(float.__mul__, belief, values))
