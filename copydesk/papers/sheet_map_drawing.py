"""The sheet map drawn: each sheet's outer side on the left and inner side on the right, lying as it lies on the desk.

The hair side is tinted, the flesh side white; the fold is dotted; the half of a leaf that is gone is left out.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.papers.drawing import typesetting as fonts
from copydesk.papers.drawing.shapes import Box, Drawing, DrawnLine, Mark, Words
from copydesk.papers.sheet_map_words import GatheringMap, half_words, sheet_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.sheet_view import HalfAccount, SheetAccount, SideAccount


WIDTH = 190.0
_SIDE, _GAP = 92.0, 6.0  # a side's width, and what parts the two sides, mm
_SIZE, _LEADING, _INSET = 2.3, 3.2, 2.0
_HEAD, _FOOT, _TITLE, _NAME = 6.5, 4.5, 10.0, 6.0
_STUB = 4.0


class _Block(NamedTuple):
    """What is never parted by the end of a page: its height in mm, and its marks from its upper left corner."""

    height: float
    marks: tuple[Mark, ...]


def drawings(state: BookState, maps: list[GatheringMap], title: str, height: float) -> list[Drawing]:
    """The map as drawings at most ``height`` mm high; a gathering goes on over the page under its name."""
    pages: list[list[Mark]] = [list(_title(title))]
    y = _TITLE
    for each in maps:
        heading = _heading(each.heading)
        for at, block in enumerate(_blocks(state, each)):
            if y + block.height + (0.0 if at else heading.height) > height and y > _TITLE:
                pages.append(list(_title(title)))
                y = _TITLE
            if at == 0 or y == _TITLE:
                shown = _heading(f"{each.heading}, continued") if at else heading
                y = _put(pages[-1], shown, y)
            y = _put(pages[-1], block, y)
    return [Drawing(title, WIDTH, _lowest(page), tuple(page)) for page in pages]


def _put(page: list[Mark], block: _Block, top: float) -> float:
    """Put a block down at ``top``; gives where it ends."""
    page += (_lowered(mark, top) for mark in block.marks)
    return top + block.height


def _lowest(page: list[Mark]) -> float:
    ends = [
        mark.top + mark.height if isinstance(mark, Box) else mark.y for mark in page if isinstance(mark, Box | Words)
    ]
    return max(ends, default=_TITLE) + 2.0


def _title(title: str) -> Iterator[Mark]:
    yield Words(0, 5, fonts.fitting(title, 4, WIDTH, fonts.BOLD), 4, strong=True)


def _heading(said: str) -> _Block:
    return _Block(8.0, (Words(0, 5.5, said, 3.2, strong=True),))


def _blocks(state: BookState, each: GatheringMap) -> Iterator[_Block]:
    for sheet in each.sheets:
        yield _sheet(state, sheet)
    for remark in each.remarks:
        yield _Block(4.5, (Words(0, 3.2, fonts.fitting(remark, 2.6, WIDTH), 2.6),))


def _sheet(state: BookState, sheet: SheetAccount) -> _Block:
    sides = (sheet.outer, sheet.inner)
    halves = [half for side in sides for half in (side.left, side.right)]
    tallest = max(len(_wrapped(state, half)) for half in halves)
    height = _HEAD + tallest * _LEADING + _FOOT
    marks: list[Mark] = [Words(0, 3.6, sheet_words(sheet), 2.8, strong=True)]
    for side, left in zip(sides, (0.0, _SIDE + _GAP), strict=True):
        if left:
            marks.append(Words(left, 3.6, f"{side.side} side, {side.surface}", 2.6))
        else:
            marks.append(Words(_SIDE, 3.6, f"{side.side} side, {side.surface}", 2.6, "end"))
        marks += (_lowered(mark, _NAME - 1.0, left) for mark in _side(state, side, height))
    return _Block(height + _NAME + 2.0, tuple(marks))


def _side(state: BookState, side: SideAccount, height: float) -> Iterator[Mark]:
    pen = "sheet" if side.surface.value == "hair" else "edge"
    middle = _SIDE / 2
    for half, left in ((side.left, 0.0), (side.right, middle)):
        if half.page is not None:
            yield Box(left, 0, middle, height, pen)  # type: ignore[arg-type]
        elif half.instead.startswith("a stub"):
            yield Box(middle - _STUB if left == 0.0 else middle, 0, _STUB, height, "crease")
        start = left if half.page is not None or left == 0.0 else middle + _STUB
        yield from _half(state, half, start, height)
    yield DrawnLine(middle, 0, middle, height, "crease")


def _half(state: BookState, half: HalfAccount, left: float, height: float) -> Iterator[Mark]:
    said = half_words(state, half)
    right = left + _SIDE / 2 - _INSET
    room = _room(half)
    yield Words(left + _INSET, 4.4, fonts.fitting(said.label, 3.2, room - 14, fonts.BOLD), 3.2, strong=True)
    yield Words(right, 4.4, said.next_act, _SIZE, "end")
    for number, line in enumerate(_wrapped(state, half), 1):
        yield Words(left + _INSET, _HEAD + number * _LEADING - 0.8, line, _SIZE)
    if said.foot:
        yield Words(right, height - 1.6, fonts.fitting(said.foot, _SIZE, room), _SIZE, "end")


def _wrapped(state: BookState, half: HalfAccount) -> list[str]:
    room = _room(half)
    return [part for line in half_words(state, half).lines for part in fonts.lines(line, _SIZE, room)]


def _room(half: HalfAccount) -> float:
    return _SIDE / 2 - 2 * _INSET - (0.0 if half.page is not None else _STUB)


def _lowered(mark: Mark, down: float, across: float = 0.0) -> Mark:
    if isinstance(mark, DrawnLine):
        return DrawnLine(mark.x1 + across, mark.y1 + down, mark.x2 + across, mark.y2 + down, mark.pen)
    if isinstance(mark, Box):
        return Box(mark.left + across, mark.top + down, mark.width, mark.height, mark.pen)
    if isinstance(mark, Words):
        return Words(mark.x + across, mark.y + down, mark.text, mark.size, mark.align, mark.strong, mark.upward)
    return mark
