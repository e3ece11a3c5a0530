"""Hours a week that a hand gives to the work: from the days its record covers, and whether stated hours are kept.

On each weekday a hand sits with some chance, and then for some hours. Both begin with what is usual and are narrowed
down by the days from its first page on, sat on or not, so that a part of a week is not taken for a week. A weekday's
chance leans on that of all days of its sort (days the workshop works, days it does not) until it has been seen often:
the mean of a beta distribution (A. Gelman and others, *Bayesian Data Analysis*, 3rd ed. 2013, 2.4 and 5.3, from
memory).

Stated hours are weighed against the hours the pages took, by how well either foretells them: the odds of two
hypotheses (the same, 7.4).
"""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass
from datetime import timedelta
from statistics import NormalDist
from typing import TYPE_CHECKING, Literal, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from datetime import date


Source = Literal["guess", "stated", "sittings"]

GUESSED_HOURS = 10.0
GUESS_DOUBT = 0.5
STATED_DOUBT = 0.1
"""How far guessed and stated hours may be off, as a share of them. Our own judgement, as are the figures below."""

WEEK_SCATTER = 0.35
"""How much the hours of single weeks differ from what is stated."""

ALL_WEEK = frozenset(range(7))
USUAL_WEEK = frozenset(range(5))

_SITS, _SITS_WEIGHT = 0.75, 2.0
_SITS_ELSE, _SITS_ELSE_WEIGHT = 0.05, 2.0
"""The chance of sitting on a day that is worked, and on another; it counts as so many days seen."""

_WEEKDAY_WEIGHT = 6.0
"""The chance common to all days of a sort counts for a single weekday as so many of them seen."""

_DAY_WEIGHT, _DAY_SCATTER, _DAY_SCATTER_WEIGHT = 0.25, 0.4, 3.0
"""The guess of a day's hours counts as so much of a day; days differ so much until so many days are seen."""

_BUSY, _BUSY_WEIGHT = 0.15, 4.0
"""How much weeks differ beyond what their days do, until so many weeks are seen."""

_FIRST_WEEKS = 0.6
"""The guess beforehand makes the hours as sure as so many weeks seen."""

_USUAL_SITS = 4.0
"""Days of a week on which a hand sits, where nothing is known of them."""

_FIRST_COUNTS = 7
"""Days covered up to which the first of them counts as sat on, for want of better."""

KNOWN_DAYS = 14
"""Days covered until hours worked out from them are more than a guess."""

_KEPT_BEFOREHAND, _DOUBTED_BELOW = 0.85, 0.1
_SILENT_DAYS, _SILENT_CHANCE = 14, 0.01


class Sat(NamedTuple):
    """One day on which a hand wrote, and for how many hours."""

    day: date
    hours: float


@dataclass(frozen=True, slots=True)
class Hours:
    """Hours a week given to the work: their mean, its standard error, and how much single weeks differ.

    ``pattern`` has the share of them on each weekday from Monday on, empty where nothing is known of that. ``sat`` is
    what the days written on come to in a week, in so many ``covered`` days; ``silent`` are the days since the last of
    them. ``stated`` are those the plan states, 0 where it states none, and ``kept`` is how far they are believed, 1
    where nothing speaks against them. ``silence_odd`` tells that the hand has been silent longer than its ways
    explain. ``sits`` is on how many days of a week it sits.
    """

    a_week: float
    error: float
    week_sd: float
    source: Source = "guess"
    pattern: tuple[float, ...] = ()
    sat: float = 0.0
    covered: int = 0
    silent: int = 0
    kept: float = 1.0
    silence_odd: bool = False
    stated: float = 0.0
    sits: float = _USUAL_SITS

    def range(self, level: float = 0.90) -> tuple[float, float]:
        """Between what the hours of a week lie on the mean."""
        doubt = math.sqrt(math.log1p((self.error / self.a_week) ** 2)) if self.a_week else 0.0
        factor = math.exp(NormalDist().inv_cdf(0.5 + level / 2) * doubt)
        return self.a_week / factor, self.a_week * factor

    @property
    def guessed(self) -> bool:
        """Whether they are a guess: nobody stated them, and less than two weeks are known."""
        return self.source == "guess"

    @property
    def doubted(self) -> bool:
        """Whether stated hours are not kept, or the hand has been silent for longer than its ways explain."""
        return self.kept < _DOUBTED_BELOW or self.silence_odd


def hours_a_week(
    sat: Iterable[Sat],
    today: date,
    stated: float | None = None,
    weekdays: frozenset[int] = USUAL_WEEK,
    off: frozenset[date] = frozenset(),
) -> Hours:
    """Hours a week of one hand, seen from ``today``.

    Args:
        sat: the days it wrote on, in any order, a day once or several times.
        today: the day; it counts as covered where the hand has written on it.
        stated: what the plan says of them.
        weekdays: those the workshop works, 0 for Monday.
        off: days off, which tell nothing.
    """
    days: dict[date, float] = {}
    for each in sat:
        if each.hours > 0 and each.day <= today:
            days[each.day] = days.get(each.day, 0.0) + each.hours
    if not days:
        mean, doubt = (stated, STATED_DOUBT) if stated else (GUESSED_HOURS, GUESS_DOUBT)
        return Hours(mean, doubt * mean, WEEK_SCATTER * mean, "stated" if stated else "guess", stated=stated or 0.0)
    found = _found(days, today, weekdays, off, stated or GUESSED_HOURS)
    return _stated(found, stated) if stated else found


def _found(
    days: Mapping[date, float], today: date, weekdays: frozenset[int], off: frozenset[date], before: float
) -> Hours:
    """Hours a week as the days covered tell them; ``before`` is what was thought of them beforehand."""
    first, last = min(days), max(days)
    covered = (today - first).days + (today in days)
    # The record begins on a day that was sat on, whatever the hand's ways: it says nothing of how often it sits.
    after = [first + timedelta(days=step) for step in range(covered > _FIRST_COUNTS, covered)]
    seen = Counter(day.weekday() for day in after if day not in off or day in days)
    sat = Counter(day.weekday() for day in after if day in days)
    chances = _chances(seen, sat, weekdays)
    a_day = before / (_SITS * max(len(weekdays), 1))
    hours = (_DAY_WEIGHT * a_day + math.fsum(days.values())) / (_DAY_WEIGHT + len(days))
    rough = (_DAY_SCATTER * hours) ** 2 * _DAY_SCATTER_WEIGHT
    rough += math.fsum((each - hours) ** 2 for each in days.values())
    day_variance = rough / (_DAY_SCATTER_WEIGHT + len(days))
    a_week = hours * math.fsum(chances)
    by_days = math.fsum(chance * (1 - chance) * hours**2 + chance * day_variance for chance in chances)
    week_variance = _week_variance(days, first, covered, a_week, by_days + (_BUSY * a_week) ** 2)
    often = math.fsum(chances[day] for day in weekdays) / max(len(weekdays), 1)
    since = [last + timedelta(days=step) for step in range(1, (today - last).days)]
    idle = sum(day.weekday() in weekdays and day not in off for day in since)
    return Hours(
        a_week,
        math.sqrt(week_variance / (covered / 7 + _FIRST_WEEKS)),
        math.sqrt(week_variance),
        "sittings" if covered >= KNOWN_DAYS else "guess",
        tuple(chance * hours / a_week for chance in chances),
        sat=math.fsum(days.values()) * 7 / max(covered, 1),
        covered=covered,
        silent=(today - last).days,
        silence_odd=(today - last).days >= _SILENT_DAYS and (1 - min(often, 0.9)) ** idle < _SILENT_CHANCE,
        sits=max(math.fsum(chances), 0.1),
    )


def _chances(seen: Mapping[int, int], sat: Mapping[int, int], weekdays: frozenset[int]) -> list[float]:
    """The chance that the hand sits, for each weekday."""
    found = [0.0] * 7
    sorts = ((weekdays, _SITS, _SITS_WEIGHT), (ALL_WEEK - weekdays, _SITS_ELSE, _SITS_ELSE_WEIGHT))
    for sort, usual, weight in sorts:
        all_seen, all_sat = (sum(count[day] for day in sort if day in count) for count in (seen, sat))
        common = (usual * weight + all_sat) / (weight + all_seen)
        for day in sort:
            weekday_seen, weekday_sat = seen.get(day, 0), sat.get(day, 0)
            found[day] = (common * _WEEKDAY_WEIGHT + weekday_sat) / (_WEEKDAY_WEIGHT + weekday_seen)
    return found


def _week_variance(days: Mapping[date, float], first: date, covered: int, a_week: float, usual: float) -> float:
    """How much whole weeks differ: what is usual, and as far as there are weeks, what they show."""
    weeks = [0.0] * (covered // 7)
    for day, spent in days.items():
        at = (day - first).days // 7
        if at < len(weeks):
            weeks[at] += spent
    misfit = math.fsum((week - a_week) ** 2 for week in weeks)
    return (_BUSY_WEIGHT * usual + misfit) / (_BUSY_WEIGHT + len(weeks))


def _stated(found: Hours, stated: float) -> Hours:
    """Stated hours, weighed against those found by how well either foretells what was sat."""
    weeks = found.covered / 7
    doubt, week_sd = STATED_DOUBT * stated, WEEK_SCATTER * stated
    if found.covered >= KNOWN_DAYS:
        week_sd = found.week_sd
    kept = _kept(found.sat, weeks, stated) if found.covered >= KNOWN_DAYS else 1.0
    trust, trust_found = 1 / doubt**2, weeks / week_sd**2
    share = trust / (trust + trust_found)
    as_stated = share * stated + (1 - share) * found.sat
    a_week = kept * as_stated + (1 - kept) * found.a_week
    variance = kept * (1 / (trust + trust_found) + (as_stated - a_week) ** 2)
    variance += (1 - kept) * (found.error**2 + (found.a_week - a_week) ** 2)
    return Hours(
        a_week,
        math.sqrt(variance),
        week_sd,
        "stated",
        found.pattern if found.covered >= KNOWN_DAYS else (),
        found.sat,
        found.covered,
        found.silent,
        kept,
        found.silence_odd,
        stated,
        found.sits,
    )


def _kept(sat: float, weeks: float, stated: float) -> float:
    """The chance that stated hours are kept, after weeks in which so many hours a week were sat.

    Kept, the mean of the weeks lies about what is stated, as far off as statements and weeks are; not kept, it may
    lie anywhere up to twice of it.
    """
    variance = (STATED_DOUBT**2 + WEEK_SCATTER**2 / weeks) * stated**2
    if_kept = math.exp(-((sat - stated) ** 2) / (2 * variance)) / math.sqrt(2 * math.pi * variance)
    if_not = 1 / (2 * stated)
    if_kept, if_not = if_kept * _KEPT_BEFOREHAND, if_not * (1 - _KEPT_BEFOREHAND)
    return if_kept / (if_kept + if_not)
