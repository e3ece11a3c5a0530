"""The mock-up: the whole book small on office paper, its pages as its sheets have them, to fold and nest as these are.

Each piece of paper is one sheet of the book, its outer side in front and its inner side behind. It shows the blocks of
text, the spaces, the headings and the names of the pages, so that client and binder have the book in the hand before it
is written.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.phrases import count_of, decimal
from copydesk.book.common.sanitize import sanitize
from copydesk.book.common.text_table import laid_out
from copydesk.book.layout.flaws import flaw_place
from copydesk.book.layout.page_layout import Rectangle, place_of
from copydesk.book.structure.gathering import SheetSide
from copydesk.book.structure.page import Side
from copydesk.book.structure.sheets import open_sheets
from copydesk.papers.drawing import typesetting as fonts
from copydesk.papers.drawing.paper_sheets import paper_named
from copydesk.papers.drawing.shapes import INK, RED, Box, Drawing, DrawnLine, Mark, Words, lowered
from copydesk.papers.drawing.tiling import MARGIN
from copydesk.papers.paper_forms import drawn
from copydesk.tracking.state.page_content import lines_of_page
from copydesk.tracking.views.page_marks import page_marks
from copydesk.tracking.views.page_view import page_account
from copydesk.tracking.views.sheet_view import instead_of_page

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from copydesk.book.layout.page_frame import CastLine
    from copydesk.book.structure.page import Page
    from copydesk.book.structure.sheets import OpenSheet
    from copydesk.papers.drawing.shapes import Align, Pen
    from copydesk.papers.paper_forms import PaperRequest
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount


_ABOVE, _BELOW = 8.0, 8.0  # room for words over and under the pages, mm, as all lengths below
_TITLE, _SMALL, _NAME = 3.2, 2.2, 3.4  # letters of the paper's title, of what is said below, of a page's name
_BAR, _WORDS = 0.42, 0.62  # of a line's height: the bar that stands for its words, and letters
_LEAST_WORDS = 1.1  # letters smaller than this cannot be read
_EDGE = 0.5  # so that a page's edge is not lost in the blank that printers leave
_STRIP = 8.0  # what is left of half a sheet that bears no leaf, to hold the other half by
_HOW = (
    "Print on both sides, turned over on the short edge. Fold each paper along the dotted line, this side out where it "
    "says outer. Lay the sheets of a gathering into one another, sheet 1 outermost."
)


class _Setting(NamedTuple):
    """What all papers of one mock-up share: the paper's size less what printers leave blank, the scale, the rubrics.

    ``rubrics`` are the pieces of the text from which to which each heading goes.
    """

    width: float
    height: float
    scale: float
    rubrics: Sequence[tuple[int, int]]


def printed(order: PaperRequest) -> bytes:
    """Make it: two sides of paper for each sheet of the book, or a plain list of what stands where.

    Raises:
        UnknownNameError: where we print on no such paper.
    """
    state = order.job.state
    return drawn(order, lambda: list(_drawings(state, order.paper)), lambda: _told(state))


def _sheets(state: BookState) -> Iterator[OpenSheet]:
    for gathering in state.collation.gatherings:
        yield from open_sheets(state.collation, gathering.number)


def _drawings(state: BookState, paper: str) -> Iterator[Drawing]:
    lying = paper_named(paper).turned
    width, height = lying.width - 2 * MARGIN, lying.height - 2 * MARGIN
    layout = state.layout
    scale = min((width / 2 - _EDGE) / layout.width, (height - _ABOVE - _BELOW) / layout.height, 1.0)
    setting = _Setting(width, height, scale, _rubrics(state))
    for sheet in _sheets(state):
        for side in SheetSide:
            yield _side(state, setting, sheet, side)


def _rubrics(state: BookState) -> list[tuple[int, int]]:
    written, first = state.copy.written, state.copy.first_piece
    blocks = [block for block in written.blocks if block.kind == "rubric"] if written is not None else []
    return [(block.start, block.end) if first is None else (first[block.start], first[block.end]) for block in blocks]


def _side(state: BookState, setting: _Setting, sheet: OpenSheet, which: SheetSide) -> Drawing:
    """One side of a sheet on one side of paper; the fold is the middle of the paper."""
    side, middle = sheet.side(which), setting.width / 2
    title = f"{state.book.title}: mock-up" if state.book.title else "Mock-up"
    marks: list[Mark] = [
        Words(0, 4, fonts.fitting(title, _TITLE, middle - 2, fonts.BOLD), _TITLE, strong=True),
        Words(setting.width, 4, _named(state, sheet, which), _TITLE, "end"),
        Words(0, setting.height - 1, f"{_HOW} {_drawn_at(setting.scale)}", _SMALL),
        DrawnLine(middle, 0, middle, setting.height, "crease"),
    ]
    for page, left in zip(side.halves, (True, False), strict=True):
        at = middle - setting.scale * state.layout.width if left else middle
        if page is None:
            marks += _no_leaf(state, setting, sheet, left=left)
        else:
            marks += (lowered(mark, _ABOVE, at) for mark in _page(state, setting, page))
    return Drawing(title, setting.width, setting.height, tuple(marks))


def _drawn_at(scale: float) -> str:
    return "Drawn at full size." if scale == 1.0 else f"Drawn at 1 : {decimal(1 / scale, 2)}."


def _named(state: BookState, sheet: OpenSheet, which: SheetSide) -> str:
    """Which paper it is: ``gathering 3, sheet 1 of 4: outer side, hair``."""
    sheets = len(open_sheets(state.collation, sheet.gathering))
    surface = sheet.side(which).surface
    return f"gathering {sheet.gathering}, sheet {sheet.sheet} of {sheets}: {which} side, {surface}"


def _no_leaf(state: BookState, setting: _Setting, sheet: OpenSheet, *, left: bool) -> Iterator[Mark]:
    """Half a paper without a leaf: where to cut it off, and why."""
    middle, low = setting.width / 2, _ABOVE + setting.scale * state.layout.height
    cut = middle - _STRIP if left else middle + _STRIP
    yield DrawnLine(cut, 0, cut, setting.height, "cut")
    why = instead_of_page(state.collation.gathering(sheet.gathering), sheet.sheet).value
    for at, words in enumerate((why, "cut along the red line; the strip holds the other leaf")):
        yield Words(cut + (-3 if left else 3), low / 2 + 5 * at, words, 2.8, "end" if left else "start")


def _page(state: BookState, setting: _Setting, page: Page) -> Iterator[Mark]:
    """A page, in mm on the paper from its upper left corner."""
    layout, scale, account = state.layout_on(page.index), setting.scale, page_account(state, page.index)
    recto, wide, high = page.side is Side.RECTO, layout.width * scale, layout.height * scale
    fore_edge = wide if recto else 0.0
    for edge in ((0.0, 0.0, wide, 0.0), (fore_edge, 0.0, fore_edge, high), (0.0, high, wide, high)):
        yield DrawnLine(*edge, "bounding")
    for flaw in account.flaws:
        yield _box(flaw_place(layout, flaw, page.side), scale, "flaw")
    for space in account.spaces:
        if space.placement is not None and space.placement.lines:
            size = (space.width, space.height)
            placement = space.placement
            place = place_of(layout, page.side, max(placement.column, 1), placement.from_line, size)
            yield _box(place, scale, "space")
            yield from _label(place, scale, f"{space.plan.id}, {space.plan.kind}")
    yield from _text(state, setting, page, lines_of_page(state, page.index))
    yield from _margins(state, page, account, scale)


def _margins(state: BookState, page: Page, account: PageAccount, scale: float) -> Iterator[Words]:
    """What stands in the margins: the page's name by its fore edge, its marks by the fold, spaces that take no line."""
    layout, recto = state.layout_on(page.index), page.side is Side.RECTO
    left = min(layout.column_lefts(page.side)) * scale
    right = left + layout.written_width * scale
    ends: tuple[tuple[float, Align], tuple[float, Align]] = ((left, "start"), (right, "end"))
    inner, outer = ends if recto else ends[::-1]
    foot, room = layout.height * scale - 2, right - left - 4 * _NAME
    yield Words(outer[0], foot, sanitize(account.label), _NAME, outer[1], strong=True)
    marks = page_marks(state, page)
    said = ", ".join(filter(None, (marks.signature, f"catchword {marks.catchword}" if marks.catchword else "")))
    if not said and account.budget.start >= account.budget.end and not account.spaces:
        said = "blank"
    yield Words(inner[0], foot, fonts.fitting(said, _SMALL, room), _SMALL, inner[1])
    without = (space for space in account.spaces if space.placement is None or not space.placement.lines)
    named = "; ".join(f"{space.plan.id}, {space.plan.kind}" for space in without)
    yield Words(left, _SMALL + 1, fonts.fitting(named, _SMALL, right - left), _SMALL)


def _box(place: Rectangle, scale: float, pen: Pen) -> Box:
    return Box(place.left * scale, place.top * scale, place.width * scale, place.height * scale, pen)


def _label(place: Rectangle, scale: float, said: str) -> Iterator[Words]:
    if place.height * scale >= _SMALL + 1 and place.width * scale >= 4 * _SMALL:
        words = fonts.fitting(said, _SMALL, place.width * scale - 1)
        yield Words(place.left * scale + 0.5, place.top * scale + _SMALL + 0.3, words, _SMALL)


def _text(state: BookState, setting: _Setting, page: Page, lines: Sequence[CastLine]) -> Iterator[Mark]:
    """A bar for the words of each line; headings, and the line a page begins with, in words where they can be read."""
    layout, copy, scale = state.layout_on(page.index), state.copy, setting.scale
    rooms = _rooms(state, page)
    unit = layout.measure / (state.letters_on(page.index) * copy.mean * copy.grain)
    size = layout.line_height * scale * _WORDS
    headings = _within(setting.rubrics, lines)
    for at, line in enumerate(lines):
        if line.start >= line.end:
            continue
        indent, room = rooms[line.column, line.line]
        verse = copy.indent_of(line.start) * unit
        indent, room = indent + verse, room - verse
        left, y = layout.column_lefts(page.side)[line.column - 1] + indent, layout.baselines[line.line - 1]
        heading = any(start < line.end and line.start < end for start, end in headings)
        words = copy.line_text(line.start, line.end) if heading or at == 0 else ""
        if words and size >= _LEAST_WORDS:
            wide = room * scale if fonts.width(words, size) > room * scale else 0.0
            yield Words(left * scale, y * scale, sanitize(words), size, wide=wide, colour=RED if heading else INK)
        else:
            wide = min((copy.sums[line.end] - copy.sums[line.start] - copy.space) * unit, room)
            high = layout.line_height * _BAR
            yield _box(Rectangle(left, y - high, wide, high), scale, "words")


def _rooms(state: BookState, page: Page) -> dict[tuple[int, int], tuple[float, float]]:
    """Of each line of a page, by column and line, where its room begins and how wide that is, in mm."""
    frame, measure = state.frame_of(page.index), state.layout.measure
    known = tuple(dict.fromkeys((*frame.fixed, *state.budget.pages[page.index].placed)))
    shares = frame._replace(fixed=known).shares()
    rooms = {
        (column, line): (0.0, share * measure)
        for column, lines in enumerate(shares, 1)
        for line, share in enumerate(lines, 1)
    }
    for initial in (each for each in known if each.share > 0.0):
        for place in frame.lines_of(initial):
            rooms[place] = (measure - rooms[place][1], rooms[place][1])
    return rooms


def _within(rubrics: Sequence[tuple[int, int]], lines: Sequence[CastLine]) -> list[tuple[int, int]]:
    """The headings that stand on some lines."""
    if not lines:
        return []
    return [each for each in rubrics if each[0] < lines[-1].end and each[1] > lines[0].start]


def _told(state: BookState) -> Iterator[str]:
    """The same as plain text: what stands beside what, then what is on each page."""
    yield f"{state.book.title}: mock-up" if state.book.title else "Mock-up"
    yield from ("", _HOW, "")
    rows = [
        (sheet.name, side, *(state.book.named(page) if page is not None else _gone(state, sheet) for page in pages))
        for sheet in _sheets(state)
        for side, pages in ((side, sheet.side(side).halves) for side in SheetSide)
    ]
    yield from laid_out(("sheet", "side", "left", "right"), rows)
    yield ""
    rubrics, told = _rubrics(state), []
    for page in state.collation.all_pages():
        account, lines = page_account(state, page.index), lines_of_page(state, page.index)
        headings = (state.copy.line_text(start, end) for start, end in _within(rubrics, lines))
        spaces = (f"{space.plan.id} ({space.plan.kind})" for space in account.spaces)
        text = count_of(account.budget.planned, "line") if account.budget.planned else "blank"
        told.append((account.label, text, "; ".join((*headings, *spaces))))
    yield from laid_out(("page", "text", "headings and spaces"), told)


def _gone(state: BookState, sheet: OpenSheet) -> str:
    return instead_of_page(state.collation.gathering(sheet.gathering), sheet.sheet).in_short
