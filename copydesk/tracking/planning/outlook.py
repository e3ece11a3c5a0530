"""What is to be expected of a book: the forecast for the work that is left, for programs and in sentences.

What is done already was done on the day it was recorded; the rest is read off the simulated runs of the work left.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report, one_of, rows_of
from copydesk.book.common.phrases import count_of, decimal, grouped, say_day, say_left
from copydesk.tracking.ledger.timestamps import moment
from copydesk.tracking.planning.forecast import ASSUMED, FORECAST, Finish, Forecast, SkinNeed, forecast
from copydesk.tracking.planning.work_left import LostText, lost_text, skins_wanted, work_left
from copydesk.tracking.planning.work_runs import RUNS, WorkLeft

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from datetime import date

    from copydesk.tracking.fit.book_end import Ending
    from copydesk.tracking.planning.forecast import Needed
    from copydesk.tracking.state.book_state import BookState


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
        "hours_a_week": [task.hand for task in seen.work.writing if task.hours.guessed],
    }


SKIN_NEEDS: Report[SkinNeed] = rows_of(
    "forecast, skins",
    "Skins for gatherings not yet begun.",
    Column("skins", Cell.NUMBER, "skins"),
    Column("needed_by", Cell.DAY, "when they are needed", lambda need: need.needed_by.isoformat()),
    Column("begin_by", Cell.DAY, "when their making must begin", lambda need: need.begin_by.isoformat()),
)
OUTLOOK: Report[Outlook] = one_of(
    "forecast",
    "When the book will be written, checked and whole.",
    *map(_of_forecast, FORECAST),
    Column("guessed", Cell.OBJECT, "hands whose lines_an_hour or hours_a_week nobody gave or measured", _guessed),
    Column(
        "doubted",
        Cell.TEXTS,
        "hands that do not keep the hours stated, or have written nothing for long",
        lambda seen: list(doubted_words(seen)),
    ),
    Column("skins", Cell.ROWS, "by when skins are needed", of=SKIN_NEEDS),
    Column(
        "words_on_no_page",
        Cell.NUMBER,
        "words that stand on no page and must be written again",
        lambda seen: sum(each.words for each in seen.lost),
    ),
)


def outlook(state: BookState, today: date, chance_text_fits: float | None = None) -> Outlook:
    """What is to be expected of the book, seen from ``today``."""
    lost = lost_text(state)
    work = work_left(state, today, lost)
    found = forecast(work, state.book.exemplar.due, chance_text_fits)
    if not lost:
        found = _as_recorded(state, found)
    return Outlook(today, work, found, tuple(skins_wanted(state, work)), tuple(lost))


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
    if found.gone_over is not None:
        yield f"Passes    {finish_words(found.gone_over, today)}"
    yield f"Whole     {finish_words(found.whole, today)}"
    if found.held_by:
        yield f"Held by   {found.held_by}, in most of the runs"
    yield f"Exemplar  {due_words(seen)}"
    if found.needed is not None and found.chance_by_due is not None and found.chance_by_due < found.needed.chance:
        yield f"Needed    {needed_words(found.needed)}"
    yield from (f"Guessed   {words}" for words in guessed_words(seen))
    yield from (f"Doubted   {words}" for words in doubted_words(seen))
    if any(task.lines for task in seen.work.writing):
        waits = "; skins wanting are begun today" if seen.work.lines_to_skins is not None else ""
        yield f"Assumed   {ASSUMED}{waits}"
    yield f"End       {end_words(end)}"
    for need in seen.skins:
        begin = f"begin by {say_day(need.begin_by, today)}{'' if need.begin_by >= today else ', which is past'}"
        yield f"Skins     {count_of(need.skins, 'skin')} by {say_day(need.needed_by, today)}: {begin}"


RANGES = f"Brackets hold the 80 % range of the day, or of the lines; from {grouped(RUNS)} simulated runs."


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
    """For each hand that has lines left: which figures nobody gave, and no two weeks of sittings have shown yet."""
    for task in seen.work.writing:
        pace = [count_of(task.pace.lines_an_hour, "line") + " an hour"] * (task.pace.source == "guess")
        hours = [count_of(task.hours.a_week, "hour") + " a week"] * (task.hours.guessed and not task.hours.covered)
        if task.lines and (pace or hours):
            yield f"{task.hand}: {', '.join(pace + hours)}, until given under hands: or timed"
        if task.lines and task.hours.guessed and task.hours.covered:
            low, high = task.hours.range()
            days = count_of(task.hours.covered, "day")
            said = f"{task.hours.a_week:.0f} hours a week ({low:.0f} to {high:.0f})"
            yield f"{task.hand}: {said}, from {days}; surer after two weeks"


def doubted_words(seen: Outlook) -> Iterator[str]:
    """For each hand with lines left whose hours are not kept as stated, or that is silent, how many it sat."""
    for task in seen.work.writing:
        hours = task.hours
        if not (task.lines and hours.doubted):
            continue
        silent = f"nothing written for {count_of(hours.silent, 'day')}"
        if hours.source != "stated":
            yield f"{task.hand}: {silent}; {decimal(hours.a_week, 1)} hours a week are taken from the days before"
            continue
        sat = f"about {decimal(hours.sat, 1)} in {count_of(max(hours.covered // 7, 1), 'week')} of the record"
        yield f"{task.hand}: {decimal(hours.stated)} hours a week stated, {sat}" + (
            f"; {silent}" if hours.silent > 6 else ""
        )


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
    said = f"for a chance of {needed.chance:.0%}, {decimal(needed.times)} times the hours of now"
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
