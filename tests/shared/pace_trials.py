"""Simulated hands at their desks, for hours a week and pace: their ways are drawn here, not from our models."""

from __future__ import annotations

import random
from datetime import date, datetime, timedelta

from copydesk.tracking.scribes.hours import Hours, Sat, hours_a_week
from copydesk.tracking.scribes.pace import Sitting, pace_of

WAYS = {
    "every weekday": (0.95,) * 5 + (0.0, 0.0),
    "most weekdays": (0.75,) * 5 + (0.05, 0.05),
    "three weekdays": (0.9, 0.05, 0.9, 0.05, 0.9, 0.0, 0.0),
    "half of them": (0.45,) * 5 + (0.1, 0.1),
    "mostly weekends": (0.1,) * 5 + (0.8, 0.6),
}


def hours_told(way: str, span: int, rng: random.Random) -> tuple[Hours, float]:
    """Hours a week as told after so many days from the first one sat on, and the true ones."""
    chances, usual = WAYS[way], rng.uniform(1, 4)
    days: list[Sat] = []
    day = date(2026, 3, 2) + timedelta(days=rng.randrange(7))
    busy = 1.0
    while not days or (day - days[0].day).days < span:
        if day.weekday() == 0:
            busy = max(rng.gauss(1, 0.15), 0.3)
        if rng.random() < chances[day.weekday()]:
            days.append(Sat(day, max(0.3, usual * busy * rng.lognormvariate(-0.045, 0.3))))
        day += timedelta(days=1)
    return hours_a_week(days, days[0].day + timedelta(days=span - 1)), usual * sum(chances)


def sat_at_desk(rng: random.Random, days: int, day_effect: float, own: float) -> tuple[float, list[Sitting]]:
    """The true pace of a steady hand, and its sittings: one to five a day, skewed, now and then one far too slow."""
    pace, found = rng.uniform(14, 36), []
    for day in range(days):
        of_day = rng.lognormvariate(-(day_effect**2) / 2, day_effect)
        for hour in range(rng.randrange(1, 6)):
            minutes = rng.uniform(20, 70)
            lines = pace * of_day * rng.lognormvariate(-own * own / 2, own) * minutes / 60
            lines *= 0.7 if rng.random() < 0.03 else 1.009
            at = datetime(2026, 3, 2, 9) + timedelta(days=day, hours=hour)
            found.append(Sitting("A", lines, minutes, at))
    return pace, found


def pace_held(books: int, seed: str, days: int, day_effect: float, own: float) -> float:
    """The share of 90 % ranges of the pace that hold the true one; what was stated beforehand is off by a fifth."""
    rng, held = random.Random(seed), 0
    for _ in range(books):
        true, sittings = sat_at_desk(rng, days, day_effect, own)
        found = pace_of(sittings, true * rng.lognormvariate(0, 0.2)).range()
        held += found.low <= true <= found.high
    return held / books


def wrongly_moving(books: int, seed: str, days: int, day_effect: float, own: float) -> float:
    """The share of steady hands said to grow faster or slower at least once, looked at after every day."""
    rng, wrong = random.Random(seed), 0
    for _ in range(books):
        _, sittings = sat_at_desk(rng, days, day_effect, own)
        starts = [at for at in range(1, len(sittings)) if sittings[at].at.date() != sittings[at - 1].at.date()]
        wrong += any(pace_of(sittings[:end]).per_sitting for end in starts[4:])
    return wrong / books
