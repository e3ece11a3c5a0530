"""The stages of work in a reserved space, declared once: a stage more is one row of ``Stage``."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping


class Stage(StrEnum):
    """A stage of work in a space.

    The rows stand in the commoner order: gold laid and burnished, colour, and last the outline (S. Farnsworth,
    *Illumination*, 1922, ch. XVIII). The turn with colour first has gold after colour, which keeps the gold from
    being dimmed by breath and warmth (Graily Hewitt, appendix to E. Johnston, *Writing & Illuminating, & Lettering*,
    1906).

    Attributes:
        to_do: what the artist is asked to do.
        recorded: how the log says that it was done.
        turn_with_colour_first: its place in the order of a workshop that colours before it gilds.
    """

    to_do: str
    recorded: str
    turn_with_colour_first: int

    DRAWN = "drawn", "draw", "drawn", 1
    GILDED = "gilded", "gild", "gilded and burnished", 3
    COLOURED = "coloured", "colour", "coloured", 2
    OUTLINED = "outlined", "outline", "outlined", 4

    def __new__(cls, name: str, to_do: str, recorded: str, turn_with_colour_first: int) -> Stage:
        """A row: the word kept in entries and files, then the attributes."""
        stage = str.__new__(cls, name)
        stage._value_ = name
        stage.to_do, stage.recorded, stage.turn_with_colour_first = to_do, recorded, turn_with_colour_first
        return stage


STAGES: Mapping[str, Stage] = {stage.value: stage for stage in Stage}
"""The stages by name, in the commoner order."""

_ALL = tuple(Stage)
_TWO = (Stage.DRAWN, Stage.COLOURED)

NEEDS: Mapping[str, tuple[Stage, ...]] = {
    "miniature": _ALL,
    "historiated initial": _ALL,
    "decorated initial": _ALL,
    "flourished initial": _TWO,
    "initial": _TWO,
    "border": _ALL,
    "line filler": (Stage.COLOURED,),
    "rubric": (Stage.COLOURED,),
    "contents": (),
}
"""The stages each kind of space goes through, unless its materials or the book say otherwise (common practice).

The room of a list of contents goes through none: it is written in a pass.
"""


def stages_in_order(*, colour_first: bool) -> tuple[Stage, ...]:
    """All stages in the order a workshop works."""
    return tuple(sorted(Stage, key=lambda stage: stage.turn_with_colour_first)) if colour_first else _ALL
