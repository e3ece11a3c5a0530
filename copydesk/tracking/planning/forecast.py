"""When it will be done: writing, checking and the whole, with ranges; and what pace meets the exemplar's due date.

All is read off some thousand simulated runs of the work that is left (``work_runs``): the days by which a tenth, half
and nine tenths of them are done, and the share of them that is done in time. So what several hands must all do is
as likely as all of them together doing it, not as the slowest alone.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report, iso, one_of
from copydesk.tracking.planning.work_runs import LONGEST, RUNS, SEED, simulated, times_needed

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from copydesk.tracking.planning.work_runs import WorkLeft


FINISH_LEVEL = 0.80
"""The share of finish ranges that should hold the day."""

_MOST = 20.0
"""No more than this many times the hours is worth asking for."""


class Finish(NamedTuple):
    """The day something is done: expected (as likely before as after) and its 80 % range; None is out of sight."""

    low: date | None
    expected: date | None
    high: date | None


class Needed(NamedTuple):
    """What would meet the due date with a chance: so many times the hours (or the pace) of now, and what those are.

    ``hours_a_week`` is by hand at the pace of now, ``lines_an_hour`` by hand in the hours of now.
    """

    chance: float
    times: float
    hours_a_week: dict[str, float]
    lines_an_hour: dict[str, float]


@dataclass(frozen=True, slots=True)
class Forecast:
    """The finish of writing, of checking, of the artists' spaces and the later passes (None where none wait), of all.

    With the due date and the chance to meet it.
    ``held_by`` is who or what held the whole longest in most runs.
    The exemplar is needed until the last page is checked against it, so that is what must come before it is due.
    """

    written: Finish
    checked: Finish
    whole: Finish
    due: date | None = None
    chance_by_due: float | None = None
    chance_text_fits: float | None = None
    needed: Needed | None = None
    painted: Finish | None = None
    held_by: str = ""
    gone_over: Finish | None = None


ASSUMED = "hands keep their pace and weekdays; each is away one week in ten"
"""What the forecast takes for granted, for people."""

FINISH: Report[Finish] = one_of(
    "forecast, a finish",
    "The day something is done, with its 80 % range; null where no day is in sight.",
    Column("low", Cell.DAY, "the early end", lambda finish: iso(finish.low)),
    Column("expected", Cell.DAY, "as likely before as after", lambda finish: iso(finish.expected)),
    Column("high", Cell.DAY, "the late end", lambda finish: iso(finish.high)),
)
NEEDED: Report[Needed] = one_of(
    "forecast, needed",
    "What would meet the due date.",
    Column("chance", Cell.NUMBER, "the chance it gives"),
    Column("times", Cell.NUMBER, "so many times the hours, or the pace, of now"),
    Column("hours_a_week", Cell.OBJECT, "hours a week by hand, at the pace of now"),
    Column("lines_an_hour", Cell.OBJECT, "lines an hour by hand, in the hours of now"),
)
FORECAST: tuple[Column[Forecast], ...] = (
    Column("written", Cell.OBJECT, "when all is written", of=FINISH),
    Column("checked", Cell.OBJECT, "when all is checked", of=FINISH),
    Column("painted", Cell.OBJECT, "when every space is filled; null where none waits", of=FINISH),
    Column("gone_over", Cell.OBJECT, "when every later pass is done; null where none waits", of=FINISH),
    Column("whole", Cell.OBJECT, "when the whole is done", of=FINISH),
    Column(
        "exemplar_due",
        Cell.DAY,
        "when the exemplar goes back; null where the plan does not say",
        lambda found: iso(found.due),
    ),
    Column(
        "chance_by_due",
        Cell.NUMBER,
        "the chance that all is checked by then",
        lambda found: _rounded(found.chance_by_due),
    ),
    Column(
        "chance_text_fits",
        Cell.NUMBER,
        "the chance that the text fits the book",
        lambda found: _rounded(found.chance_text_fits),
    ),
    Column("needed", Cell.OBJECT, "what would meet that day; null where nothing more is needed", of=NEEDED),
    Column("held_by", Cell.TEXT, "the person and the work, or the step, that holds the date of the whole most often"),
    Column("assumes", Cell.TEXT, "what the forecast takes for granted", lambda _: ASSUMED),
    Column("runs", Cell.NUMBER, "how many times the work left was simulated", lambda _: RUNS),
    Column("seed", Cell.NUMBER, "the seed of the simulation; the same seed gives the same answer", lambda _: SEED),
)


class SkinNeed(NamedTuple):
    """So many skins must be there by ``needed_by``, so their making must begin by ``begin_by``."""

    skins: int
    needed_by: date
    begin_by: date


def forecast(
    work: WorkLeft, due: date | None = None, chance_text_fits: float | None = None, runs: int = RUNS
) -> Forecast:
    """The forecast for the work that is left, and the chance to meet the due date."""
    found = simulated(work, runs)
    return Forecast(
        written=_finish(work, found.written),
        checked=_finish(work, found.checked),
        whole=_finish(work, found.whole),
        due=due,
        chance_by_due=_chance_by(work, found.checked, due) if due else None,
        chance_text_fits=chance_text_fits,
        needed=needed_for(work, due, runs=runs) if due else None,
        painted=_finish(work, found.painted) if work.painting else None,
        held_by=found.holder,
        gone_over=_finish(work, found.gone_over) if work.later else None,
    )


def _finish(work: WorkLeft, ends: Sequence[int]) -> Finish:
    """The day by which something is done, with its range."""
    tail = (1 - FINISH_LEVEL) / 2
    low, expected, high = (_day(work, ends, share) for share in (tail, 0.5, 1 - tail))
    return Finish(low, expected, high)


def _day(work: WorkLeft, ends: Sequence[int], share: float) -> date | None:
    """The first day on which this share of the runs is done; None where none is in sight."""
    ahead = sorted(ends)[max(math.ceil(share * len(ends)), 1) - 1]
    furthest = min(LONGEST, (date.max - work.start).days)
    return work.start + timedelta(days=ahead) if ahead <= furthest else None


def _chance_by(work: WorkLeft, ends: Sequence[int], day: date) -> float:
    """The share of the runs done when ``day`` is over; never quite none or all of them where it is not sure."""
    ahead = (day - work.start).days
    done = sum(end <= ahead for end in ends)
    if (done == 0 and (ahead < 0 or min(ends) > LONGEST)) or (done == len(ends) and max(ends) == 0):
        return done / len(ends)
    return min(max(done, 0.5), len(ends) - 0.5) / len(ends)


def needed_for(work: WorkLeft, due: date, chance: float = 0.80, runs: int = RUNS) -> Needed | None:
    """How many times the hours of now give ``chance`` to have all checked by the due date; None where none would."""
    times = sorted(times_needed(work, due, runs))[math.ceil(chance * runs) - 1]
    if times > _MOST:
        return None
    open_tasks = [task for task in work.writing if task.lines > 0]
    return Needed(
        chance,
        round(times, 2),
        {task.hand: round(task.hours.a_week * times, 1) for task in open_tasks},
        {task.hand: round(task.pace.lines_an_hour * times, 1) for task in open_tasks},
    )


def skins_needed(
    work: WorkLeft, batches: Iterable[tuple[int, float]], days_to_make: float, early: float = 0.10
) -> list[SkinNeed]:
    """By when skins are needed and must be begun, so that the hands wait for none even if they are quick.

    Args:
        work: the work left.
        batches: skins, and how many lines from now are written before the first of them is.
        days_to_make: from the first step to a skin that can be ruled.
        early: the chance that the hands come there by that day.
    """
    reaches = simulated(work).reaches
    needs = []
    for skins, lines in batches:
        day = _day(work, reaches(lines), early)
        if day is not None:
            needs.append(SkinNeed(skins, day, _before(day, days_to_make)))
    return needs


def _before(day: date, days: float) -> date:
    whole = math.ceil(days)
    return day - timedelta(days=whole) if day.toordinal() > whole else date.min


def _rounded(chance: float | None) -> float | None:
    return None if chance is None else round(chance, 4)
