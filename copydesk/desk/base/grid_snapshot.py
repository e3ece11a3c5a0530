"""The grid's screen as it last stood, kept so that the next opening shows it while the book is read."""

from __future__ import annotations

from typing import NamedTuple


class Picture(NamedTuple):
    """The lines of title, grid and panel as pieces of text and tone, what was said, the keys of the foot.

    It fits a terminal of ``width`` by ``height`` cells only. ``wide`` and ``high`` are the panel's cells beside or
    below the grid.
    """

    width: int
    height: int
    wide: int
    high: int
    title: list[list[tuple[str, str]]]
    grid: list[list[tuple[str, str]]]
    panel: list[list[tuple[str, str]]]
    said: str
    keys: list[str]


def picture_from(data: object) -> Picture | None:
    """A picture from what was kept; None where it is not one."""
    if not isinstance(data, dict) or set(data) != set(Picture._fields):
        return None
    try:
        title, grid, panel = (
            [[(str(text), str(tone)) for text, tone in row] for row in data[part]]
            for part in ("title", "grid", "panel")
        )
        width, height, wide, high = (int(data[name]) for name in ("width", "height", "wide", "high"))
        keys = [str(key) for key in data["keys"]]
        return Picture(width, height, wide, high, title, grid, panel, str(data["said"]), keys)
    except (TypeError, ValueError):
        return None
