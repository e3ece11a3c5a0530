"""Lengths as people write them, in millimetres, centimetres or inches. Inside the program all are millimetres."""

from __future__ import annotations

import math
import re
import unicodedata
from typing import Literal

from copydesk.book.common.errors import CopydeskError, InvalidValueError

Unit = Literal["mm", "cm", "in"]
"""The units a book may be shown in."""

MM_PER: dict[Unit, float] = {"mm": 1.0, "cm": 10.0, "in": 25.4}
"""Millimetres in one of each unit; the inch by the international yard agreement of 1959."""

LONGEST_MM = 10_000.0
"""No page or skin is longer than ten metres; a figure past it is a slip of the pen."""

_SPELLINGS: dict[str, Unit] = {
    **dict.fromkeys(("", "mm", "millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), "cm"),
    **dict.fromkeys(("in", "inch", "inches", '"', "″"), "in"),
}
_LENGTH = re.compile(
    r"(?:(?:(?P<whole>[0-9]+)[ -]+)?(?P<over>[0-9]+)/(?P<under>[0-9]+)|(?P<decimal>[0-9]+(?:\.[0-9]*)?|\.[0-9]+))"
    r" *(?P<unit>[^0-9 /.,+-]*)\.?"
)
_ONE_SIGN_FRACTION = re.compile("[¼½¾⅐-⅞]")
_PLACES: dict[Unit, int] = {"mm": 2, "cm": 3, "in": 3}
AS_MEASURED: dict[Unit, int] = {"mm": 0, "cm": 1, "in": 2}
"""Places of a figure that somebody will measure with a rule, such as the size of a picture."""


def parse_length(value: object) -> float:
    """Read a length and give it in millimetres.

    A bare number is millimetres. A text may say its unit and may hold a fraction: ``7 in``, ``18 cm``,
    ``7 1/2 in``, ``7½ in``, ``170 mm``.

    Raises:
        CopydeskError: where it is no length, is below nothing, or is beyond ten metres.
    """
    if isinstance(value, int | float) and not isinstance(value, bool):
        return _in_reason(float(value), value)
    if isinstance(value, str):
        return _in_reason(_from_text(value), value)
    raise _not_a_length(value)


def unit_said(text: str) -> Unit:
    """The unit that a length is written in; millimetres where it says none."""
    sign = text.rstrip(" .").lstrip("0123456789 ./-⁄¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞").lower()
    return _SPELLINGS.get(sign, "mm")


def show_length(length: float, unit: Unit = "mm", places: int | None = None) -> str:
    """A length in millimetres as people read it in ``unit``: ``53.33 mm``, ``17.78 cm``, ``7 in``."""
    return f"{_figure(length, unit, places)} {unit}"


def show_size(width: float, height: float, unit: Unit = "mm", places: int | None = None) -> str:
    """Width by height, the unit once: ``170 × 240 mm``."""
    return f"{_figure(width, unit, places)} × {_figure(height, unit, places)} {unit}"


def _figure(length: float, unit: Unit, places: int | None = None) -> str:
    places = _PLACES[unit] if places is None else places
    text = f"{length / MM_PER[unit]:.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def _from_text(text: str) -> float:
    spaced = _ONE_SIGN_FRACTION.sub(lambda sign: f" {unicodedata.normalize('NFKC', sign[0])}", text)
    found = _LENGTH.fullmatch(" ".join(spaced.replace("⁄", "/").split()))
    unit = _SPELLINGS.get(found["unit"].lower()) if found else None
    if found is None or unit is None:
        raise _not_a_length(text)
    if found["decimal"]:
        return round(float(found["decimal"]) * MM_PER[unit], 6)
    if int(found["under"]) == 0:
        raise _not_a_length(text)
    return round((int(found["whole"] or 0) + int(found["over"]) / int(found["under"])) * MM_PER[unit], 6)


def _in_reason(length: float, said: object) -> float:
    if not math.isfinite(length):
        raise _not_a_length(said)
    if length < 0:
        raise InvalidValueError(f"{said!r} is less than nothing; a length is 0 or more")
    if length > LONGEST_MM:
        raise InvalidValueError(f"{said!r} is longer than ten metres; look at its unit (a bare number is millimetres)")
    return length


def _not_a_length(said: object) -> CopydeskError:
    return InvalidValueError(
        f"{said!r} is not a length; write millimetres, or say the unit, as in 170, 18 cm, 7 in or 7 1/2 in"
    )
