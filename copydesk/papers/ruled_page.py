"""A page as it is ruled, as a drawing: its edges, ruled lines, what is reserved on it, its flaws, and the check bar.

The ruling template and the guide both draw it, so that their lines lie on one another.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.layout.flaws import flaw_place
from copydesk.book.layout.page_layout import place_of
from copydesk.book.structure.page import Side
from copydesk.papers.drawing.shapes import Box, DrawnLine, Mark, Words
from copydesk.papers.drawing.typesetting import fitting
from copydesk.tracking.views.narrow_lines import narrow_sentences
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from copydesk.book.common.units import Unit
    from copydesk.book.layout.page_layout import PageLayout, Rectangle
    from copydesk.book.plan import Flaw
    from copydesk.book.structure.page import Page
    from copydesk.papers.drawing.shapes import Pen
    from copydesk.tracking.state.book_state import BookState


BAR_MM = 100
"""The check bar's length."""

ABOVE, BELOW, BESIDE = 15.0, 8.0, 9.0
"""Room round the page for words, mm."""
LEAST_WIDTH = 134.0
"""What the words above and the bar below need, mm."""
HEADING_WIDTH = 190.0
"""Words and bar keep to what one upright sheet of either paper shows, mm."""


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


def title_of(template: RulingTemplate) -> str:
    """What the page is called, with its side."""
    side = "recto" if template.side is Side.RECTO else "verso"
    return f"{template.title}, {side}" if template.title else f"Ruling, {side}"


def page_corner(layout: PageLayout) -> tuple[float, float]:
    """Where the page's upper left corner lies on its template's drawing, in mm."""
    return max(BESIDE, (LEAST_WIDTH - layout.width) / 2), ABOVE


def page_drawn(template: RulingTemplate, *, pale: bool = False) -> Iterator[Mark]:
    """The page itself, in mm from its upper left corner; ``pale`` where words are to be read on its lines."""
    layout, side = template.layout, template.side
    for space in template.spaces:
        yield from _labelled(space.place, space.label, Box(*_sides(space.place), "space"))
    for flaw in template.flaws:
        place = flaw_place(layout, flaw, side)
        yield from _labelled(place, "flaw", Box(*_sides(place), "flaw"))
    yield from _ruled_lines(template, "pale" if pale else "ruled")
    for from_fold in layout.bounding:
        x = layout.from_left(from_fold, side)
        yield DrawnLine(x, 0, x, layout.height, "pale" if pale else "bounding")
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


def _ruled_lines(template: RulingTemplate, pen: Pen) -> Iterator[DrawnLine]:
    """Every ruled line across every column, left out where a space or a flaw lies."""
    layout = template.layout
    taken = [space.place for space in template.spaces]
    taken += [flaw_place(layout, flaw, template.side) for flaw in template.flaws]
    for left in layout.column_lefts(template.side):
        for y in layout.ruled:
            for begins, ends in _clear((left, left + layout.measure), y, taken):
                yield DrawnLine(begins, y, ends, y, pen)


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


def check_bar(middle: float, y: float) -> Iterator[Mark]:
    """The bar with a tick at every centimetre, and beside it what it is for."""
    left = middle - LEAST_WIDTH / 2
    yield DrawnLine(left, y, left + BAR_MM, y, "bar")
    for tenth in range(11):
        x = left + tenth * BAR_MM / 10
        yield DrawnLine(x, y - (2.2 if tenth % 5 == 0 else 1.2), x, y, "bar")
    yield Words(left + BAR_MM + 2, y, f"{BAR_MM} mm: check before pricking", 1.9)


def _sides(place: Rectangle) -> tuple[float, float, float, float]:
    return place.left, place.top, place.width, place.height
