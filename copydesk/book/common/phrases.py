"""Days, figures and numbers of things in words, as people say them."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date


MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)


MONTH_FIRST = ("en_US", "en_PH", "en_BZ")
"""Where people say November 25 (CLDR, the long dates of these locales)."""


_SHORT = tuple(month[:3] for month in MONTHS)


WITH_A_COMMA = (
    *("af", "az", "be", "bg", "bs", "ca", "cs", "da", "de", "el", "es", "et", "eu", "fi", "fo", "fr", "gl", "hr", "hu"),
    *("hy", "id", "is", "it", "ka", "kk", "ky", "lb", "lt", "lv", "mk", "nb", "nl", "nn", "no", "pl", "pt", "ro", "ru"),
    *("sk", "sl", "sq", "sr", "sv", "tr", "uk", "uz", "vi"),
)
"""Languages that write a comma before the decimals (CLDR, symbols-numberSystem-latn)."""

WITH_A_POINT = (
    *("de_CH", "de_LI", "it_CH", "es_MX", "es_US", "es_PR", "es_GT", "es_HN", "es_NI", "es_PA", "es_PE", "es_SV"),
    *("es_DO", "es_CU"),
)
"""Where people who speak one of these write a point all the same (CLDR)."""


class Speech(NamedTuple):
    """How days and figures are said.

    Whether the month goes first (None where nobody knows), the months, and those in short; the mark before the
    decimals, and the one between thousands.
    """

    month_first: bool | None = None
    months: tuple[str, ...] = MONTHS
    short_months: tuple[str, ...] = _SHORT
    point: str = "."
    thousands: str = ","


_speech = [Speech()]
"""How this run of the program says days and figures: the one thing here that is not a function of its arguments."""


def speak_as(locale: str, figures: str = "") -> None:
    """Say days from now on as people of ``locale`` do, as in ``en_US.UTF-8``: in their order, with their months.

    Months are English where the system does not have the locale; the day goes before the month where it is unknown.
    Figures are said as in the locale ``figures``: with a decimal comma where people write one, thousands then with
    a space between, as ISO 80000-1 has it, since a point there would be a decimal point to others.
    """
    name = _name_of(locale)
    is_known = name not in ("", "C", "POSIX")
    named = _months_of(locale) if is_known and not name.startswith("en") else ()
    has_comma = _name_of(figures).partition("_")[0] in WITH_A_COMMA and _name_of(figures) not in WITH_A_POINT
    months, short_months = named or (MONTHS, _SHORT)
    marks = (",", "\u00a0") if has_comma else (".", ",")
    _speech[0] = Speech(name in MONTH_FIRST if is_known else None, months, short_months, *marks)


def _name_of(locale: str) -> str:
    """Language and country of a locale, as ``de_CH`` of ``de_CH.UTF-8@euro``."""
    return locale.partition(".")[0].partition("@")[0]


def _months_of(name: str) -> tuple[tuple[str, ...], ...]:
    import locale

    before = locale.setlocale(locale.LC_TIME)
    try:
        locale.setlocale(locale.LC_TIME, name)
        return tuple(
            tuple(locale.nl_langinfo(getattr(locale, f"{sort}_{at}")).strip(" .") for at in range(1, 13))
            for sort in ("MON", "ABMON")
        )
    except (locale.Error, AttributeError):  # not on this system
        return ()
    finally:
        locale.setlocale(locale.LC_TIME, before)


def month_first() -> bool | None:
    """Whether people here write the month before the day; None where nobody knows."""
    return _speech[0].month_first


def month_name(month: int, *, short: bool = False) -> str:
    """What the month with this number, from 1, is called."""
    return (_speech[0].short_months if short else _speech[0].months)[month - 1]


def month_called(name: str) -> int | None:
    """The number of the month called so, in full or by at least three letters; None where none is, or several are."""
    wanted = name.casefold().rstrip(".")
    known = (MONTHS, _speech[0].months, _speech[0].short_months)
    found = {at for months in known for at, month in enumerate(months, 1) if month.casefold().startswith(wanted)}
    exact = {at for months in known for at, month in enumerate(months, 1) if month.casefold() == wanted}
    found = exact or (found if len(wanted) > 2 else set())
    return found.pop() if len(found) == 1 else None


def day_and_month(day: int, month: str) -> str:
    """A day and its month, in the order people say them."""
    return f"{month} {day}" if month_first() else f"{day} {month}"


def _with_year(said: str, year: int) -> str:
    return f"{said}, {year}" if month_first() else f"{said} {year}"


def say_day(day: date, today: date | None = None) -> str:
    """A day as ``25 November``; with its year where that is not this year's, or no today is given."""
    said = day_and_month(day.day, month_name(day.month))
    return said if today is not None and day.year == today.year else _with_year(said, day.year)


def say_short(day: date, today: date | None = None) -> str:
    """A day in little room: ``25 Nov``, with its year where that is not this year's, or no today is given."""
    said = day_and_month(day.day, month_name(day.month, short=True))
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


def with_marks(said: str) -> str:
    """A figure as programs write it, ``1,234.5``, with the marks that people here write in it."""
    return said.translate({ord("."): _speech[0].point, ord(","): _speech[0].thousands})


def decimal(number: float, places: int | None = None) -> str:
    """A figure for people, with so many decimals; without ``places`` as short as says it to six digits: ``33.8``."""
    return with_marks(f"{number:g}" if places is None else f"{number:.{places}f}")


def grouped(number: float) -> str:
    """A number for people, its thousands grouped: ``7``, ``0.5``, ``11,576``; at most three decimals."""
    return with_marks(f"{number:,}" if isinstance(number, int) else f"{round(number, 3):,}".removesuffix(".0"))


def count_of(number: float, noun: str, nouns: str = "") -> str:
    """``1 day``, ``2 days``, ``0.5 days``, ``11,576 lines``; ``nouns`` for a plural that does not end in s."""
    return f"{grouped(number)} {noun if number == 1 else nouns or f'{noun}s'}"


def listed(parts: Sequence[str]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    return " and ".join([", ".join(parts[:-1]), parts[-1]]) if len(parts) > 1 else "".join(parts)


def capital(said: str) -> str:
    """``said`` as a sentence begins, its first letter a capital."""
    return f"{said[:1].upper()}{said[1:]}"
