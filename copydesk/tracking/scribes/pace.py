"""Pace: how many lines a hand writes (or checks) in an hour, from its sittings, and how many hours it gives a week.

The pace is a ratio, all lines over all hours, so that an hour counts as an hour in a long sitting and a short
one. The lines of a sitting scatter about the pace with a variance in proportion to its hours.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import fmean, stdev
from typing import TYPE_CHECKING, Literal, NamedTuple

from copydesk.book.common.distributions import Range, student_quantile, student_range
from copydesk.book.hands.hand_fit import line_through, weighted_mean

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date, datetime


GUESSED_PACE = 25.0
"""Lines an hour of a hand nothing is known of. A good scribe wrote 150 to 200 lines in a day of at most six
hours (R. Clemens and T. Graham, *Introduction to Manuscript Studies*, 2007, 22-3); a little less, to be safe."""

GUESS_DOUBT = 0.40
STATED_DOUBT = 0.30
"""How far a guessed and a stated pace may be off, as standard deviations. Our own judgement."""

SITTING_SCATTER = 0.20
"""How much the pace of a hand's sittings differs until its own sittings tell. Our own judgement."""

GUESSED_HOURS = 10.0
HOURS_DOUBT = {"guess": 0.5, "stated": 0.1, "sittings": 0.0}
WEEK_SCATTER = 0.25
"""How much the hours of single weeks differ from what is stated. Our own judgement."""

_MOVING_LEVEL = 0.99
_MOVING_SITTINGS = 8
_HALF_LIFE = 8.0

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

    ``scatter`` is the variance of the lines of one hour beside the pace. ``per_sitting`` is how the pace moves
    from sitting to sitting, 0 unless the sittings show that it does.
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


@dataclass(frozen=True, slots=True)
class Hours:
    """Hours a week given to the work: their mean, its standard error, and how much single weeks differ."""

    a_week: float
    error: float
    week_sd: float
    source: Source = "guess"


def pace_of(sittings: Sequence[Sitting], stated: float | None = None) -> Pace:
    """The pace of one hand from its sittings in any order, weighed against a stated pace or a guess."""
    before = _before(stated)
    told = sorted((each for each in sittings if each.minutes > 0 and each.lines > 0), key=lambda each: each.at)
    if not told:
        return before
    hours = [each.minutes / 60 for each in told]
    rates = [each.lines / spent for each, spent in zip(told, hours, strict=True)]
    all_hours, all_lines = math.fsum(hours), math.fsum(each.lines for each in told)
    assumed = (SITTING_SCATTER * all_lines / all_hours) ** 2 * all_hours / len(told)
    found = _value_of(rates, [assumed / spent for spent in hours])
    # A pace stated too low must not seem the surer for it, so its doubt is never less than that of the pace found.
    doubt_before = before.error * max(1.0, found.value / before.lines_an_hour)
    trust, trust_before = 1 / found.error**2, 1 / doubt_before**2
    share = trust / (trust + trust_before)
    return Pace(
        lines_an_hour=share * found.value + (1 - share) * before.lines_an_hour,
        error=math.sqrt(1 / (trust + trust_before)),
        freedom=found.freedom / share**2,
        scatter=assumed * found.scatter**2,
        source="sittings",
        hours=all_hours,
        lines=all_lines,
        sittings=len(told),
        per_sitting=found.slope,
    )


class _Found(NamedTuple):
    value: float
    error: float
    freedom: float
    scatter: float
    slope: float


def _value_of(rates: Sequence[float], variances: Sequence[float]) -> _Found:
    """The pace at the next sitting: the mean, or where the sittings show a movement, the line through them."""
    if len(rates) >= _MOVING_SITTINGS:
        whole = line_through(rates, variances)
        bound = student_quantile(0.5 + _MOVING_LEVEL / 2, whole.freedom)
        if abs(whole.slope) > bound * whole.slope_error:
            newest = line_through(rates, variances, half_life=_HALF_LIFE)
            value = max(newest.value, min(rates))
            return _Found(value, newest.error, whole.freedom, whole.scatter, newest.slope)
    mean = weighted_mean(rates, variances)
    return _Found(mean.value, mean.error, mean.freedom, mean.scatter, 0.0)


def _before(stated: float | None) -> Pace:
    """The pace assumed for a hand before its first timed sitting."""
    pace, doubt = (stated, STATED_DOUBT) if stated else (GUESSED_PACE, GUESS_DOUBT)
    scatter = (SITTING_SCATTER * pace) ** 2
    return Pace(pace, doubt * pace, math.inf, scatter, "stated" if stated else "guess")


def hours_a_week(sittings: Sequence[Sitting], today: date, stated: float | None = None) -> Hours:
    """Hours a week of one hand: as stated; else as its whole weeks up to ``today`` tell; else a guess.

    A stated figure stands, since not every sitting may have been timed.
    """
    if stated:
        return Hours(stated, HOURS_DOUBT["stated"] * stated, WEEK_SCATTER * stated, "stated")
    weeks = _weeks(sittings, today)
    if not weeks:
        return Hours(GUESSED_HOURS, HOURS_DOUBT["guess"] * GUESSED_HOURS, WEEK_SCATTER * GUESSED_HOURS)
    mean, sd = fmean(weeks), stdev(weeks) if len(weeks) > 1 else 0.0
    sd = max(sd, WEEK_SCATTER * mean) if len(weeks) < 4 else sd
    return Hours(mean, sd / math.sqrt(len(weeks)), sd, "sittings")


def _weeks(sittings: Sequence[Sitting], today: date) -> list[float]:
    """The hours of each whole week before ``today`` since the first sitting; at first, what there is of one."""
    told = [((today - each.at.date()).days, each.minutes / 60) for each in sittings if each.minutes > 0]
    told = [(ago, spent) for ago, spent in told if ago >= 0]
    if not told:
        return []
    count = max(1, (max(ago for ago, _ in told) + 1) // 7)
    weeks = [0.0] * count
    for ago, spent in told:
        if ago // 7 < count:
            weeks[ago // 7] += spent
    return weeks if any(weeks) else []
