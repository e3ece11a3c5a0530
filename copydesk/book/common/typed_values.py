"""What people type, read the same everywhere: whole numbers, numbers, minutes, hours, lengths and days.

Forms, the line desk, the command line, the set-up and ``book.yaml`` all read through these functions. Each refuses
what it cannot read with one sentence that names the field (``what``) and gives an example; it never guesses.
"""

from __future__ import annotations

import math
import re
import unicodedata
from typing import TYPE_CHECKING, Literal, TypeVar

from copydesk.book.common.errors import InvalidValueError
from copydesk.book.common.phrases import decimal, month_called, month_first
from copydesk.book.common.units import LENGTH_PLACES, MM_PER, Unit

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import date

Value = TypeVar("Value")

LONGEST_MM = 10_000.0
"""No page or skin is longer than ten metres; a larger number is a typing mistake."""

MOST_MINUTES = 100_000
"""Some seventy days without a pause; a larger number is a typing mistake."""

FIRST_YEAR, LAST_YEAR = 1900, 2999
"""No work on a book falls outside these years."""

DAY = re.compile(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})")
"""Year, month and day."""

_MONTH = r"[^\W\d_]+\.?"
_NAMED_DAY = re.compile(
    rf"(?:(?P<day>[0-9]{{1,2}})\.? (?:de )?(?P<month>{_MONTH})|(?P<first>{_MONTH}) (?P<second>[0-9]{{1,2}})) (?:de )?"
    r"(?P<year>[0-9]{4})"
)
_FIGURED_DAY = re.compile(r"([0-9]{1,2})([./]) ?([0-9]{1,2})\2 ?([0-9]{4})")
_WHOLE = re.compile(r"\+?[0-9]{1,12}")
_NUMBER = r"(?:[0-9]{1,12}(?:[.,][0-9]{0,20})?|[.,][0-9]{1,20})"
_SIGNED = re.compile(rf"\+?{_NUMBER}")
_THOUSANDS = re.compile(r"\+?[1-9][0-9]{0,2},[0-9]{3}")
_DURATION = re.compile(rf"({_NUMBER}) *(|m|min|mins|minutes?|h|hrs?|hours?)\.?")
_HOURS_AND_MINUTES = re.compile(
    r"([0-9]{1,5}) *(?:: *([0-5][0-9])|(?:h|hrs?|hours?) *([0-5]?[0-9]))(?: *(?:m|min|mins|minutes?))?\.?"
)
_SPELLINGS: dict[str, Unit] = {
    **dict.fromkeys(("", "mm", "millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), "cm"),
    **dict.fromkeys(("in", "inch", "inches", '"', "″"), "in"),
}
_LENGTH = re.compile(
    rf"(?:(?:(?P<whole>[0-9]+)[ -]+)?(?P<over>[0-9]+)/(?P<under>[0-9]+)|(?P<number>{_NUMBER}))"
    r" *(?P<unit>[^0-9 /.,+-]*)\.?"
)
_ONE_SIGN_FRACTION = re.compile("[¼½¾⅐-⅞]")
_LONGEST_SHOWN = 40


def optional(read: Callable[[str, str], Value], text: str, what: str) -> Value | None:
    """What ``read`` makes of ``text``; None where nothing is typed."""
    return read(text, what) if text.strip() else None


def whole_of(text: str) -> int | None:
    """The whole number that is typed, 0 or more, of at most twelve digits; None where it is something else."""
    return int(text) if _WHOLE.fullmatch(text.strip()) else None


def number_of(text: str) -> float | None:
    """The number that is typed, with a decimal point or comma (``7.5``, ``7,5``); None where it is something else.

    ``1,000`` is None: it is a thousand to some readers and one to others.
    """
    text = text.strip()
    if not _SIGNED.fullmatch(text) or _THOUSANDS.fullmatch(text):
        return None
    return float(text.replace(",", "."))


def read_whole(text: str, what: str = "") -> int:
    """A whole number, 0 or more.

    Raises:
        InvalidValueError: where it is something else.
    """
    read = whole_of(text)
    if read is None:
        raise _not(text, what, "a whole number", "one in digits, as in 12")
    return read


def read_wholes(text: str, what: str = "") -> tuple[int, ...]:
    """Whole numbers with commas between, as ``2, 5``; none where nothing is typed.

    Raises:
        InvalidValueError: where it is something else.
    """
    return tuple(read_whole(part, what) for part in text.split(",")) if text.strip() else ()


def read_number(text: str, what: str = "", *, low: float = 0.0, high: float = 1e12) -> float:
    """A number from ``low`` to ``high``.

    Raises:
        InvalidValueError: where it is something else.
    """
    read = number_of(text)
    if read is None:
        raise _not(text, what, "a number", "one in digits, as in 7.5 or 7,5")
    if not low <= read <= high:
        raise InvalidValueError(
            f"{what or 'the number'} cannot be {decimal(read)}; give a number from {decimal(low)} to {decimal(high)}"
        )
    return read


def read_minutes(text: str, what: str = "") -> float:
    """A time in minutes: ``90``, ``90 min``, ``1h30``, ``1:30`` and ``1.5 h`` are all 90.

    Raises:
        InvalidValueError: where it is no time, or is longer than anyone works.
    """
    return _duration(text, what, "min")


def read_hours(text: str, what: str = "") -> float:
    """A time in hours: ``1.5``, ``1,5 h``, ``1h30``, ``1:30`` and ``90 min`` are all 1.5.

    Raises:
        InvalidValueError: where it is no time, or is longer than anyone works.
    """
    return _duration(text, what, "h")


def read_length(value: object, what: str = "") -> float:
    """A length in millimetres.

    A bare number is millimetres. A text may name its unit and may hold a fraction: ``7 in``, ``17,5 cm``,
    ``7 1/2 in``, ``7½ in``, ``170 mm``.

    Raises:
        InvalidValueError: where it is no length, is below 0, or is beyond ten metres.
    """
    length = _length_of(value) if isinstance(value, str) else value
    if isinstance(length, bool) or not isinstance(length, int | float) or not math.isfinite(length):
        raise _not(value, what, "a length", "millimetres, or name the unit, as in 170, 18 cm, 7 in or 7 1/2 in")
    if length < 0:
        raise InvalidValueError(f"{_named(value, what)} is less than nothing; a length is 0 or more")
    if length > LONGEST_MM:
        look = "look at its unit (a bare number is millimetres)"
        raise InvalidValueError(f"{_named(value, what)} is longer than ten metres; {look}")
    return float(length)


def unit_said(text: str) -> Unit:
    """The unit that a length is written in; millimetres where it names none."""
    sign = text.rstrip(" .").lstrip("0123456789 .,/-⁄¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞").lower()
    return _SPELLINGS.get(sign, "mm")


def read_day(text: str, what: str = "") -> date:
    """A day as people type it: ``2027-01-04``, ``4 January 2027``, ``4.1.2027``, or in the order of the locale.

    ``4/1/2027`` is read where the locale tells which of the two is the month. Months are English or the locale's.

    Raises:
        InvalidValueError: where it is something else, or the calendar has no such day.
    """
    said = " ".join(text.replace(",", " ").split())
    if found := _NAMED_DAY.fullmatch(said):
        number = month_called(found["month"] or found["first"]) or 0
        said = f"{found['year']}-{number}-{found['day'] or found['second']}"
    elif (found := _FIGURED_DAY.fullmatch(said)) and (found[2] == "." or month_first() is not None):
        day, month = (found[3], found[1]) if found[2] == "/" and month_first() else (found[1], found[3])
        said = f"{found[4]}-{month}-{day}"
    if (read := plain_day(said)) is None:
        raise _not(text, what, "a day", "year, month and day, as in 2027-01-04 or 4 January 2027")
    return read


def plain_day(text: str) -> date | None:
    """A day written as year, month and day, ``2027-01-04``, as files have it everywhere; None where it is none."""
    from datetime import date

    found = DAY.fullmatch(text.strip())
    try:
        read = date(*map(int, found.groups())) if found else None
    except ValueError:
        return None
    return read if read is not None and FIRST_YEAR <= read.year <= LAST_YEAR else None


def _duration(text: str, what: str, unit: Literal["min", "h"]) -> float:
    """A time in ``unit``, which is also the unit of a bare number."""
    typed, minutes = " ".join(text.lower().split()), None
    if found := _HOURS_AND_MINUTES.fullmatch(typed):
        minutes = 60.0 * int(found[1]) + int(found[2] or found[3])
    elif (found := _DURATION.fullmatch(typed)) and (number := number_of(found[1])) is not None:
        minutes = number * 60 if (found[2] or unit)[0] == "h" else number
    if minutes is None:
        example = "minutes, as in 90, or hours, as in 1h30 or 1.5 h"
        raise _not(text, what, "a time", example if unit == "min" else "hours, as in 1.5, 1h30 or 90 min")
    if minutes > MOST_MINUTES:
        raise InvalidValueError(f"{_named(text, what)} is longer than {MOST_MINUTES} minutes; look at its unit")
    return minutes if unit == "min" else minutes / 60


def _length_of(text: str) -> float | None:
    """Millimetres; None where the text is no length."""
    spaced = _ONE_SIGN_FRACTION.sub(lambda sign: f" {unicodedata.normalize('NFKC', sign[0])}", text)
    found = _LENGTH.fullmatch(" ".join(spaced.replace("⁄", "/").split()))
    unit = _SPELLINGS.get(found["unit"].lower()) if found else None
    if found is None or unit is None:
        return None
    if found["number"]:
        number = number_of(found["number"])
    else:
        under = int(found["under"])
        number = int(found["whole"] or 0) + int(found["over"]) / under if under else None
    return None if number is None else round(number * MM_PER[unit], LENGTH_PLACES)


def _named(said: object, what: str) -> str:
    shown = said[:_LONGEST_SHOWN] if isinstance(said, str) else said
    return f"{what} is {shown!r}, which" if what else f"{shown!r}"


def _not(said: object, what: str, wanted: str, example: str) -> InvalidValueError:
    return InvalidValueError(f"{_named(said, what)} is not {wanted}; write {example}")
