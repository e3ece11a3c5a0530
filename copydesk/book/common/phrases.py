"""Days and numbers of things in words, as people say them."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date


MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)


MONTH_FIRST = ("en_US", "en_PH", "en_BZ")
"""Where people say November 25 (CLDR, the long dates of these locales)."""

_said = {"month_first": False}
"""How this run of the program says days: the one thing here that is not a function of its arguments."""


def speak_as(locale: str) -> None:
    """Say days from now on as people of ``locale`` do, as in ``en_US.UTF-8``; day before month where it is unknown."""
    _said["month_first"] = locale.partition(".")[0] in MONTH_FIRST


def day_and_month(day: int, month: str) -> str:
    """A day and its month, in the order people say them."""
    return f"{month} {day}" if _said["month_first"] else f"{day} {month}"


def _with_year(said: str, year: int) -> str:
    return f"{said}, {year}" if _said["month_first"] else f"{said} {year}"


def say_day(day: date, today: date | None = None) -> str:
    """A day as ``25 November``; with its year where that is not this year's, or no today is given."""
    said = day_and_month(day.day, MONTHS[day.month - 1])
    return said if today is not None and day.year == today.year else _with_year(said, day.year)


def say_short(day: date, today: date | None = None) -> str:
    """A day in little room: ``25 Nov``, with its year where that is not this year's, or no today is given."""
    said = day_and_month(day.day, MONTHS[day.month - 1][:3])
    return said if today is not None and day.year == today.year else _with_year(said, day.year)


def say_days(first: date, last: date) -> str:
    """The days of some work in little room: ``5 Oct to 16 Oct 2026``; one day alone where it began and ended on it."""
    ended = say_short(last)
    if (first.year, first.month, first.day) == (last.year, last.month, last.day):
        return ended
    return f"{say_short(first, last)} to {ended}"


def say_left(days: int) -> str:
    """How far off a day is: ``today``, ``tomorrow``, ``in 5 days``, ``5 days ago``."""
    near = {0: "today", 1: "tomorrow", -1: "yesterday"}
    return near.get(days) or (f"in {days} days" if days > 0 else f"{-days} days ago")


def grouped(number: float) -> str:
    """A number for people, its thousands grouped: ``7``, ``0.5``, ``11,576``; at most three decimals."""
    return f"{number:,}" if isinstance(number, int) else f"{round(number, 3):,}".removesuffix(".0")


def count_of(number: float, noun: str, nouns: str = "") -> str:
    """``1 day``, ``2 days``, ``0.5 days``, ``11,576 lines``; ``nouns`` for a plural that does not end in s."""
    return f"{grouped(number)} {noun if number == 1 else nouns or f'{noun}s'}"


def listed(parts: Sequence[str]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    return " and ".join([", ".join(parts[:-1]), parts[-1]]) if len(parts) > 1 else "".join(parts)


def capital(said: str) -> str:
    """``said`` as a sentence begins, its first letter a capital."""
    return f"{said[:1].upper()}{said[1:]}"
