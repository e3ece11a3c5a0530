"""The grid's screen as it last stood, kept so that the next opening shows it while the book is read."""

from __future__ import annotations

from typing import NamedTuple


class Picture(NamedTuple):
    """The grid's lines as pieces of text and tone, the panel's lines, what was said, the keys of the foot.

    It fits a terminal of ``width`` by ``height`` cells only.
    """

    width: int
    height: int
    grid: list[list[tuple[str, str]]]
    panel: list[list[object]]
    said: str
    keys: list[str]


def picture_from(data: object) -> Picture | None:
    """A picture from what was kept; None where it is not one."""
    if not isinstance(data, dict) or set(data) != set(Picture._fields):
        return None
    try:
        grid = [[(str(text), str(tone)) for text, tone in row] for row in data["grid"]]
        panel = [[str(head), str(says), bool(wrong)] for head, says, wrong in data["panel"]]
        keys = [str(key) for key in data["keys"]]
        return Picture(int(data["width"]), int(data["height"]), grid, panel, str(data["said"]), keys)
    except (TypeError, ValueError):
        return None
