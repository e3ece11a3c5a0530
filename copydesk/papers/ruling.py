"""The ruling template: one page at full size, to print, check with a ruler and prick through.

It shows the page's outline and fold, the bounding lines, the ruled lines, where to prick, and on request the spaces
reserved on a page and its flaws. Below it stands a bar of 100 mm: what measures otherwise was scaled by the printer.
"""

from __future__ import annotations

from textwrap import wrap
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.phrases import capital
from copydesk.book.common.units import Unit, show_length, show_size
from copydesk.book.layout.flaws import flaw_place
from copydesk.book.layout.page_layout import place_of
from copydesk.book.materials.cautions import caution_paragraph, cautions_for
from copydesk.book.structure.page import Side
from copydesk.papers.drawing.shapes import Box, Drawing, DrawnLine, Mark, Ring, Words, lowered
from copydesk.papers.drawing.typesetting import BOLD, fitting
from copydesk.papers.paper_forms import drawn
from copydesk.tracking.views.narrow_lines import narrow_sentences
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from copydesk.book.layout.page_layout import PageLayout, Rectangle
    from copydesk.book.plan import Flaw
    from copydesk.book.structure.page import Page
    from copydesk.papers.paper_forms import PaperRequest
    from copydesk.tracking.state.book_state import BookState


BAR_MM = 100
"""The check bar's length."""

RULING_CAUTION = caution_paragraph(cautions_for(papers=["ruling"]))
"""Stands on every template: in the foot margin, or below a page whose foot margin has no room for it."""

_ABOVE, _BELOW, _BESIDE = 15.0, 8.0, 9.0  # room round the page for words, mm
_LEAST_WIDTH = 134.0  # what the words above and the bar below need
_HEADING_WIDTH = 190.0  # words and bar keep to what one upright sheet of either paper shows
_SMALL, _SMALL_LINE = 1.9, 2.6  # the caution's letters, and from line to line, mm
_RING, _FROM_EDGE = 0.7, 6.0  # a pricking's ring, and how far from the page's edge it stands at most


class Reserved(NamedTuple):
    """A reserved space to show: where it stands on the page as seen, and what to write in it."""

    place: Rectangle
    label: str


class RulingTemplate(NamedTuple):
    """What to draw: a page's layout and side, a title, the spaces and flaws of that page, the unit for its figures.

    ``narrow`` tells of the lines beside these that hold no text.
    """

    layout: PageLayout
    side: Side
    title: str = ""
    spaces: tuple[Reserved, ...] = ()
    flaws: tuple[Flaw, ...] = ()
    unit: Unit = "mm"
    narrow: tuple[str, ...] = ()


def printed(order: PaperRequest) -> bytes:
    """Make it; as SVG without a page it shows the recto, since an SVG file holds one drawing.

    Raises:
        UnknownNameError: where we print on no such paper.
    """
    found = templates(order.job.state, order.page)
    return drawn(order, lambda: list(map(ruling_drawing, found)), lambda: _text(found[0]))


def templates(state: BookState, page: Page | None) -> list[RulingTemplate]:
    """The templates of one page, or of a blank recto and verso."""
    title, unit = state.book.title, state.book.unit
    if page is None:
        layout = state.layout_to_rule
        return [RulingTemplate(layout, side, title, unit=unit) for side in Side]
    layout = state.layout_on(page.index)
    account = page_account(state, page.index)
    named = f"{title}, {account.label}" if title else account.label
    reserved, narrow = tuple(_reserved(state, page)), tuple(narrow_sentences(state, page.index))
    return [RulingTemplate(layout, page.side, named, reserved, account.flaws, unit, narrow)]


def _reserved(state: BookState, page: Page) -> Iterator[Reserved]:
    for space in page_account(state, page.index).spaces:
        placement = space.placement
        if placement is not None and placement.lines:
            size = (space.width, space.height)
            place = place_of(state.layout, page.side, max(placement.column, 1), placement.from_line, size)
            yield Reserved(place, f"{space.plan.id}, {space.plan.kind}")


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
    width = max(layout.width + 2 * _BESIDE, _LEAST_WIDTH)
    left, top = page_corner(layout)
    caution, below = _caution(template, width)
    marks = (
        *_heading(template),
        *(lowered(mark, top, left) for mark in _page(template)),
        *_check_bar(min(width, _HEADING_WIDTH) / 2, _ABOVE + layout.height + 6.5),
        *caution,
    )
    return Drawing(_title(template), width, _ABOVE + layout.height + _BELOW + below, marks)


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
    room = min(width, _HEADING_WIDTH)
    lines = _small_lines(words, room - 2)
    return _set_small(lines, 1.0, _ABOVE + layout.height + _BELOW + _SMALL_LINE), _SMALL_LINE * (len(lines) + 1)


def _small_lines(words: str, room: float) -> list[str]:
    """Words in lines that go into so many mm: the widest number of letters at which every line does."""
    for letters in range(int(room), 20, -1):
        lines = wrap(words, letters)
        if all(fitting(line, _SMALL, room) == line for line in lines):
            return lines
    return wrap(words, 20)


def _set_small(lines: Sequence[str], left: float, top: float) -> list[Words]:
    return [Words(left, top + _SMALL_LINE * at, line, _SMALL) for at, line in enumerate(lines)]


def page_corner(layout: PageLayout) -> tuple[float, float]:
    """Where the page's upper left corner lies on its template's drawing, in mm."""
    return max(_BESIDE, (_LEAST_WIDTH - layout.width) / 2), _ABOVE


def _page(template: RulingTemplate) -> Iterator[Mark]:
    """The page itself, in mm from its upper left corner."""
    layout, side = template.layout, template.side
    for space in template.spaces:
        yield from _labelled(space.place, space.label, Box(*_sides(space.place), "space"))
    for flaw in template.flaws:
        place = flaw_place(layout, flaw, side)
        yield from _labelled(place, "flaw", Box(*_sides(place), "flaw"))
    yield from _ruled_lines(template)
    for from_fold in layout.bounding:
        x = layout.from_left(from_fold, side)
        yield DrawnLine(x, 0, x, layout.height, "bounding")
    yield from _prickings(layout, side)
    yield from _line_numbers(layout, side)
    yield from _outline(layout, side)


def _outline(layout: PageLayout, side: Side) -> Iterator[Mark]:
    """The page's edges, and its fold as a broken line."""
    fold, fore_edge = (layout.from_left(from_fold, side) for from_fold in (0, layout.width))
    yield DrawnLine(0, 0, layout.width, 0, "edge")
    yield DrawnLine(fore_edge, 0, fore_edge, layout.height, "edge")
    yield DrawnLine(0, layout.height, layout.width, layout.height, "edge")
    yield DrawnLine(fold, 0, fold, layout.height, "fold")
    beside = -1.5 if side is Side.RECTO else 3.6
    yield Words(fold + beside, layout.height / 2, "fold", 2.8, "middle", upward=True)


def _ruled_lines(template: RulingTemplate) -> Iterator[DrawnLine]:
    """Every ruled line across every column, left out where a space or a flaw lies."""
    layout = template.layout
    taken = [space.place for space in template.spaces]
    taken += [flaw_place(layout, flaw, template.side) for flaw in template.flaws]
    for left in layout.column_lefts(template.side):
        for y in layout.ruled:
            for begins, ends in _clear((left, left + layout.measure), y, taken):
                yield DrawnLine(begins, y, ends, y, "ruled")


def _clear(stretch: tuple[float, float], y: float, taken: Sequence[Rectangle]) -> list[tuple[float, float]]:
    """What is left of a stretch of a line at ``y`` beside all that is taken; a line along an edge is drawn."""
    clear = [stretch]
    for place in taken:
        if place.top + 1e-6 < y < place.bottom - 1e-6:
            parts = [
                part
                for each in clear
                for part in ((each[0], min(each[1], place.left)), (max(each[0], place.right), each[1]))
            ]
            clear = [(begins, ends) for begins, ends in parts if ends - begins > 1e-6]
    return clear


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


def _line_numbers(layout: PageLayout, side: Side) -> Iterator[Words]:
    """The first written line and every fifth, numbered beyond the outer edge."""
    recto = side is Side.RECTO
    x = layout.width + 1.5 if recto else -1.5
    for number, y in enumerate(layout.baselines, 1):
        if number == 1 or number % 5 == 0:
            yield Words(x, y + 0.8, str(number), 2.4, "start" if recto else "end")


def _labelled(place: Rectangle, label: str, box: Box) -> Iterator[Mark]:
    yield box
    if place.height >= 4 and place.width >= 8:
        yield Words(place.left + 1.5, place.top + 3.4, fitting(label, 2.6, place.width - 3), 2.6)


def _heading(template: RulingTemplate) -> Iterator[Words]:
    layout, unit, margins = template.layout, template.unit, template.layout.margins
    room = min(max(layout.width + 2 * _BESIDE, _LEAST_WIDTH), _HEADING_WIDTH)
    figures = ", ".join(
        f"{name} {show_length(getattr(margins, name), unit)}" for name in ("inner", "head", "outer", "foot")
    )
    lines = (
        f"{show_size(layout.width, layout.height, unit)}: {figures}",
        f"{_columns(layout, unit)}; {_lines(layout, unit)}",
    )
    yield Words(room / 2, 4, fitting(_title(template), 4, room, BOLD), 4, "middle", strong=True)
    for number, text in enumerate(lines):
        yield Words(room / 2, 8.5 + 3.8 * number, text, 2.5, "middle")


def _title(template: RulingTemplate) -> str:
    side = "recto" if template.side is Side.RECTO else "verso"
    return f"{template.title}, {side}" if template.title else f"Ruling, {side}"


def _columns(layout: PageLayout, unit: Unit) -> str:
    measure = show_length(layout.measure, unit)
    if layout.columns == 1:
        return f"one column of {measure}"
    return f"{layout.columns} columns of {measure}, {show_length(layout.gap, unit)} between"


def _lines(layout: PageLayout, unit: Unit) -> str:
    lines = "one line" if layout.lines == 1 else f"{layout.lines} lines"
    return f"{lines}, {show_length(layout.line_height, unit)} apart, the first {layout.first_line} the top ruled line"


def _check_bar(middle: float, y: float) -> Iterator[Mark]:
    """The bar with a tick at every centimetre, and beside it what it is for."""
    left = middle - _LEAST_WIDTH / 2
    yield DrawnLine(left, y, left + BAR_MM, y, "bar")
    for tenth in range(11):
        x = left + tenth * BAR_MM / 10
        yield DrawnLine(x, y - (2.2 if tenth % 5 == 0 else 1.2), x, y, "bar")
    yield Words(left + BAR_MM + 2, y, f"{BAR_MM} mm: check before pricking", 1.9)


def _sides(place: Rectangle) -> tuple[float, float, float, float]:
    return place.left, place.top, place.width, place.height
