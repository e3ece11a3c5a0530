"""The ruling template: one page at full size, to print, check with a ruler and prick through.

It shows the page's outline and fold, the bounding lines, the ruled lines, where to prick, and on request the spaces
reserved on a page and its flaws. Below it stands a bar of 100 mm: what measures otherwise was scaled by the printer.
"""

from __future__ import annotations

from textwrap import wrap
from typing import TYPE_CHECKING

from copydesk.book.common.phrases import capital
from copydesk.book.common.units import Unit, show_length, show_size
from copydesk.book.layout.flaws import flaw_place
from copydesk.book.materials.cautions import caution_paragraph, cautions_for
from copydesk.papers.drawing.shapes import Drawing, Ring, Words, lowered
from copydesk.papers.drawing.typesetting import BOLD, fitting
from copydesk.papers.paper_forms import drawn
from copydesk.papers.ruled_page import (
    ABOVE,
    BELOW,
    BESIDE,
    HEADING_WIDTH,
    LEAST_WIDTH,
    check_bar,
    page_corner,
    page_drawn,
    templates,
    title_of,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from copydesk.book.layout.page_layout import PageLayout
    from copydesk.book.structure.page import Side
    from copydesk.papers.paper_forms import PaperRequest
    from copydesk.papers.ruled_page import RulingTemplate


RULING_CAUTION = caution_paragraph(cautions_for(papers=["ruling"]))
"""Stands on every template: in the foot margin, or below a page whose foot margin has no room for it."""

_SMALL, _SMALL_LINE = 1.9, 2.6  # the caution's letters, and from line to line, mm
_RING, _FROM_EDGE = 0.7, 6.0  # a pricking's ring, and how far from the page's edge it stands at most


def printed(order: PaperRequest) -> bytes:
    """Make it; as SVG without a page it shows the recto, since an SVG file holds one drawing.

    Raises:
        UnknownNameError: where we print on no such paper.
    """
    found = templates(order.job.state, order.page)
    return drawn(order, lambda: list(map(ruling_drawing, found)), lambda: _text(found[0]))


def _text(template: RulingTemplate) -> Iterator[str]:
    """The same in figures: where to prick, and what is reserved."""
    layout, unit = template.layout, template.unit
    yield f"{template.title}: page {show_size(layout.width, layout.height, unit)}"
    yield f"Written space {show_size(layout.written_width, layout.written_height, unit)}, {layout.lines} lines"
    yield ""
    yield "Ruled lines, from the head edge:"
    yield from (f"  {number:>3}  {show_length(place, unit)}" for number, place in enumerate(layout.ruled, 1))
    yield "Bounding lines, from the fold:"
    yield from (f"  {number:>3}  {show_length(place, unit)}" for number, place in enumerate(layout.bounding, 1))
    for space in template.spaces:
        place = space.place
        yield (
            f"Reserved for {space.label}: {show_size(place.width, place.height, unit)}, "
            f"{show_length(place.top, unit)} from the head edge, {show_length(place.left, unit)} from the left edge"
        )
    for flaw in template.flaws:
        size = show_size(flaw.width, flaw.height, unit)
        head, fold = show_length(flaw.from_head, unit), show_length(flaw.from_fold, unit)
        yield f"Flaw: {size}, {head} from the head edge, {fold} from the fold"
    yield from map(capital, template.narrow)
    yield from ("", RULING_CAUTION)


def ruling_drawing(template: RulingTemplate) -> Drawing:
    """One template as a drawing; :func:`page_corner` says where on it the page's upper left corner lies."""
    layout = template.layout
    width = max(layout.width + 2 * BESIDE, LEAST_WIDTH)
    left, top = page_corner(layout)
    caution, below = _caution(template, width)
    marks = (
        *_heading(template),
        *(lowered(mark, top, left) for mark in (*page_drawn(template), *_prickings(layout, template.side))),
        *check_bar(min(width, HEADING_WIDTH) / 2, ABOVE + layout.height + 6.5),
        *caution,
    )
    return Drawing(title_of(template), width, ABOVE + layout.height + BELOW + below, marks)


def _caution(template: RulingTemplate, width: float) -> tuple[list[Words], float]:
    """The caution in the foot margin where it has room there, else below the check bar; and the room it adds below.

    Lines that hold no text are told of before it.
    """
    words = "".join(f"{capital(said)}. " for said in template.narrow) + RULING_CAUTION
    layout, side = template.layout, template.side
    left, top = page_corner(layout)
    last, edge = max(layout.ruled), layout.height - _FROM_EDGE
    lines = _small_lines(words, layout.written_width - 2)
    taken = [space.place.bottom for space in template.spaces]
    taken += [flaw_place(layout, flaw, side).bottom for flaw in template.flaws]
    if last + 2 + _SMALL_LINE * len(lines) <= edge - 2 and all(bottom <= last for bottom in taken):
        left += min(layout.column_lefts(side)) + 1
        return _set_small(lines, left, top + last + 2 + _SMALL_LINE), 0.0
    room = min(width, HEADING_WIDTH)
    lines = _small_lines(words, room - 2)
    return _set_small(lines, 1.0, ABOVE + layout.height + BELOW + _SMALL_LINE), _SMALL_LINE * (len(lines) + 1)


def _small_lines(words: str, room: float) -> list[str]:
    """Words in lines that go into so many mm: the widest number of letters at which every line does."""
    for letters in range(int(room), 20, -1):
        lines = wrap(words, letters)
        if all(fitting(line, _SMALL, room) == line for line in lines):
            return lines
    return wrap(words, 20)


def _set_small(lines: Sequence[str], left: float, top: float) -> list[Words]:
    return [Words(left, top + _SMALL_LINE * at, line, _SMALL) for at, line in enumerate(lines)]


def _prickings(layout: PageLayout, side: Side) -> Iterator[Ring]:
    """Rings to prick through: for ruled lines by the outer edge, for bounding lines by head and foot."""
    outer = layout.from_left(layout.width - min(_FROM_EDGE, layout.margins.outer / 2), side)
    for y in layout.ruled:
        yield Ring(outer, y, _RING, "prick")
    head = min(_FROM_EDGE, layout.margins.head / 2)
    foot = layout.height - min(_FROM_EDGE, layout.margins.foot / 2)
    for from_fold in layout.bounding:
        x = layout.from_left(from_fold, side)
        yield Ring(x, head, _RING, "prick")
        yield Ring(x, foot, _RING, "prick")


def _heading(template: RulingTemplate) -> Iterator[Words]:
    layout, unit, margins = template.layout, template.unit, template.layout.margins
    room = min(max(layout.width + 2 * BESIDE, LEAST_WIDTH), HEADING_WIDTH)
    figures = ", ".join(
        f"{name} {show_length(getattr(margins, name), unit)}" for name in ("inner", "head", "outer", "foot")
    )
    lines = (
        f"{show_size(layout.width, layout.height, unit)}: {figures}",
        f"{_columns(layout, unit)}; {_lines(layout, unit)}",
    )
    yield Words(room / 2, 4, fitting(title_of(template), 4, room, BOLD), 4, "middle", strong=True)
    for number, text in enumerate(lines):
        yield Words(room / 2, 8.5 + 3.8 * number, text, 2.5, "middle")


def _columns(layout: PageLayout, unit: Unit) -> str:
    measure = show_length(layout.measure, unit)
    if layout.columns == 1:
        return f"one column of {measure}"
    return f"{layout.columns} columns of {measure}, {show_length(layout.gap, unit)} between"


def _lines(layout: PageLayout, unit: Unit) -> str:
    lines = "one line" if layout.lines == 1 else f"{layout.lines} lines"
    return f"{lines}, {show_length(layout.line_height, unit)} apart, the first {layout.first_line} the top ruled line"
