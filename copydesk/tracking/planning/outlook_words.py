"""The forecast and the book's end in sentences."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of, say_day

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import date

    from copydesk.tracking.fit.book_end import Ending
    from copydesk.tracking.planning.forecast import Finish, Needed
    from copydesk.tracking.planning.outlook import Outlook


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


RANGES = "Ranges in brackets hold the day, or the lines, four times in five."


def finish_words(finish: Finish, today: date) -> str:
    """``about 9 March 2027 (2 March to 20 March)``: expected, and the range that holds it four times in five."""
    if finish.expected is None:
        return "no date: nothing is written yet, or no hours a week are given"
    expected = say_day(finish.expected, today)
    if finish.low == finish.high:
        return f"on {expected}"
    low = say_day(finish.low, today) if finish.low else "now"
    high = say_day(finish.high, today) if finish.high else "no known date"
    return f"about {expected} ({low} to {high})"


def lost_words(seen: Outlook) -> str:
    """How much of the text stands on no page, and that it is reckoned in."""
    words, lines = (sum(getattr(each, name) for each in seen.lost) for name in ("words", "lines"))
    stands = "stands" if words == 1 else "stand"
    return f"{count_of(words, 'word')} of the text {stands} on no page: {count_of(lines, 'line')} still to write"


def artist_words(seen: Outlook) -> str:
    """That nobody gave the artist's hours, what was taken in their stead, and where to give them."""
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
    span = f"{low} to {high}" if low >= 0 else f"{-low} without room to {high} blank"
    return f"{said}; {count_of(round(blank.expected), 'line')} left blank ({span})"


def _chance(chance: float) -> str:
    """A chance in hundredths; never quite sure, nor quite impossible, where it is not."""
    if 0.995 <= chance < 1.0:
        return "more than 99%"
    return "less than 1%" if 0.0 < chance < 0.005 else f"{chance:.0%}"
