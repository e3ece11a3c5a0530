"""The work that is left, done some thousand times over by chance: a seeded simulation of hands, artists and skins.

In each run every hand has a pace and hours a week drawn from what is known of them, and lines left drawn from how sure
those are. Its weeks differ, and now and then it is away. A hand that gives ``a`` hours a week on the mean, with weeks
that differ by ``s``, is done with ``H`` hours of work after a time whose distribution is the inverse Gaussian one of
mean ``H / a`` and shape ``(H / s) ** 2``, the first passage of a drifting Brownian motion (E. Schrödinger,
*Physikalische Zeitschrift* 16 (1915), 289-95). It is drawn as in J. R. Michael, W. R. Schucany and R. W. Haas, *The
American Statistician* 30 (1976), 88-90, both from memory. So a run needs no loop over days; days off
are counted in the calendar afterwards.
"""

from __future__ import annotations

import math
import random
from bisect import bisect_left
from collections import Counter
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from copydesk.tracking.planning.working_days import WorkingDays
    from copydesk.tracking.scribes.hours import Hours
    from copydesk.tracking.scribes.pace import Pace


RUNS = 2_000
SEED = 1

AWAY_EVERY, AWAY_WEEKS = 9.0, 1.0
"""A hand is away (ill, travelling) about once in so many weeks, for so many on the mean. Our own judgement."""

_AWAY_ALIKE = 2.0
"""How alike hands are in that: the shape of the gamma curve from which each run draws how often a hand is away."""

LONGEST = 36_525
"""Days ahead beyond which no date is given."""

NEVER = 10**9

_FARTHEST = 1.5
"""Logarithms by which a drawn pace or drawn hours may differ from what is expected."""

_HAIR = 1e-9  # what arithmetic loses
_FEWEST = 3.0
"""Degrees of freedom below which Student's distribution is taken as if it had so many."""


@dataclass(frozen=True, slots=True)
class HandWork:
    """What one hand has left to do: lines, how far that may be off, its pace and its hours.

    For the artist, the hours left in place of lines and a pace of one an hour. ``off`` are the hand's own days off,
    beside those of the workshop.
    """

    hand: str
    lines: float
    lines_sd: float
    pace: Pace
    hours: Hours
    off: frozenset[date] = frozenset()


@dataclass(frozen=True, slots=True)
class WorkLeft:
    """All that is left to do from ``start`` (the first day that can still be worked).

    ``checking`` is everything unchecked, written or not, each hand's own writing counted in. A share of it is done
    ``alongside`` the writing, the rest by whoever has no more to write, and the last ``drying_days`` after the writing.
    ``painting`` holds the artists' hours, and ``lines_to_spaces`` the lines still to be written before the last page
    that waits for an artist is, whose own hours are ``last_space``. What comes last dries as long again before the book
    is whole. After ``lines_to_skins`` lines (None where none are wanting) the hands come to skins that are not there
    before ``skin_days`` have gone by. ``later`` holds the hours of the later passes, done by each hand when it has
    written all; the inks of the page written last dry ``later_days`` one after another.
    """

    start: date
    days: WorkingDays
    writing: tuple[HandWork, ...]
    checking: tuple[HandWork, ...] = ()
    painting: tuple[HandWork, ...] = ()
    drying_days: float = 0.0
    alongside: float = 0.0
    lines_to_spaces: float = 0.0
    last_space: float = 0.0
    lines_to_skins: float | None = None
    skin_days: float = 0.0
    later: tuple[HandWork, ...] = ()
    later_days: float = 0.0


class WorkRuns(NamedTuple):
    """What came of each run: days from the start until all is written, checked, painted and whole, NEVER if never.

    ``gone_over`` are those until every later pass is done.

    ``holder`` says who or what held the whole in most runs, ``hands`` are theirs, and ``weeks`` those of work until all
    is checked, drying left out. ``reaches`` gives for a
    number of lines the days after which the hands together have written them.
    """

    written: list[int]
    checked: list[int]
    painted: list[int]
    whole: list[int]
    holder: str
    hands: tuple[HandRuns, ...]
    weeks: list[float]
    reaches: Callable[[float], list[int]]
    gone_over: list[int]


class _Calendar:
    """Weeks of work gone by when each day is over, in a hand's own week."""

    def __init__(self, start: date, days: WorkingDays, pattern: Sequence[float]) -> None:
        self.start, self.days, self.day_share = start, days, 1 / days.a_week
        even = tuple(float(day in days.weekdays) / days.a_week for day in range(7))
        self.shares = tuple(pattern) if any(pattern) else even
        self.gone: list[float] = []
        self.most = min(LONGEST, (date.max - start).days + 1)

    def day(self, weeks: float) -> int:
        """The day, from 0, on which so many weeks of work are over; NEVER where none is in sight."""
        gone = self.gone
        if not weeks < LONGEST:
            return NEVER
        while not gone or gone[-1] < weeks - _HAIR:
            if len(gone) >= self.most:
                return NEVER
            self._reach(len(gone) + max(int(7 * (weeks - (gone[-1] if gone else 0.0))), 0) + 7)
        return bisect_left(gone, weeks - _HAIR)

    def weeks(self, day: int) -> float:
        """Weeks of work from the start to the end of a day."""
        if day < 0:
            return 0.0
        self._reach(day + 1)
        return self.gone[min(day, len(self.gone) - 1)] if self.gone else 0.0

    def next_worked(self, day: int) -> int:
        """The first day of work from a day on."""
        return self.day(self.weeks(day - 1) + 2 * _HAIR) if day < self.most else NEVER

    def _reach(self, days: int) -> None:
        gone, off, first = self.gone, self.days.off, self.start.weekday()
        total = gone[-1] if gone else 0.0
        for at in range(len(gone), min(days, self.most)):
            if not off or self.start + timedelta(days=at) not in off:
                total += self.shares[(first + at) % 7]
            gone.append(total)


class HandRuns(NamedTuple):
    """One hand in each run: weeks of its own until it has written all; hours of checking left then; hours a week.

    ``spread`` is the variance of its hours in single weeks, ``sits`` on how many days of a week it sits.
    """

    hand: str
    lines: float
    written: list[float]
    left: list[float]
    a_week: list[float]
    spread: list[float]
    sits: float
    calendar: _Calendar


@lru_cache(maxsize=16)
def simulated(work: WorkLeft, runs: int = RUNS, seed: int = SEED) -> WorkRuns:
    """The work done ``runs`` times over; the same seed gives the same runs."""
    calendars: dict[tuple[tuple[float, ...], frozenset[date]], _Calendar] = {}

    def drawn(writing: HandWork | None, checking: HandWork | None, task: HandWork, of: str) -> HandRuns:
        own = (task.hours.pattern, task.off)
        if own not in calendars:
            days = replace(work.days, off=work.days.off | task.off)
            calendars[own] = _Calendar(work.start, days, task.hours.pattern)
        return _drawn(writing, checking, work.alongside, calendars[own], runs, random.Random(f"{seed} {of}"))  # noqa: S311

    checking = {task.hand: task for task in work.checking}
    hands = [drawn(task, checking.pop(task.hand, None), task, task.hand) for task in work.writing]
    hands += [drawn(None, task, task, task.hand) for task in checking.values()]
    artists = [drawn(task, None, task, f"artist {task.hand}") for task in work.painting]
    later = [drawn(task, None, task, f"passes {task.hand}") for task in work.later]
    return _put_together(work, (hands, artists, later), random.Random(f"{seed} checking"), runs)  # noqa: S311


def _drawn(
    writing: HandWork | None,
    checking: HandWork | None,
    alongside: float,
    calendar: _Calendar,
    runs: int,
    rng: random.Random,
) -> HandRuns:
    """One hand in each run; a share of its checking is done alongside its writing."""
    task = writing or checking
    if task is None:
        raise ValueError("nothing to draw")
    pace, hours = task.pace, task.hours
    lines, sd = (writing.lines, writing.lines_sd) if writing else (0.0, 0.0)
    more, more_sd = 0.0, 0.0
    if checking is not None:
        more, more_sd = max(checking.lines - lines, 0.0), math.sqrt(max(checking.lines_sd**2 - sd**2, 0.0))
    if hours.a_week <= 0 or pace.lines_an_hour <= 0:
        none = [0.0] * runs
        return HandRuns(task.hand, lines, [math.inf if lines else 0.0] * runs, [more] * runs, none, none, 0.0, calendar)
    hours_doubt = math.sqrt(math.log1p((hours.error / hours.a_week) ** 2))
    pace_doubt, few = pace.error / pace.lines_an_hour, max(pace.freedom, _FEWEST)
    week_variance, an_hour, middle = hours.week_sd**2, pace.scatter, pace.lines_an_hour
    gauss, exp, beside = rng.gauss, math.exp, alongside if lines else 0.0
    found = HandRuns(task.hand, lines, [], [], [], [], hours.sits, calendar)
    gap = max(1 / hours.sits - calendar.day_share, 0.0)
    for _ in range(runs):
        a_week = hours.a_week * exp(_within(hours_doubt * gauss(0.0, 1.0)))
        z = gauss(0.0, 1.0)
        # Student's value from a normal one: M. Abramowitz and I. Stegun, Handbook of Mathematical Functions, 26.7.5;
        # from memory.
        z += (z**3 + z) / (4 * few) + (5 * z**5 + 16 * z**3 + 3 * z) / (96 * few * few)
        speed = middle * exp(_within(pace_doubt * z))
        variance = week_variance + a_week * an_hour / (speed * speed)
        to_check = max(more + more_sd * gauss(0.0, 1.0), 0.0) / middle if more else 0.0
        to_write = (lines + sd * gauss(0.0, 1.0)) / speed + beside * to_check if lines else 0.0
        often = rng.gammavariate(_AWAY_ALIKE, 1 / _AWAY_ALIKE)
        found.written.append(
            _passage(to_write, a_week, variance, rng, often) + gap * rng.random() if to_write > 0 else 0.0
        )
        found.left.append((1 - beside) * to_check)
        found.a_week.append(a_week)
        found.spread.append(variance)
    return found


def _passage(hours: float, a_week: float, variance: float, rng: random.Random, often: float = 1.0) -> float:
    """Weeks in which so many hours are worked, ``variance`` being that of single weeks, with the weeks away.

    ``often`` is how many times as often as usual the hand is away.
    """
    if hours <= 0:
        return 0.0
    weeks = mean = hours / a_week
    if variance > 0:
        square, shape = mean * rng.gauss(0.0, 1.0) ** 2 * variance, 2 * hours * hours
        # A normal value's square has two roots here; the paper takes the smaller, or by chance the other.
        weeks = mean * (1 + (square - math.sqrt(square * (2 * shape + square))) / shape)
        if rng.random() * (mean + weeks) > mean:
            weeks = mean * mean / weeks
    left, away = weeks, 0.0
    while (left := left + AWAY_EVERY / often * math.log(1.0 - rng.random())) > 0:
        away -= AWAY_WEEKS * math.log(1.0 - rng.random())
    return weeks + away


def _within(logarithm: float) -> float:
    return min(max(logarithm, -_FARTHEST), _FARTHEST)


def _put_together(work: WorkLeft, drawn: Sequence[Sequence[HandRuns]], rng: random.Random, runs: int) -> WorkRuns:
    """The days of each run, by what hands, artists and later passes take: what waits for what, what held the whole."""
    hands, artists, later = drawn
    dry, calendar = math.ceil(work.drying_days), _Calendar(work.start, work.days, ())
    speeds = [0.0] * runs
    for hand in hands:
        if hand.lines > 0:
            times = zip(speeds, hand.written, strict=True)
            speeds = [before + (hand.lines / weeks if weeks > 0 else 0.0) for before, weeks in times]

    def reaches(lines: float) -> list[int]:
        return [calendar.day(lines / speed) if speed else NEVER for speed in speeds] if lines > 0 else [0] * runs

    stops = [0] * runs
    if work.lines_to_skins is not None:
        stops = [max(math.ceil(work.skin_days) - reached, 0) for reached in reaches(work.lines_to_skins)]
    written, writers = _last(hands, runs)
    written = list(map(_soonest, written, stops))
    weeks = _checked(hands, rng) if work.checking else [0.0] * runs
    checked = [calendar.day(each) if each else 0 for each in weeks]
    ready = _ready(work, hands, [day + dry for day in written], calendar, rng) if work.checking else written
    painted, painters = _last(artists, runs)
    seen = [0] * runs
    if artists:
        late = work.lines_to_skins is not None and work.lines_to_spaces > work.lines_to_skins
        begun = map(min, map(_soonest, reaches(work.lines_to_spaces), [stop * late for stop in stops]), written)
        seen = [_filled(work, day + dry, artists[-1].calendar) for day in begun]
    gone_over = _gone_over(work, hands, later, written, runs)
    held: Counter[str] = Counter()
    for at in range(runs):
        if max(gone_over[at], painted[at]) > max(checked[at], ready[at], seen[at]):
            painting = painted[at] >= gone_over[at]
            held[f"{artists[painters[at]].hand}, painting" if painting else "later passes"] += 1
        elif checked[at] > ready[at]:
            held["checking"] += 1
        elif hands:
            held["skins" if stops[at] else f"{hands[writers[at]].hand}, writing"] += 1
    checked, painted = list(map(max, checked, ready)), list(map(max, painted, seen))
    dried = [_soonest(day, dry if artists else 0) for day in map(max, checked, painted)]
    whole = list(map(max, dried, gone_over))
    holder = max(held, key=held.__getitem__, default="")
    return WorkRuns(written, checked, painted, whole, holder, tuple(hands), weeks, reaches, gone_over)


def _gone_over(
    work: WorkLeft, hands: Sequence[HandRuns], later: Sequence[HandRuns], written: Sequence[int], runs: int
) -> list[int]:
    """The day of each run on which every later pass is done and dry; each hand comes to its own after its writing."""
    found = [0] * runs
    writers = {hand.hand: hand.written for hand in hands}
    for hand in later:
        before = writers.get(hand.hand, [0.0] * runs)
        days = (hand.calendar.day(own + passes) for own, passes in zip(before, hand.written, strict=True))
        found = list(map(max, found, days))
    dry = math.ceil(work.later_days)
    return [_soonest(max(day, last), dry) for day, last in zip(found, written, strict=True)] if later else found


def _checked(hands: Sequence[HandRuns], rng: random.Random) -> list[float]:
    """Weeks until all is checked in each run, by whoever has no more to write, as far as hours go."""
    found = []
    for at, left in enumerate(zip(*(hand.left for hand in hands), strict=True)):
        hours = math.fsum(left)
        if hours <= 0:
            found.append(max(hand.written[at] for hand in hands))
            continue
        over, a_week, spread, begun = math.inf, 0.0, 0.0, 0.0
        for free, _, hand in sorted((hand.written[at], order, hand) for order, hand in enumerate(hands)):
            if free >= over:
                break
            a_week, spread, begun = a_week + hand.a_week[at], spread + hand.spread[at], begun + hand.a_week[at] * free
            over = (hours + begun) / a_week if a_week else math.inf
        late = _passage(hours, a_week, spread, rng) - hours / a_week if a_week else 0.0
        found.append(max(over + late, 0.0))
    return found


def _ready(
    work: WorkLeft, hands: Sequence[HandRuns], dry: Sequence[int], calendar: _Calendar, rng: random.Random
) -> list[int]:
    """The first day from each on which some hand sits, to check what was written last."""
    idle = math.prod(1 - min(hand.sits / work.days.a_week, 1.0) for hand in hands)
    if idle <= 0:
        return [calendar.next_worked(day) for day in dry]
    a_day, log = 1 / work.days.a_week, math.log(idle)
    waits = [int(math.log(1.0 - rng.random()) / log) if idle < 1 else NEVER for _ in dry]
    return [
        calendar.day(calendar.weeks(day - 1) + a_day * wait + 2 * _HAIR) if day < NEVER else NEVER
        for day, wait in zip(dry, waits, strict=True)
    ]


def _last(hands: Sequence[HandRuns], runs: int) -> tuple[list[int], list[int]]:
    """The day of each run on which the last of these hands has written, and which of them that is."""
    count, found = max(len(hands), 1), [0] * runs
    for at, hand in enumerate(hands):
        day = hand.calendar.day
        days = [day(each) * count + at if each > 0 else 0 for each in hand.written]
        found = list(map(max, found, days))
    return [each // count for each in found], [each % count for each in found]


def _soonest(day: int, days: int) -> int:
    return min(day + days, NEVER)


def _filled(work: WorkLeft, dry: int, calendar: _Calendar) -> int:
    """The day on which the last space is filled, if the artist begins it when its page is dry."""
    a_week = work.painting[-1].hours.a_week
    if dry >= LONGEST or a_week <= 0:
        return NEVER
    return calendar.day(calendar.weeks(dry - 1) + work.last_space / a_week) if work.last_space else dry


def times_needed(work: WorkLeft, due: date, runs: int = RUNS) -> list[float]:
    """How many times the hours of now each run needs to have all written, dry and checked by the due date."""
    found = simulated(work, runs)
    last = work.days.last_to(due)
    day = (last - work.start).days if last is not None else -1
    to_write = day - math.ceil(work.drying_days) if work.checking else day
    times = [0.0] * runs
    until = [(hand.written, hand.calendar.weeks(to_write)) for hand in found.hands]
    for weeks, there in (*until, (found.weeks, _Calendar(work.start, work.days, ()).weeks(day))):
        times = [
            max(before, each / there if there else math.inf if each else 0.0)
            for before, each in zip(times, weeks, strict=True)
        ]
    return times
