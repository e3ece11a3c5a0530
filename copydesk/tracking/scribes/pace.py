"""Pace: how many lines a hand writes (or checks) in an hour, from its sittings.

The pace is a ratio, all lines over all hours, so that an hour counts as an hour in a long sitting and a short one. The
lines of a sitting scatter about the pace with a variance in proportion to its hours; and days differ, so that the
sittings of one day are no independent witnesses. How much days differ is learnt: a few sizes of it are tried side by
side, and each is believed as far as it explains the sittings (the one-way random effects model: S. R. Searle,
G. Casella and C. E. McCulloch, *Variance Components*, 1992, ch. 3; mixed over the ratio of the two variances as in
A. Gelman and others, *Bayesian Data Analysis*, 3rd ed. 2013, ch. 5; both from memory).

That the pace moves is said only where the days show it against a search after every sitting (``moves``).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, NamedTuple

from copydesk.book.common.distributions import Range, student_range
from copydesk.book.hands.hand_fit import line_through

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime


GUESSED_PACE = 25.0
"""Lines an hour of a hand nothing is known of. A good scribe wrote 150 to 200 lines in a day of at most six
hours (R. Clemens and T. Graham, *Introduction to Manuscript Studies*, 2007, 22-3); a little less, to be safe."""

GUESS_DOUBT = 0.40
STATED_DOUBT = 0.30
"""How far a guessed and a stated pace may be off, as standard deviations. Our own judgement."""

SITTING_SCATTER = 0.20
"""How much the pace of a hand's sittings differs until its own sittings tell. Our own judgement."""

_SCATTER_WEIGHT = 1.0
"""The scatter assumed counts as so many sittings seen."""

DAY_EFFECTS = ((0.0, 0.3), (0.15, 0.15), (0.5, 0.15), (1.0, 0.15), (2.0, 0.1), (4.0, 0.1), (8.0, 0.05))
"""Variances of days, in that of a usual sitting, and how far each is believed beforehand. Our own judgement."""

_MOVING_DAYS = 6
_HALF_LIFE = 8.0
_ODDS = 20.0
"""Claims are made at these odds, so that in all looks at a book together at most one hand in twenty is wronged."""

_STEPS = (0.01, 0.03, 0.1, 0.3)
"""Movements a day that are looked for, in the scatter of days."""

Source = Literal["guess", "stated", "sittings"]


class Sitting(NamedTuple):
    """Lines one hand wrote (or checked) at one sitting of known length, and when it was."""

    hand: str
    lines: float
    minutes: float
    at: datetime


@dataclass(frozen=True, slots=True)
class Pace:
    """Lines an hour of one hand.

    ``scatter`` is the variance of the lines of one hour beside the pace, days and sittings together. ``per_sitting``
    is how the pace moves from sitting to sitting, 0 unless the sittings show that it does.
    """

    lines_an_hour: float
    error: float
    freedom: float
    scatter: float
    source: Source = "guess"
    hours: float = 0.0
    lines: float = 0.0
    sittings: int = 0
    per_sitting: float = 0.0

    @property
    def measured(self) -> float | None:
        """Lines an hour as measured: all lines timed over all their hours; None where no sitting was timed."""
        return self.lines / self.hours if self.hours > 0 else None

    def range(self, level: float = 0.90) -> Range:
        """Between what the hand's pace lies."""
        found = student_range(self.lines_an_hour, self.error, self.freedom, level)
        return Range(max(found.low, 0.0), found.expected, found.high)


def pace_of(sittings: Sequence[Sitting], stated: float | None = None) -> Pace:
    """The pace of one hand from its sittings in any order, weighed against a stated pace or a guess."""
    before = _before(stated)
    told = sorted((each for each in sittings if each.minutes > 0 and each.lines > 0), key=lambda each: each.at)
    if not told:
        return before
    days = _days(told)
    all_hours, all_lines = math.fsum(day.hours for day in days), math.fsum(day.lines for day in days)
    found = _value_of(days, len(told), all_lines / all_hours)
    # A pace stated too low must not seem the surer for it, so its doubt is never less than that of the pace found.
    doubt_before = before.error * max(1.0, found.value / before.lines_an_hour)
    trust, trust_before = 1 / found.error**2, 1 / doubt_before**2
    share = trust / (trust + trust_before)
    return Pace(
        lines_an_hour=share * found.value + (1 - share) * before.lines_an_hour,
        error=math.sqrt(1 / (trust + trust_before)),
        freedom=found.freedom / share**2,
        scatter=found.scatter,
        source="sittings",
        hours=all_hours,
        lines=all_lines,
        sittings=len(told),
        per_sitting=found.slope,
    )


class _Day(NamedTuple):
    """The sittings of one day: lines, hours, and the squares by which their paces differ, each by its hours."""

    lines: float
    hours: float
    within: float

    @property
    def pace(self) -> float:
        return self.lines / self.hours


class _Found(NamedTuple):
    value: float
    error: float
    freedom: float
    scatter: float
    slope: float


class _Effect(NamedTuple):
    """One size of the days' differences: the mean it gives, its variance, that of an hour, and how it is believed.

    ``weights`` are those of the days; their variances are ``an_hour`` over them.
    """

    mean: float
    variance: float
    an_hour: float
    a_day: float
    weights: list[float]
    log_belief: float


def _days(told: Sequence[Sitting]) -> list[_Day]:
    """The sittings day by day, in order."""
    by_day: dict[object, list[Sitting]] = {}
    for each in told:
        by_day.setdefault(each.at.date(), []).append(each)
    days = []
    for own in by_day.values():
        lines, hours = math.fsum(each.lines for each in own), math.fsum(each.minutes for each in own) / 60
        within = math.fsum(each.minutes / 60 * (each.lines * 60 / each.minutes - lines / hours) ** 2 for each in own)
        days.append(_Day(lines, hours, within))
    return days


def _value_of(days: Sequence[_Day], count: int, rough: float) -> _Found:
    """The pace at the next sitting: the mean over days, or where the days show a movement, the line through them."""
    sitting = math.fsum(day.hours for day in days) / count
    assumed = (SITTING_SCATTER * rough) ** 2 * sitting
    freedom = _SCATTER_WEIGHT + count - 1
    effects = [_effect(days, ratio / sitting, assumed, freedom) for ratio, _ in DAY_EFFECTS]
    logs = [each.log_belief + math.log(usual) for each, (_, usual) in zip(effects, DAY_EFFECTS, strict=True)]
    shares = [math.exp(each - max(logs)) for each in logs]
    belief = [share / math.fsum(shares) for share in shares]
    mean = _mixed(belief, [each.mean for each in effects])
    variance = _mixed(belief, [each.variance + (each.mean - mean) ** 2 for each in effects])
    day_hours = math.fsum(day.hours**2 for day in days) / math.fsum(day.hours for day in days)
    scatter = _mixed(belief, [each.an_hour + each.a_day * day_hours for each in effects])
    freedom = belief[0] * freedom + (1 - belief[0]) * (_SCATTER_WEIGHT + len(days) - 1)
    likeliest = effects[max(range(len(effects)), key=belief.__getitem__)]
    paces, variances = [day.pace for day in days], [1 / weight for weight in likeliest.weights]
    if moves(paces, variances):
        newest = line_through(paces, variances, half_life=_HALF_LIFE)
        value = max(newest.value, min(paces))
        return _Found(value, newest.error, freedom, scatter, newest.slope * len(days) / count)
    return _Found(mean, math.sqrt(variance), freedom, scatter, 0.0)


def _effect(days: Sequence[_Day], a_day: float, assumed: float, freedom: float) -> _Effect:
    """What one size of the days' differences makes of the sittings; ``a_day`` is in the variance of an hour."""
    weights = [1 / (1 / day.hours + a_day) for day in days]
    whole = math.fsum(weights)
    mean = math.fsum(weight * day.pace for weight, day in zip(weights, days, strict=True)) / whole
    misfit = _SCATTER_WEIGHT * assumed + math.fsum(
        day.within + weight * (day.pace - mean) ** 2 for weight, day in zip(weights, days, strict=True)
    )
    an_hour = misfit / freedom
    log_belief = (
        math.fsum(math.log(weight / day.hours) for weight, day in zip(weights, days, strict=True))
        - math.log(whole)
        - freedom * math.log(misfit)
    ) / 2
    return _Effect(mean, an_hour / whole, an_hour, an_hour * a_day, weights, log_belief)


def moves(values: Sequence[float], variances: Sequence[float]) -> bool:
    """Whether values in order, of variances known up to a factor, show a movement, however often one looks."""
    return len(values) >= _MOVING_DAYS and odds_of_movement(values, variances) >= _ODDS


def odds_of_movement(values: Sequence[float], variances: Sequence[float], steps: Sequence[float] = _STEPS) -> float:
    """The odds of a steady movement against none, level and scatter unknown, mixed over sizes of ``steps``.

    A movement has a normal prior of so many scatters of a mean value; level and scatter have their invariant prior.
    While there is no movement the chance that the odds ever reach 20 is at most 1 in 20 (J. Ville 1939; where level and
    scatter are unknown: M. F. Pérez-Ortiz and others, "E-statistics, group invariance and anytime-valid testing",
    *Annals of Statistics* 52 (2024), 1410-32; both from memory).
    """
    count, weights = len(values), [1 / variance for variance in variances]
    whole = math.fsum(weights)
    centre = math.fsum(weight * step for step, weight in enumerate(weights)) / whole
    mean = math.fsum(map(float.__mul__, weights, values)) / whole
    off = [value - mean for value in values]
    length = math.fsum(weight * (step - centre) ** 2 for step, weight in enumerate(weights))
    along = zip(weights, off, strict=True)
    together = math.fsum(weight * (step - centre) * each for step, (weight, each) in enumerate(along))
    misfit = math.fsum(weight * each * each for weight, each in zip(weights, off, strict=True))
    if misfit <= 0:
        return 0.0
    odds = 0.0
    for step in steps:
        gain = step**2 * length * count / whole
        left = max(1 - together**2 / length / misfit * gain / (1 + gain), 1e-12)
        odds += left ** (-(count - 1) / 2) / math.sqrt(1 + gain)
    return odds / len(steps)


def _before(stated: float | None) -> Pace:
    """The pace assumed for a hand before its first timed sitting."""
    pace, doubt = (stated, STATED_DOUBT) if stated else (GUESSED_PACE, GUESS_DOUBT)
    scatter = (SITTING_SCATTER * pace) ** 2
    return Pace(pace, doubt * pace, math.inf, scatter, "stated" if stated else "guess")


def _mixed(belief: Sequence[float], values: Sequence[float]) -> float:
    return math.fsum(map(float.__mul__, belief, values))
