"""All that is left to do on a book, put together from plan and ledger, and the forecast for it.

What is written must be checked, and mostly by the same hands: so each hand's share of the checking is counted in
its hours, as lines of writing that take as long. The hands are assumed to check in proportion to their hours.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report
from copydesk.book.common.phrases import count_of, grouped, say_day, say_left
from copydesk.book.materials.skin_cutting import skins_to_order
from copydesk.tracking.fit.book_end import left_by_hand
from copydesk.tracking.ledger.timestamps import moment
from copydesk.tracking.planning.forecast import (
    FORECAST,
    Finish,
    Forecast,
    HandWork,
    SkinNeed,
    WorkLeft,
    forecast,
    skins_needed,
)
from copydesk.tracking.planning.working_days import WorkingDays
from copydesk.tracking.scribes.pace import Hours, Pace, hours_a_week, pace_of
from copydesk.tracking.scribes.sittings import checking_sittings, sittings_of
from copydesk.tracking.views.skin_batches import batches_of
from copydesk.tracking.views.skin_order import skin_order, skin_steps
from copydesk.tracking.views.space_view import space_accounts

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence
    from datetime import date

    from copydesk.tracking.fit.book_end import Ending
    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.planning.forecast import Needed
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

_PAINTING_DOUBT = 0.3
"""How far the artist's hours may be off, as a share of them. Our own judgement."""


class Outlook(NamedTuple):
    """The forecast of a day, the work it rests on, and by when skins are needed for gatherings not yet begun.

    ``lost`` is the text that stands on no page, whose lines the work holds.
    """

    today: date
    work: WorkLeft
    forecast: Forecast
    skins: tuple[SkinNeed, ...]
    lost: tuple[LostText, ...] = ()


def _of_forecast(column: Column[Forecast]) -> Column[Outlook]:
    return Column(column.key, column.cell, column.says, lambda seen: column.raw(seen.forecast), of=column.of)


def _guessed(seen: Outlook) -> dict[str, object]:
    return {
        "lines_an_hour": [task.hand for task in seen.work.writing if task.pace.source == "guess"],
        "hours_a_week": [task.hand for task in seen.work.writing if task.hours.source == "guess"],
    }


SKIN_NEEDS: Report[SkinNeed] = Report(
    "forecast, skins",
    "Skins for gatherings not yet begun.",
    (
        Column("skins", Cell.NUMBER, "skins"),
        Column("needed_by", Cell.DAY, "when they are needed", lambda need: need.needed_by.isoformat()),
        Column("begin_by", Cell.DAY, "when their making must begin", lambda need: need.begin_by.isoformat()),
    ),
)
OUTLOOK: Report[Outlook] = Report(
    "forecast",
    "When the book will be written, checked and whole.",
    (
        *map(_of_forecast, FORECAST),
        Column("guessed", Cell.OBJECT, "hands whose lines_an_hour or hours_a_week nobody gave or measured", _guessed),
        Column("skins", Cell.ROWS, "by when skins are needed", of=SKIN_NEEDS),
        Column(
            "words_on_no_page",
            Cell.NUMBER,
            "words that stand on no page and must be written again",
            lambda seen: sum(each.words for each in seen.lost),
        ),
    ),
    rows=False,
)


def outlook(state: BookState, today: date, chance_text_fits: float | None = None) -> Outlook:
    """What is to be expected of the book, seen from ``today``."""
    lost = lost_text(state)
    work = work_left(state, today, lost)
    found = forecast(work, state.book.exemplar.due, chance_text_fits)
    if not lost:
        found = _as_recorded(state, found)
    return Outlook(today, work, found, tuple(skins_wanted(state, work)), tuple(lost))


def working_days(state: BookState) -> WorkingDays:
    """The workshop's week and its days off."""
    workshop = state.book.workshop
    return WorkingDays(frozenset(workshop.weekdays), frozenset(workshop.days_off))


def work_left(state: BookState, today: date, lost: Sequence[LostText]) -> WorkLeft:
    """All that is left to do from ``today`` on, the text that stands on no page (``lost``) included."""
    days = working_days(state)
    sittings = sittings_of(state)
    left = {each.hand: each for each in left_by_hand(state)}
    lost_lines = sum(each.lines for each in lost)
    waiting = [(each, each.page) for each in space_accounts(state) if each.waiting and each.page is not None]
    writing, hours = [], {}
    for hand in state.book.hands:
        own = [each for each in sittings if each.hand == hand.id]
        hours[hand.id] = hours_a_week(own, today, hand.hours_a_week)
        lines, sd = (left[hand.id].lines, left[hand.id].sd) if hand.id in left else (0, 0.0)
        lines += sum(each.lines for each in lost if each.hand == hand.id)
        writing.append(HandWork(hand.id, lines, sd, pace_of(own, hand.lines_an_hour), hours[hand.id]))
    return WorkLeft(
        start=days.first_from(today) or today,
        days=days,
        writing=tuple(writing),
        checking=tuple(_checking(state, writing, lost_lines)),
        painting=tuple(_painting(state, today, [account for account, _ in waiting])),
        drying_days=state.book.workshop.drying_days,
        lines_to_spaces=float(_lines_to(state, max((page.index for _, page in waiting), default=-1))),
    )


def _checking(state: BookState, writing: list[HandWork], lost_lines: int) -> list[HandWork]:
    """For each hand its writing and its share of the checking together, in lines of writing."""
    unchecked = sum(
        max(page.planned, page.written)
        for index, page in enumerate(state.budget.pages)
        if not state.record(state.skin_at(index)).checked_by
    )
    unchecked += state.budget.lines_without_room + lost_lines
    if not unchecked:
        return []
    pace = checking_pace(state)
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
    ledger = state.ledger
    checks = (entry for entry in ledger if entry.what == "checked" and entry.subject[0] == "page")
    entries = (entry for entry in checks if not ledger.is_void(entry.entry))

    def lines_of(entry: Entry) -> int:
        return state.record(entry.skin).written

    return pace_of(checking_sittings(entries, lines_of), state.book.workshop.check_lines_an_hour)


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
    return skins_needed(work, batches, math.fsum(skin_steps(state.book).values()))


def _as_recorded(state: BookState, found: Forecast) -> Forecast:
    """What is done already was done on the day it was recorded, not today; for a book of which no text is lost."""
    records = [state.record(state.skin_at(index)) for index in range(len(state.budget.pages))]
    pages = [record for record, page in zip(records, state.budget.pages, strict=True) if page.planned]
    if not pages or state.budget.lines_without_room:
        return found
    if all(record.whole for record in pages):
        found = replace(found, written=_on([record.stints[-1].at for record in pages], found.written))
        if all(record.checked_by for record in pages):
            found = replace(found, checked=_on([record.checked_at for record in pages], found.checked))
    return found


def _on(times: Iterable[str], otherwise: Finish) -> Finish:
    """The day of the last of these times; ``otherwise`` where one is no time."""
    days = [read.date() if (read := moment(at)) is not None else None for at in times]
    known = [day for day in days if day is not None]
    if not known or len(known) < len(days):
        return otherwise
    day = max(known)
    return Finish(day, day, day)


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


def outlook_sentences(seen: Outlook, end: Ending) -> Iterator[str]:
    """What is to be expected, a sentence a line."""
    today, found = seen.today, seen.forecast
    yield f"Written   {finish_words(found.written, today)}"
    if seen.lost:
        yield f"Wanting   {lost_words(seen)}"
    yield f"Checked   {finish_words(found.checked, today)}"
    if found.painted is not None:
        yield f"Painted   {finish_words(found.painted, today)}"
        if any(task.hours.source == "guess" for task in seen.work.painting):
            yield f"Artist    {artist_words(seen)}"
    yield f"Whole     {finish_words(found.whole, today)}"
    yield f"Exemplar  {due_words(seen)}"
    if found.needed is not None and found.chance_by_due is not None and found.chance_by_due < found.needed.chance:
        yield f"Needed    {needed_words(found.needed)}"
    yield from (f"Guessed   {words}" for words in guessed_words(seen))
    yield f"End       {end_words(end)}"
    for need in seen.skins:
        begin = f"begin by {say_day(need.begin_by, today)}{'' if need.begin_by >= today else ', which is past'}"
        yield f"Skins     {count_of(need.skins, 'skin')} by {say_day(need.needed_by, today)}: {begin}"


RANGES = "Brackets hold the 80 % range of the day, or of the lines."


def finish_words(finish: Finish, today: date) -> str:
    """``about 9 March 2027 (2 March to 20 March)``: expected, and its 80 % range."""
    if finish.expected is None:
        return "no date: nothing is written yet, or no hours a week are given"
    expected = say_day(finish.expected, today)
    if finish.low == finish.high:
        return f"on {expected}"
    low = say_day(finish.low, today) if finish.low else "now"
    high = say_day(finish.high, today) if finish.high else "no known date"
    return f"about {expected} ({low} to {high})"


def lost_words(seen: Outlook) -> str:
    """How much of the text is on no page; the forecast counts it as still to be written."""
    words, lines = (sum(getattr(each, name) for each in seen.lost) for name in ("words", "lines"))
    stands = "stands" if words == 1 else "stand"
    return f"{count_of(words, 'word')} of the text {stands} on no page: {count_of(lines, 'line')} still to write"


def artist_words(seen: Outlook) -> str:
    """The hours assumed for the artist where none are given, and where to give them."""
    hours = count_of(seen.work.painting[0].hours.a_week, "hour")
    return f"{hours} a week guessed; give artist_hours_a_week: under workshop:"


def guessed_words(seen: Outlook) -> Iterator[str]:
    """For each hand that has lines left: which of its figures nobody gave and no sitting has shown yet."""
    for task in seen.work.writing:
        pace = [count_of(task.pace.lines_an_hour, "line") + " an hour"] * (task.pace.source == "guess")
        hours = [count_of(task.hours.a_week, "hour") + " a week"] * (task.hours.source == "guess")
        if task.lines and (pace or hours):
            yield f"{task.hand}: {', '.join(pace + hours)}, until given under hands: or timed"


def due_words(seen: Outlook) -> str:
    """The exemplar's due date and the chance that all is checked by then."""
    found = seen.forecast
    if found.due is None or found.chance_by_due is None:
        return "no date is set for its return"
    if found.due < seen.today:
        return f"was due on {say_day(found.due, seen.today)}, {say_left((found.due - seen.today).days)}"
    return f"due on {say_day(found.due, seen.today)}: chance to be checked by then {_chance(found.chance_by_due)}"


def needed_words(needed: Needed) -> str:
    """What would meet the due date: hours a week by hand, or a pace."""
    hours = ", ".join(f"{hand} {count_of(each, 'hour')} a week" for hand, each in needed.hours_a_week.items())
    pace = ", ".join(f"{hand} {count_of(each, 'line')} an hour" for hand, each in needed.lines_an_hour.items())
    said = f"for a chance of {needed.chance:.0%}, {needed.times:g} times the hours of now"
    return f"{said}: {hours}; or in the hours of now {pace}" if hours else said


def end_words(end: Ending) -> str:
    """The chance that the text fits the sheets in hand, and the lines left blank."""
    blank = end.blank_lines
    said = f"chance that it fits {_chance(end.chance_text_fits)}"
    if blank.expected < 0:
        over = max(-round(blank.expected), 1)
        return f"{said}; {count_of(over, 'line')} {'has' if over == 1 else 'have'} no room yet"
    low, high = round(blank.low), round(blank.high)
    span = f"{grouped(low)} to {grouped(high)}" if low >= 0 else f"{grouped(-low)} short to {grouped(high)} to spare"
    return f"{said}; {count_of(round(blank.expected), 'line')} left blank ({span})"


def _chance(chance: float) -> str:
    """A chance in hundredths; never quite sure, nor quite impossible, where it is not."""
    if 0.995 <= chance < 1.0:
        return "more than 99%"
    return "less than 1%" if 0.0 < chance < 0.005 else f"{chance:.0%}"
