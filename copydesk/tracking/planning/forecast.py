"""When it will be done: writing, checking and the whole, with ranges; and what pace meets the exemplar's due date.

For each hand the lines it will have written by a day are set against the lines it has left. What is uncertain is
the pace found from the past, how sittings and weeks to come differ, and the lines left; all four go into the range.
A range from the sittings to come alone, or from the pace alone, would be too narrow.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report, iso
from copydesk.book.common.distributions import student_cdf

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from copydesk.tracking.planning.working_days import WorkingDays
    from copydesk.tracking.scribes.pace import Hours, Pace


FINISH_LEVEL = 0.80
"""The share of finish ranges that should hold the day."""

_LONGEST = 36_525
"""Days ahead beyond which no date is given."""

_MOST = 20.0
"""No more than this many times the hours is worth asking for."""


@dataclass(frozen=True, slots=True)
class HandWork:
    """What one hand has left to do: lines, how far that may be off, its pace and its hours.

    For the artist, the hours left in place of lines and a pace of one an hour.
    """

    hand: str
    lines: float
    lines_sd: float
    pace: Pace
    hours: Hours


@dataclass(frozen=True, slots=True)
class WorkLeft:
    """All that is left to do from ``start`` (the first day that can still be worked).

    ``checking`` is everything unchecked, written or not; its work follows the writing by ``drying_days``.
    ``painting`` holds the artists' hours, and ``lines_to_spaces`` the lines still to be written before the last page
    that waits for an artist is. What comes last dries as long again before the book is whole.
    """

    start: date
    days: WorkingDays
    writing: tuple[HandWork, ...]
    checking: tuple[HandWork, ...] = ()
    painting: tuple[HandWork, ...] = ()
    drying_days: float = 0.0
    lines_to_spaces: float = 0.0


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
    """The finish of writing, of checking, of the artists' spaces (None where none waits) and of the whole.

    With the due date and the chance to meet it.
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


FINISH: Report[Finish] = Report(
    "forecast, a finish",
    "The day something is done, with its 80 % range; null where no day is in sight.",
    (
        Column("low", Cell.DAY, "the early end", lambda finish: iso(finish.low)),
        Column("expected", Cell.DAY, "as likely before as after", lambda finish: iso(finish.expected)),
        Column("high", Cell.DAY, "the late end", lambda finish: iso(finish.high)),
    ),
    rows=False,
)
NEEDED: Report[Needed] = Report(
    "forecast, needed",
    "What would meet the due date.",
    (
        Column("chance", Cell.NUMBER, "the chance it gives"),
        Column("times", Cell.NUMBER, "so many times the hours, or the pace, of now"),
        Column("hours_a_week", Cell.OBJECT, "hours a week by hand, at the pace of now"),
        Column("lines_an_hour", Cell.OBJECT, "lines an hour by hand, in the hours of now"),
    ),
    rows=False,
)
FORECAST: tuple[Column[Forecast], ...] = (
    Column("written", Cell.OBJECT, "when all is written", of=FINISH),
    Column("checked", Cell.OBJECT, "when all is checked", of=FINISH),
    Column("painted", Cell.OBJECT, "when every space is filled; null where none waits", of=FINISH),
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
)


class SkinNeed(NamedTuple):
    """So many skins must be there by ``needed_by``, so their making must begin by ``begin_by``."""

    skins: int
    needed_by: date
    begin_by: date


def forecast(work: WorkLeft, due: date | None = None, chance_text_fits: float | None = None) -> Forecast:
    """The forecast for the work that is left, and the chance to meet the due date."""
    return Forecast(
        written=finish_of(work, chance_written),
        checked=finish_of(work, chance_checked),
        whole=finish_of(work, chance_whole),
        due=due,
        chance_by_due=chance_checked(work, due) if due else None,
        chance_text_fits=chance_text_fits,
        needed=needed_for(work, due) if due else None,
        painted=finish_of(work, chance_painted) if work.painting else None,
    )


def finish_of(work: WorkLeft, chance: Callable[[WorkLeft, date], float]) -> Finish:
    """The day by which something is done, with its range."""
    tail = (1 - FINISH_LEVEL) / 2
    low, expected, high = (_first_day(work, chance, share) for share in (tail, 0.5, 1 - tail))
    return Finish(low, expected, high)


def chance_written(work: WorkLeft, day: date) -> float:
    """The chance that everything is written when ``day`` is over."""
    return math.prod(_chance_done(task, work, day) for task in work.writing)


def chance_checked(work: WorkLeft, day: date) -> float:
    """The chance that everything is written, dry, and checked against the exemplar when ``day`` is over."""
    if not work.checking:
        return chance_written(work, day)
    last = work.days.last_to(day)
    dry = chance_written(work, _before(last, work.drying_days)) if last else 0.0
    return min(dry, *(_chance_done(task, work, day) for task in work.checking))


def chance_painted(work: WorkLeft, day: date) -> float:
    """The chance that every space is filled when ``day`` is over; the last not before its page is written and dry."""
    written = chance_reached(work, work.lines_to_spaces, _before(day, work.drying_days))
    return min(written, *(_chance_done(task, work, day) for task in work.painting), 1.0)


def chance_whole(work: WorkLeft, day: date) -> float:
    """The chance that everything is written, checked, painted and dry when ``day`` is over."""
    ready = _before(day, work.drying_days if work.painting else 0.0)
    return min(chance_checked(work, ready), *(_chance_done(task, work, ready) for task in work.painting), 1.0)


def chance_reached(work: WorkLeft, lines: float, day: date) -> float:
    """The chance that all hands with lines left together have written ``lines`` lines more when ``day`` is over."""
    if lines <= 0:
        return 1.0
    return _chance_of(lines, 0.0, (task for task in work.writing if task.lines > 0), _weeks(work, day))


def needed_for(work: WorkLeft, due: date, chance: float = 0.80) -> Needed | None:
    """How many times the hours of now give ``chance`` to have all checked by ``due``; None where no hours would."""

    def enough(times: float) -> bool:
        return chance_checked(_with_hours(work, times), due) >= chance

    if not enough(_MOST):
        return None
    low, high = 0.0, _MOST
    while high - low > 0.002:
        middle = (low + high) / 2
        low, high = (low, middle) if enough(middle) else (middle, high)
    open_tasks = [task for task in work.writing if task.lines > 0]
    return Needed(
        chance,
        round(high, 2),
        {task.hand: round(task.hours.a_week * high, 1) for task in open_tasks},
        {task.hand: round(task.pace.lines_an_hour * high, 1) for task in open_tasks},
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
    needs = []
    for skins, lines in batches:
        day = _first_day(work, lambda now, by, lines=lines: chance_reached(now, lines, by), early)  # type: ignore[misc]
        if day is not None:
            needs.append(SkinNeed(skins, day, _before(day, days_to_make)))
    return needs


def _chance_done(task: HandWork, work: WorkLeft, day: date) -> float:
    if task.lines <= 0:
        return 1.0
    return _chance_of(task.lines, task.lines_sd, (task,), _weeks(work, day))


def _chance_of(lines: float, lines_sd: float, tasks: Iterable[HandWork], weeks: float) -> float:
    """The chance that the lines these hands write in so many weeks are at least as many as there are."""
    expected = pace_part = variance = 0.0
    freedom = math.inf
    for task in tasks:
        pace, hours = task.pace, task.hours.a_week * weeks
        expected += pace.lines_an_hour * hours
        from_pace = (pace.error * hours) ** 2 + pace.scatter * hours
        from_hours = task.hours.week_sd**2 * weeks + (task.hours.error * weeks) ** 2
        pace_part += from_pace
        variance += from_pace + pace.lines_an_hour**2 * from_hours
        freedom = min(freedom, pace.freedom)
    if expected <= 0:
        return 0.0
    variance += lines_sd**2
    if variance <= 0:
        return 1.0 if expected >= lines else 0.0
    sure = freedom * (variance / pace_part) ** 2 if pace_part else math.inf
    return student_cdf((expected - lines) / math.sqrt(variance), sure)


def _weeks(work: WorkLeft, day: date) -> float:
    """Weeks' worth of working days from the start to the end of ``day``."""
    return work.days.between(work.start, day) / work.days.a_week


def _first_day(work: WorkLeft, chance: Callable[[WorkLeft, date], float], share: float) -> date | None:
    """The first day by whose end the chance is ``share``; a chance never falls as days go by."""

    def enough(ahead: int) -> bool:
        return chance(work, work.start + timedelta(days=ahead)) >= share

    furthest = min(_LONGEST, (date.max - work.start).days)
    high = 1
    while not enough(high - 1):
        if high > furthest:
            return None
        high = min(high * 2, furthest + 1)
    low = 0
    while low < high:
        middle = (low + high) // 2
        low, high = (low, middle) if enough(middle) else (middle + 1, high)
    return work.start + timedelta(days=low)


def _with_hours(work: WorkLeft, times: float) -> WorkLeft:
    def more(tasks: tuple[HandWork, ...]) -> tuple[HandWork, ...]:
        return tuple(replace(task, hours=_times(task.hours, times)) for task in tasks)

    return replace(work, writing=more(work.writing), checking=more(work.checking))


def _times(hours: Hours, times: float) -> Hours:
    return replace(hours, a_week=hours.a_week * times, error=hours.error * times, week_sd=hours.week_sd * times)


def _before(day: date, days: float) -> date:
    whole = math.ceil(days)
    return day - timedelta(days=whole) if day.toordinal() > whole else date.min


def _rounded(chance: float | None) -> float | None:
    return None if chance is None else round(chance, 4)
