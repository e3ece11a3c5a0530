"""All that is left to do on a book, put together from plan and ledger.

What is written must be checked, and mostly by the same hands: so the checking is counted in their hours, as lines of
writing that take as long. As far as it has kept up with the writing so far it goes on beside it; what is left when a
hand has no more to write is checked by whoever is free.
"""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date, timedelta
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.checks import persons_for
from copydesk.book.materials.skin_cutting import skins_to_order
from copydesk.tracking.fit.book_end import left_by_hand
from copydesk.tracking.ledger.timestamps import moment
from copydesk.tracking.planning.forecast import SkinNeed, skins_needed
from copydesk.tracking.planning.pass_hours import days_drying, pass_hours
from copydesk.tracking.planning.work_runs import HandWork, WorkLeft
from copydesk.tracking.planning.working_days import WorkingDays
from copydesk.tracking.scribes.hours import Hours, Sat, hours_a_week
from copydesk.tracking.scribes.pace import Pace, pace_of
from copydesk.tracking.scribes.sittings import checking_sittings, days_sat, lines_by_day, sittings_of
from copydesk.tracking.views.skin_batches import batches_of
from copydesk.tracking.views.skin_order import skin_order, skin_steps
from copydesk.tracking.views.space_view import space_accounts

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.space_view import SpaceAccount


USUAL_HOURS: Mapping[str, float] = {
    "miniature": 8.0,
    "historiated initial": 4.0,
    "decorated initial": 2.5,
    "flourished initial": 1.0,
    "initial": 0.5,
    "border": 5.0,
    "line filler": 0.2,
    "rubric": 0.1,
}
"""Hours a space takes where the plan gives none. Our own judgement; the plan's own figure is better."""

_KEPT_UP = 0.5
"""The share of the checking that keeps up with the writing, while nothing is written. Our own judgement."""

_PAINTING_DOUBT = 0.3
"""How far the artist's hours may be off, as a share of them. Our own judgement."""


def working_days(state: BookState) -> WorkingDays:
    """The workshop's week and its days off."""
    workshop = state.book.workshop
    return WorkingDays(frozenset(workshop.weekdays), frozenset(workshop.days_off))


def work_left(state: BookState, today: date, lost: Sequence[LostText]) -> WorkLeft:
    """All that is left to do from ``today`` on, the text that stands on no page (``lost``) included."""
    days = working_days(state)
    sittings, written = sittings_of(state), lines_by_day(state)
    left = {each.hand: each for each in left_by_hand(state)}
    lost_lines = sum(each.lines for each in lost)
    waiting = [(each, each.page) for each in space_accounts(state) if each.waiting and each.page is not None]
    writing, checker = [], checking_pace(state)
    checked = _days_checked(state, checker)
    for hand in state.book.hands:
        off = frozenset(hand.days_off)
        own = [each for each in sittings if each.hand == hand.id]
        pace = pace_of(own, hand.lines_an_hour)
        sat = days_sat(hand.id, own, written, pace.lines_an_hour) + checked.get(hand.id, [])
        hours = hours_a_week(sat, today, hand.hours_a_week, days.weekdays, days.off | off)
        lines, sd = (left[hand.id].lines, left[hand.id].sd) if hand.id in left else (0, 0.0)
        lines += sum(each.lines for each in lost if each.hand == hand.id)
        writing.append(HandWork(hand.id, lines, sd, pace, hours, off))
    unchecked = _unchecked_lines(state) + state.book.readings.persons * lost_lines
    begun = any(day == today for _, day in written)
    painting = [account for account, _ in waiting]
    skins = _skins_waited_for(state)
    return WorkLeft(
        start=days.first_from(today + timedelta(days=begun)) or today,
        days=days,
        writing=tuple(writing),
        checking=tuple(_checking(writing, unchecked, checker)),
        painting=tuple(_painting(state, today, painting)),
        drying_days=state.book.workshop.drying_days,
        alongside=_alongside(state, math.fsum(task.lines for task in writing), unchecked / state.book.readings.persons),
        lines_to_spaces=float(_lines_to(state, max((page.index for _, page in waiting), default=-1))),
        last_space=max(waiting, key=lambda each: each[1].index)[0].hours_left or 0.0 if waiting else 0.0,
        lines_to_skins=skins,
        skin_days=0.0 if skins is None else math.fsum(skin_steps(state.book).values()),
        later=tuple(_later(state, today, writing)),
        later_days=days_drying(state),
    )


def _later(state: BookState, today: date, writing: Iterable[HandWork]) -> Iterator[HandWork]:
    """What each hand has left of the later passes, in hours."""
    of_hand = {task.hand: task for task in writing}
    artist: Hours = hours_a_week((), today, state.book.workshop.artist_hours_a_week)
    an_hour = Pace(1.0, 0.0, math.inf, 0.0, "stated")
    for hand, hours in pass_hours(state).items():
        own = of_hand.get(hand)
        week, off = (own.hours, own.off) if own is not None else (artist, frozenset[date]())
        yield HandWork(hand, hours, _PAINTING_DOUBT * hours, an_hour, week, off)


def _unchecked_lines(state: BookState) -> int:
    """Lines still to be checked, written or not; each as often as somebody has to go through it."""
    records = (state.record(state.skin_at(index)) for index in range(len(state.budget.pages)))
    often = (0 if record.checked_by else persons_for(record.wanted) or 1 for record in records)
    lines = (max(page.planned, page.written) for page in state.budget.pages)
    on_pages = sum(times * count for times, count in zip(often, lines, strict=True))
    return on_pages + state.book.readings.persons * state.budget.lines_without_room


def _alongside(state: BookState, unwritten: float, unchecked: float) -> float:
    """The share of the checking left that will be done beside the writing, if it keeps up with it as it did so far."""
    written = sum(page.written for page in state.budget.pages)
    behind = max(unchecked - unwritten, 0.0)
    kept_up = 1 - min(behind / written, 1.0) if written else _KEPT_UP
    return kept_up * min(unwritten / unchecked, 1.0) if unchecked else 0.0


def _checking(writing: list[HandWork], unchecked: int, pace: Pace) -> list[HandWork]:
    """For each hand its writing and its share of the checking together, in lines of writing."""
    if not unchecked:
        return []
    week = math.fsum(task.hours.a_week for task in writing)
    tasks = []
    for task in writing:
        share = task.hours.a_week / week if week else 1 / len(writing)
        as_long = unchecked * share * task.pace.lines_an_hour / pace.lines_an_hour
        doubt = as_long * pace.error / pace.lines_an_hour
        tasks.append(replace(task, lines=task.lines + as_long, lines_sd=math.hypot(task.lines_sd, doubt)))
    return tasks


def checking_pace(state: BookState) -> Pace:
    """How many lines are checked in an hour, by whoever checks."""
    return pace_of(
        checking_sittings(_checks(state), partial(_lines_checked, state)), state.book.workshop.check_lines_an_hour
    )


def _checks(state: BookState) -> list[Entry]:
    """Every entry that says a page was checked."""
    ledger = state.ledger
    checks = (entry for entry in ledger if entry.what == "checked" and entry.subject[0] == "page")
    return [entry for entry in checks if not ledger.is_void(entry.entry)]


def _lines_checked(state: BookState, entry: Entry) -> int:
    return state.record(entry.skin).written


def _days_checked(state: BookState, pace: Pace) -> dict[str, list[Sat]]:
    """For each hand the days on which it checked, with their hours as told, or as its lines take at the usual pace."""
    found: dict[str, list[Sat]] = {}
    for entry in _checks(state):
        at, minutes = moment(entry.at), entry.amount("minutes")
        if at is not None:
            hours = minutes / 60 if minutes else _lines_checked(state, entry) / pace.lines_an_hour
            found.setdefault(entry.hand, []).append(Sat(at.date(), hours))
    return found


def _painting(state: BookState, today: date, waiting: Iterable[SpaceAccount]) -> list[HandWork]:
    """What each artist has left of the spaces that wait, in hours."""
    left: dict[str, float] = {}
    for account in waiting:
        share = len(account.stages_left) / max(len(account.stages), 1)
        hours = account.hours_left or USUAL_HOURS.get(account.plan.kind, 1.0) * share
        artist = account.plan.artist or state.book.workshop.artist
        left[artist] = left.get(artist, 0.0) + hours
    an_hour = Pace(1.0, 0.0, math.inf, 0.0, "stated")
    week: Hours = hours_a_week((), today, state.book.workshop.artist_hours_a_week)
    return [HandWork(artist, hours, _PAINTING_DOUBT * hours, an_hour, week) for artist, hours in left.items() if hours]


def _lines_to(state: BookState, last: int) -> int:
    """Lines still to be written before the page of index ``last`` is, the book being written in order."""
    return sum(page.planned - page.written for page in state.budget.pages[: last + 1])


def skins_wanted(state: BookState, work: WorkLeft) -> list[SkinNeed]:
    """By when skins are needed for the gatherings not yet begun, those in stock used first; none where none is.

    A skin may serve two gatherings, so each is asked for with the first of them; the flyleaves' come with the last.
    All of them together are the skins of the order, so that plan, pace and skins give one count.
    """
    return skins_needed(work, _skins_wanting(state), math.fsum(skin_steps(state.book).values()))


def _skins_waited_for(state: BookState) -> float | None:
    """Lines until the hands come to skins that are not there; None where none are wanting or skins are not recorded."""
    wanting = _skins_wanting(state) if any(batches_of(state.ledger)) else []
    return wanting[0][1] if wanting else None


def _skins_wanting(state: BookState) -> list[tuple[int, float]]:
    """Skins wanting for each gathering not yet begun, and the lines written before the first of them is."""
    order = skin_order(state)
    if order is None or not order.cutting.count:
        return []
    lines, used, sheets, batches = 0, 0, 0, []
    last = state.collation.gatherings[-1].number
    stock = sum(batch.skins for batch, _ in batches_of(state.ledger))
    for gathering in state.collation.gatherings:
        leaves = state.collation.leaf_numbers(gathering.number)
        pages = [at for leaf in leaves for at in (leaf * 2 - 2, leaf * 2 - 1)]
        begun = any(state.record(state.skin_at(at)).placements is not None for at in pages)
        sheets += len(gathering.sheet_numbers())
        upto = skins_to_order(sheets, order.cutting.count, order.spoilage)
        skins = (order.with_flyleaves if gathering.number == last else upto) - used
        from_stock = min(max(stock - used, 0), skins)
        used += skins
        if not begun and skins > from_stock:
            batches.append((skins - from_stock, float(lines)))
        lines += sum(state.budget.pages[at].planned - state.budget.pages[at].written for at in pages)
    return batches


class LostText(NamedTuple):
    """Words missing before the page at ``before``, the lines they take, and the hand expected to write them."""

    before: int
    words: int
    lines: int
    hand: str


def lost_text(state: BookState) -> list[LostText]:
    """Every such gap, in reading order; what was left out on purpose is a departure and none of them."""
    return [_before(state, index) for index, page in enumerate(state.budget.pages) if page.gap]


def _before(state: BookState, index: int) -> LostText:
    copy, page, hand = state.copy, state.budget.pages[index], state.hand_on(index)
    start = page.start - page.gap
    lines = state.budgeter.caster(hand).lines.count(start, page.start)
    return LostText(index, copy.word(page.start) - copy.word(start), lines, hand)
