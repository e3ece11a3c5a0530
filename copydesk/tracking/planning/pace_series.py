"""What is plotted of a book's progress, as plain series: pages written against the plan, pace by hand, drift.

The plan's line runs straight over working days from the day the first page was written to the exemplar's due date;
where none is set, there is no such line. The way ahead is the forecast of when the last page is written.
"""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.structure.page import Page
from copydesk.tracking.ledger.timestamps import moment
from copydesk.tracking.planning.work_left import working_days
from copydesk.tracking.scribes.sittings import sittings_of
from copydesk.tracking.state.first_plan import first_ends

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.tracking.ledger.page_record import PageRecord
    from copydesk.tracking.planning.outlook import Outlook
    from copydesk.tracking.state.book_state import BookState


_PLAN_POINTS = 40


class Day(NamedTuple):
    """A figure on a day."""

    day: date
    value: float


class PagesWritten(NamedTuple):
    """Pages written by the end of each day; the plan's line; the way ahead, early, expected and late.

    ``total`` are the pages that bear text. ``early`` to ``late`` is the 80 % range of the last page.
    """

    total: int
    written: tuple[Day, ...]
    plan: tuple[Day, ...]
    early: tuple[Day, ...]
    expected: tuple[Day, ...]
    late: tuple[Day, ...]


class HandPace(NamedTuple):
    """Lines an hour of one hand at each of its sittings, and its pace in the forecast."""

    hand: str
    sittings: tuple[Day, ...]
    pace: float


class Drift(NamedTuple):
    """How far the text of a written page ends ahead of the first plan, in lines, below 0 behind it.

    ``label`` is what the page is called where people read it.
    """

    page: Page
    lines: float
    label: str


class PaceSeries(NamedTuple):
    """All that is plotted."""

    pages: PagesWritten
    hands: tuple[HandPace, ...]
    drift: tuple[Drift, ...]


def pace_series(state: BookState, seen: Outlook) -> PaceSeries:
    """The series of a book, seen as ``seen`` has it."""
    return PaceSeries(pages_written(state, seen), hand_paces(state, seen), drift_by_page(state))


def pages_written(state: BookState, seen: Outlook) -> PagesWritten:
    """Pages written day by day against the plan, and what is to be expected."""
    pages = [page for page in state.budget.pages if page.planned]
    lines_a_page = max(state.frame.columns * state.frame.lines, 1)
    total = len(pages) + -(-state.budget.lines_without_room // lines_a_page)
    written = _written_by_day(state, seen.today)
    done = written[-1].value if written else 0.0
    finish = seen.forecast.written
    ways = [
        (Day(seen.today, done), Day(day, float(total))) if day is not None and day > seen.today else ()
        for day in (finish.low, finish.expected, finish.high)
    ]
    return PagesWritten(total, written, _plan_line(state, seen, written, total), *ways)


def hand_paces(state: BookState, seen: Outlook) -> tuple[HandPace, ...]:
    """The pace of each hand that has sat at the desk with its minutes known."""
    sittings = sittings_of(state)
    paces = {task.hand: task.pace.lines_an_hour for task in seen.work.writing}
    found = []
    for hand, pace in paces.items():
        own = sorted((each for each in sittings if each.hand == hand and each.minutes > 0), key=lambda each: each.at)
        if own:
            days = tuple(Day(each.at.date(), each.lines * 60 / each.minutes) for each in own)
            found.append(HandPace(hand, days, pace))
    return tuple(found)


def drift_by_page(state: BookState) -> tuple[Drift, ...]:
    """How far each page written whole ends ahead of, or behind, the first plan; in reading order."""
    budget, copy = state.budget, state.copy
    whole = [index for index, pin in state.pins.items() if pin.whole and index < len(budget.pages)]
    if not whole:
        return ()
    ends = first_ends(state, max(whole) + 1)
    lines = sum(page.planned for page in budget.pages) + budget.lines_without_room
    a_line = copy.sums[copy.pieces] / lines if lines else 1.0
    found = []
    for index in sorted(whole):
        if index < len(ends):
            ahead = copy.sums[budget.pages[index].end] - copy.sums[copy.piece(ends[index])]
            found.append(Drift(Page.at(index), ahead / a_line, state.book.named(Page.at(index))))
    return tuple(found)


def _written_by_day(state: BookState, today: date) -> tuple[Day, ...]:
    """Pages written whole by the end of each day on which one was, and today."""
    records = (state.record(state.skin_at(index)) for index in range(len(state.budget.pages)))
    days = sorted(day for record in records if (day := _day_written(record)) is not None)
    counted: dict[date, float] = {}
    for count, day in enumerate(days, start=1):
        counted[day] = float(count)
    if counted and max(counted) < today:
        counted[today] = float(len(days))
    return tuple(Day(day, count) for day, count in counted.items())


def _day_written(record: PageRecord) -> date | None:
    if not record.whole or not record.stints:
        return None
    at = moment(record.stints[-1].at)
    return at.date() if at is not None else None


def _plan_line(state: BookState, seen: Outlook, written: Sequence[Day], total: int) -> tuple[Day, ...]:
    """The straight way over working days from the first page written, or today, to the due date."""
    due = seen.forecast.due
    start = written[0].day if written else seen.today
    if due is None or due <= start:
        return ()
    days = working_days(state)
    all_days = days.between(start, due)
    if not all_days:
        return ()
    step = max((due - start).days // _PLAN_POINTS, 1)
    points = [date.fromordinal(at) for at in range(start.toordinal(), due.toordinal(), step)]
    return tuple(Day(day, total * days.between(start, day) / all_days) for day in (*points, due))
