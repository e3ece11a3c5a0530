"""The sheet map: what stands on each side of each sheet of each gathering, to lie beside the pile."""

from __future__ import annotations

import math
from itertools import zip_longest
from typing import TYPE_CHECKING

from copydesk.papers.drawing.paper_sheets import paper_named
from copydesk.papers.drawing.svg import svg_of
from copydesk.papers.drawing.tiling import MARGIN, pdf_of
from copydesk.papers.sheet_map_drawing import drawings
from copydesk.papers.sheet_map_words import GatheringMap, HalfWords, gathering_maps, half_words, sheet_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.papers.catalogue import PaperRequest
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.sheet_view import SideAccount


_HALF = 37  # characters for each half of a side in the plain form


def printed(order: PaperRequest) -> bytes:
    """Make the map: as PDF on as many sheets of paper as it takes, as one long SVG drawing, or as plain text.

    Raises:
        UnknownNameError: where we print on no such paper.
    """
    state = order.job.state
    maps = gathering_maps(state)
    title = f"{state.book.title}: sheet map, {order.job.clock().date().isoformat()}"
    if order.form == "text":
        return "\n".join(_text(state, maps, title)).encode()
    if order.form == "svg":
        return svg_of(drawings(state, maps, title, math.inf)[0]).encode()
    paper = paper_named(order.paper)
    return pdf_of(drawings(state, maps, title, paper.height - 2 * MARGIN), paper)


def _text(state: BookState, maps: list[GatheringMap], title: str) -> Iterator[str]:
    yield title
    for each in maps:
        yield from ("", each.heading)
        for sheet in each.sheets:
            for side in (sheet.outer, sheet.inner):
                yield from ("", f"{sheet_words(sheet)}, {side.side} side up, {side.surface}")
                yield from _side(state, side)
        if each.remarks:
            yield from ("", *each.remarks)
    yield ""


def _side(state: BookState, side: SideAccount) -> Iterator[str]:
    """Left and right half beside each other, the fold between them."""
    halves = [_half(half_words(state, half)) for half in (side.left, side.right)]
    for left, right in zip_longest(*halves, fillvalue=""):
        yield f"  {left:<{_HALF}} ┊ {right}".rstrip()


def _half(said: HalfWords) -> list[str]:
    from textwrap import wrap

    head = [f"{said.label:<{_HALF - len(said.next_act)}}{said.next_act}"] if said.label else []
    foot = [said.foot] if said.foot else []
    return [*head, *(part for line in (*said.lines, *foot) for part in wrap(line, _HALF))]
