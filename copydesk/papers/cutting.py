"""A small picture of how a skin is cut into sheets: for the screen as text, and for paper at a scale that is said."""

from __future__ import annotations

from textwrap import wrap
from typing import TYPE_CHECKING

from copydesk.book.common.errors import NotAllowedError
from copydesk.book.common.phrases import count_of, decimal
from copydesk.book.common.units import Unit, show_length, show_size
from copydesk.book.materials.cautions import caution_paragraph, cautions_for
from copydesk.papers.drawing.box_picture import BoxPicture
from copydesk.papers.drawing.shapes import Box, Drawing, DrawnLine, Mark, Ring, Words, lowered
from copydesk.papers.drawing.typesetting import BOLD, fitting
from copydesk.papers.paper_forms import drawn
from copydesk.tracking.views.skin_order import SkinOrder, skin_order

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.book.layout.page_layout import Rectangle
    from copydesk.book.materials.skin_cutting import Cutting
    from copydesk.papers.paper_forms import PaperRequest


KNIFE_CAUTION = caution_paragraph(cautions_for(papers=["cutting"]))
"""Stands under every cutting on paper."""
_CAUTION_LINES = wrap(KNIFE_CAUTION, 115)

_SCALES = (1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 15, 20, 25, 30, 40, 50)
_ROOM = (170.0, 200.0)  # what the picture may take of a sheet of A4 or Letter, mm
_LEFT, _ABOVE, _BELOW = 9.0, 26.0, 10.0
_ALONG = 0.38  # where along a cut its number stands: off the middle, where other cuts tend to meet it
_LETTERS_A_LINE_HIGH = 2.0  # a screen's character is about twice as high as wide


def cutting_words(cutting: Cutting, unit: Unit = "mm") -> str:
    """The cutting in a sentence: how many sheets of which size, how, and what falls off."""
    skin = show_size(cutting.skin_width, cutting.skin_height, unit)
    sheet = show_size(cutting.sheet_width, cutting.sheet_height, unit)
    if cutting.count == 0:
        return f"A sheet of {sheet} does not go into a skin of {skin}."
    sheets = "One sheet" if cutting.count == 1 else f"{cutting.count} sheets"
    turned = sum(map(cutting.lies_turned, cutting.sheets))
    how = f", {turned} of them turned," if turned else ""
    folded = ("", ", folded once", ", folded twice", ", folded thrice")[cutting.folds]
    return f"{sheets} of {sheet}{how} from a skin of {skin}{folded}; {cutting.waste:.0%} falls off."


def grain_words(cutting: Cutting) -> str:
    """Which way of the skin the folds run, as a fold is best laid along the grain; and what turning it would give."""
    turned = sum(map(cutting.lies_turned, cutting.sheets))
    said = []
    if cutting.grain_fixed and cutting.count:
        said = ["The grain is fixed: every fold runs along the skin's height."]
    elif cutting.count:
        ways = {0: "Every fold runs along the skin's height.", cutting.count: "Every fold runs along the skin's width."}
        said = [ways.get(turned, "The folds run both ways of the skin; look at the grain.")]
    if cutting.skin_turned:
        sheets = count_of(cutting.skin_turned, "sheet")
        said.append(f"With the folds along its width it gives {sheets}: give width and height the other way round.")
    return " ".join(said)


def cutting_text(cutting: Cutting, width: int = 48) -> list[str]:
    """The cutting drawn with box-drawing characters, ``width`` characters wide: one string a row.

    Each sheet shows its number, and ``turned`` where it lies across; the offcut is dotted.
    """
    columns = max(width, 8) - 1
    rows = max(2, round(columns * cutting.skin_height / cutting.skin_width / _LETTERS_A_LINE_HIGH))
    across, down = columns / cutting.skin_width, rows / cutting.skin_height
    picture = BoxPicture(columns + 1, rows + 1, "·")
    picture.box(0, 0, columns, rows)
    for number, sheet in enumerate(cutting.sheets, 1):
        left, right = round(sheet.left * across), round(sheet.right * across)
        top, bottom = round(sheet.top * down), round(sheet.bottom * down)
        picture.clear(left, top, right, bottom)
        picture.box(left, top, right, bottom)
        said = (f"{number} turned", str(number)) if cutting.lies_turned(sheet) else (str(number),)
        picture.label(left, top, right, bottom, said)
    return picture.rows()


def cutting_drawing(cutting: Cutting, title: str = "", unit: Unit = "mm") -> Drawing:
    """The cutting as a drawing: skin, sheets with their sizes, and the cuts numbered in the order to make them."""
    scale = picture_scale(cutting)
    width, height = cutting.skin_width / scale, cutting.skin_height / scale
    title = f"{title}: cutting a skin" if title else "Cutting a skin"
    room = max(width, _ROOM[0])
    grain = wrap(grain_words(cutting), 105)
    above = _ABOVE + 4 * len(grain)
    marks = (
        Words(_LEFT, 5, fitting(title, 4, room, BOLD), 4, strong=True),
        Words(_LEFT, 11, cutting_words(cutting, unit), 2.8),
        Words(_LEFT, 15.5, _explained(cutting, scale), 2.8),
        *(Words(_LEFT, 20 + 4 * at, words, 2.8) for at, words in enumerate(grain)),
        *(lowered(mark, above, _LEFT) for mark in _skin(cutting, scale, unit)),
        *(Words(_LEFT, above + height + 7 + 4 * at, words, 2.6) for at, words in enumerate(_CAUTION_LINES)),
    )
    return Drawing(title, room + 2 * _LEFT, above + height + _BELOW + 4 * (len(_CAUTION_LINES) - 1), marks)


def picture_scale(cutting: Cutting) -> float:
    """How many times smaller than the skin its picture on paper is: the first usual scale at which it fits."""
    needed = max(cutting.skin_width / _ROOM[0], cutting.skin_height / _ROOM[1])
    return next((scale for scale in _SCALES if scale >= needed), needed)


def _skin(cutting: Cutting, scale: float, unit: Unit) -> Iterator[Mark]:
    """The skin to scale, in mm from its upper left corner."""
    width, height = cutting.skin_width / scale, cutting.skin_height / scale
    yield Words(width / 2, -2, show_length(cutting.skin_width, unit), 2.6, "middle")
    yield Words(-2, height / 2, show_length(cutting.skin_height, unit), 2.6, "middle", upward=True)
    for number, sheet in enumerate(cutting.sheets, 1):
        yield from _sheet(cutting, sheet, number, scale)
    yield Box(0, 0, width, height, "edge")
    cuts = [
        DrawnLine(cut.left / scale, cut.top / scale, cut.right / scale, cut.bottom / scale, "cut")
        for cut in cutting.cuts
    ]
    yield from cuts
    # the numbers lie over all lines, so that no cut crosses one
    for number, cut in enumerate(cuts, 1):
        x, y = cut.x1 + (cut.x2 - cut.x1) * _ALONG, cut.y1 + (cut.y2 - cut.y1) * _ALONG
        yield Ring(x, y, 1.9, "order")
        yield Words(x, y + 0.8, str(number), 2.2, "middle")


def _explained(cutting: Cutting, scale: float) -> str:
    turned = " Blue sheets lie turned." if any(map(cutting.lies_turned, cutting.sheets)) else ""
    order = " Cut along the red lines in the order of the ringed numbers." if cutting.cuts else ""
    return f"Drawn at 1 : {decimal(scale)}.{order}{turned} Dotted: the fold."


def _sheet(cutting: Cutting, sheet: Rectangle, number: int, scale: float) -> Iterator[Mark]:
    turned = cutting.lies_turned(sheet)
    left, top, width, height = (length / scale for length in (sheet.left, sheet.top, sheet.width, sheet.height))
    yield Box(left, top, width, height, "turned" if turned else "sheet")
    if turned:
        yield DrawnLine(left, top + height / 2, left + width, top + height / 2, "crease")
    else:
        yield DrawnLine(left + width / 2, top, left + width / 2, top + height, "crease")
    yield Words(left + 1.5, top + 4.2, str(number), 3.2, strong=True)


def printed(order: PaperRequest) -> bytes:
    """Make it.

    Raises:
        NotAllowedError: where the book says nothing of skins.
        UnknownNameError: where we print on no such paper.
    """
    book = order.job.state.book
    found = skin_order(order.job.state)
    if found is None:
        raise NotAllowedError(
            "book.yaml says nothing of skins; write skins: with width and height of the usable rectangle"
        )
    told = [f"{book.title}: cutting a skin", cutting_words(found.cutting, book.unit)]
    told += [grain_words(found.cutting), "", *cutting_text(found.cutting)]
    return drawn(
        order,
        lambda: [cutting_drawing(found.cutting, book.title, book.unit)],
        lambda: [*told, "", _to_order(found), KNIFE_CAUTION],
    )


def _to_order(found: SkinOrder) -> str:
    if not found.skins:
        return "No skin of this size gives a sheet; none can be ordered."
    said = f"To order: {count_of(found.with_flyleaves, 'skin')} for {count_of(found.sheets, 'sheet')}"
    flyleaves = f" and {found.flyleaf_sheets} of flyleaves" if found.flyleaf_sheets else ""
    return f"{said}{flyleaves}, {found.spoilage:.0%} of them allowed for spoiling."
