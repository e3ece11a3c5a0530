"""Lengths shown in millimetres, centimetres or inches. Inside the program all are millimetres."""

from __future__ import annotations

from typing import Literal

from copydesk.book.common.phrases import with_marks

Unit = Literal["mm", "cm", "in"]
"""The units a book may be shown in."""

MM_PER: dict[Unit, float] = {"mm": 1.0, "cm": 10.0, "in": 25.4}
"""Millimetres in one of each unit; the inch by the international yard agreement of 1959."""

LENGTH_PLACES = 6
"""Places of a millimetre that a length of the plan keeps, as it is read and as it is worked out."""

_PLACES: dict[Unit, int] = {"mm": 2, "cm": 3, "in": 3}
AS_MEASURED: dict[Unit, int] = {"mm": 0, "cm": 1, "in": 2}
"""Places of a figure that somebody will measure with a rule, such as the size of a picture."""


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
    return "0" if text == "-0" else with_marks(text)
