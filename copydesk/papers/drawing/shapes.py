"""A drawing as plain values: lines, boxes, rings and words in millimetres from its upper left corner.

What is drawn is worked out once; the modules ``svg`` and ``tiling`` beside this one put it on paper.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

Pen = Literal[
    "edge",
    "fold",
    "bounding",
    "ruled",
    "pale",
    "written",
    "column",
    "here",
    "words",
    "prick",
    "space",
    "flaw",
    "bar",
    "sheet",
    "turned",
    "crease",
    "cut",
    "order",
    "join",
]
Align = Literal["start", "middle", "end"]


class Look(NamedTuple):
    """How a pen draws: its width in mm, colour, dashes in mm (empty: unbroken) and what it fills a shape with."""

    width: float
    colour: str
    dashes: tuple[float, ...] = ()
    fill: str | None = None


INK = "#26211c"
RED = "#a6261d"

LOOKS: dict[Pen, Look] = {
    "edge": Look(0.3, INK),
    "fold": Look(0.5, INK, (3, 1.5)),
    "bounding": Look(0.2, "#46566b"),
    "ruled": Look(0.12, "#6f7f92"),
    "pale": Look(0.1, "#b4bfcc"),
    "column": Look(0.1, "#b4bfcc", (), "#ffffff"),
    "here": Look(0.2, "#8a6a35", (), "#d8bf8a"),
    "words": Look(0.05, "#c9c5bd", (), "#c9c5bd"),
    "written": Look(0.1, "#d9d9d4", (), "#ecebe6"),
    "prick": Look(0.18, RED),
    "space": Look(0.25, "#8a6a35", (2, 1), "#f6efdf"),
    "flaw": Look(0.25, RED, (0.8, 0.8), "#efe6e2"),
    "bar": Look(0.25, INK),
    "sheet": Look(0.1, "#b9ab8d", (), "#f6efdf"),
    "turned": Look(0.1, "#9fb0c2", (), "#e6ebf0"),
    "crease": Look(0.15, "#7d7468", (0.6, 0.9)),
    "cut": Look(0.35, RED),
    "order": Look(0.2, RED, (), "#ffffff"),
    "join": Look(0.2, RED),
}


class DrawnLine(NamedTuple):
    """A straight line between two points."""

    x1: float
    y1: float
    x2: float
    y2: float
    pen: Pen


class Box(NamedTuple):
    """A rectangle, filled where its pen fills."""

    left: float
    top: float
    width: float
    height: float
    pen: Pen


class Ring(NamedTuple):
    """A small circle."""

    x: float
    y: float
    radius: float
    pen: Pen


class Words(NamedTuple):
    """One line of text of ``size`` mm on its baseline; ``upward`` turns it to be read from the right.

    Where ``wide`` is not 0 its letters are made narrower or wider, so that it takes so many mm.
    """

    x: float
    y: float
    text: str
    size: float
    align: Align = "start"
    strong: bool = False
    upward: bool = False
    wide: float = 0.0
    colour: str = INK


Mark = DrawnLine | Box | Ring | Words


class Drawing(NamedTuple):
    """A drawing's title, its size in mm, and its marks in the order they are drawn."""

    title: str
    width: float
    height: float
    marks: tuple[Mark, ...]


BOX, TICKED = "[ ]", "[x]"
"""What is to be ticked with the pen, and what was ticked already."""

BLANK = "________________"
"""Room for a word to be written in."""


class SmallDrawing(NamedTuple):
    """A small drawing that stands among words, in the cell of a table: its size in mm and its marks."""

    width: float
    height: float
    marks: tuple[Mark, ...]


def reach(mark: Mark) -> tuple[float, float, float, float]:
    """The left, upper, right and lower bounds of a mark, generous for words, to tell whether a part of it shows."""
    if isinstance(mark, DrawnLine):
        return min(mark.x1, mark.x2), min(mark.y1, mark.y2), max(mark.x1, mark.x2), max(mark.y1, mark.y2)
    if isinstance(mark, Box):
        return mark.left, mark.top, mark.left + mark.width, mark.top + mark.height
    spread = mark.radius if isinstance(mark, Ring) else max(len(mark.text) * mark.size, mark.wide)
    return mark.x - spread, mark.y - spread, mark.x + spread, mark.y + spread


def lowered(mark: Mark, down: float, across: float = 0.0) -> Mark:
    """The mark so much further down, and to the right."""
    if isinstance(mark, DrawnLine):
        return DrawnLine(mark.x1 + across, mark.y1 + down, mark.x2 + across, mark.y2 + down, mark.pen)
    if isinstance(mark, Box):
        return mark._replace(left=mark.left + across, top=mark.top + down)
    return mark._replace(x=mark.x + across, y=mark.y + down)
