"""The guide: a page at full size on pale ruling, each line's words as wide as this hand will write them.

It shows a page alone, or a side of a loose sheet as it lies. Or its lines stand on strips, to cut apart and lay above
the pen.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import NotAllowedError
from copydesk.book.common.phrases import capital, count_of, decimal
from copydesk.book.common.sanitize import sanitize
from copydesk.book.common.text_table import laid_out
from copydesk.book.structure.gathering import SheetSide
from copydesk.book.structure.page import Page, Side
from copydesk.papers.drawing import typesetting as fonts
from copydesk.papers.drawing.fonts import ink
from copydesk.papers.drawing.paper_sheets import paper_named
from copydesk.papers.drawing.shapes import RED, Box, Drawing, DrawnLine, Mark, Words, lowered
from copydesk.papers.drawing.tiling import MARGIN
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
)
from copydesk.tracking.scribes.guide_lines import Guide, GuideLine, GuideWord, guide, notes_of
from copydesk.tracking.views.page_lookup import next_to_write

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from copydesk.book.layout.page_layout import PageLayout
    from copydesk.papers.paper_forms import PaperRequest
    from copydesk.papers.ruled_page import RulingTemplate
    from copydesk.tracking.state.book_state import BookState


_TEXT = "#55504a"
_SMALL, _SMALL_LINE = 1.9, 2.9  # figures beside the lines; the sentences below the page, and from one to the next, mm
_OFF, _UNDER = 0.7, 0.8  # how far figures stand off a column, and a line under a word below its baseline, mm
_NARROWEST = 0.5  # of their width: figures made narrower could not be read
_X_HEIGHT, _TALLEST = 0.45, 0.95  # of the line's height: the letter x where nobody gave it, and letters in all
_STRIP_LEFT, _STRIP_RIGHT, _STRIP_LEAST = 26.0, 12.0, 8.0  # room beside the column on a strip, its least height, mm
_UNDER_STRIP = 0.3  # of the line's height: how far a strip's words stand above its edge, for what hangs below them
_KEY = (
    "At the left of a line the exemplar's place, where it is noted; at the right the letters to spare. "
    "A red line and number: watch there. A broken line: letters the artist paints."
)


class _GuidedPage(NamedTuple):
    """A page with its guide, its ruling and how large the letters of the guide are, in mm."""

    guide: Guide
    ruled: RulingTemplate
    size: float

    @property
    def layout(self) -> PageLayout:
        """The page as it is ruled."""
        return self.ruled.layout


def printed(order: PaperRequest) -> bytes:
    """Make it, of the page or sheet asked for, or of the page to be written next.

    As SVG it shows one side, the outer one where none is named, since an SVG file holds one drawing.

    Raises:
        CopydeskError: where nothing is to be written there, or we print on no such paper.
    """
    state = order.job.state
    sides = _sides(order)
    pages = [page for side in sides for page in side.pages if page is not None]
    if all(page.guide.nothing for page in pages):
        raise NotAllowedError("; ".join(page.guide.nothing for page in pages))

    def drawings() -> list[Drawing]:
        if order.strips:
            return _strips(state, pages, order)
        if order.sheet is None:
            return [_one_page(state, page) for page in pages]
        return [_open_side(state, order.sheet.name, side) for side in sides if any(side.pages)]

    return drawn(order, drawings, lambda: (line for page in pages for line in _told(state, page)))


class _Side(NamedTuple):
    """A side of a sheet, or one page alone, with the guides of what stands on it."""

    which: SheetSide | None
    pages: tuple[_GuidedPage | None, ...]


def _sides(order: PaperRequest) -> list[_Side]:
    """What is to be guided: a page, or the sides of a sheet."""
    state, sheet = order.job.state, order.sheet
    if sheet is not None:
        sides = [order.side] if order.side is not None else list(SheetSide)
        return [_Side(side, tuple(_guided(state, page) for page in sheet.side(side).halves)) for side in sides]
    page = order.page
    if page is None:
        index = next_to_write(state, -1)
        if index is None:
            raise NotAllowedError("no page of this book is still to be written; a guide shows what is")
        page = Page.at(index)
    return [_Side(None, (_guided(state, page),))]


def _guided(state: BookState, page: Page | None) -> _GuidedPage | None:
    if page is None:
        return None
    (ruled,) = templates(state, page)
    script, height = state.book.script, ruled.layout.line_height
    x_height = script.nib * script.heights[0] if script.nib is not None else _X_HEIGHT * height
    return _GuidedPage(guide(state, page), ruled, min(x_height / ink("x", fonts.ROMAN).high, _TALLEST * height))


def _told(state: BookState, page: _GuidedPage) -> Iterator[str]:
    """The same as plain text."""
    found = page.guide
    yield f"{_title(state, page)}: {_hand_words(found)}"
    if found.nothing:
        yield f"{capital(found.nothing)}."
        return
    rows = [
        (line.column, line.line, place, _spare(line), sanitize(line.text)) for line, place in found.changed_places()
    ]
    yield from ("", *laid_out(("column", "line", "exemplar", "to spare", "words"), rows), "")
    yield from notes_of(found)
    yield from (f"{name}: {words}" for name, words in _foot(found))


def _title(state: BookState, page: _GuidedPage) -> str:
    title = state.book.title
    return f"{title}: guide, {page.guide.label}" if title else f"Guide, {page.guide.label}"


def _hand_words(found: Guide) -> str:
    left = f"{count_of(len(found.lines), 'line')} to write"
    done = f", {count_of(len(found.written), 'line')} written" if found.written else ""
    return f"hand {found.hand}, {decimal(found.letters, 1)} letters to a line; {left}{done}"


def _spare(line: GuideLine) -> int:
    return math.floor(line.spare_letters + 1e-6)


def _foot(found: Guide) -> list[tuple[str, str]]:
    """What is written in the foot margin: its name and its words."""
    marks = (("catchword", found.marks.catchword), ("signature", found.marks.signature))
    return [(name, words) for name, words in marks if words]


def _one_page(state: BookState, page: _GuidedPage) -> Drawing:
    layout = page.layout
    width = max(layout.width + 2 * BESIDE, LEAST_WIDTH)
    title = f"{_title(state, page)}, {'recto' if page.ruled.side is Side.RECTO else 'verso'}"
    return _laid(title, _hand_words(page.guide), width, [(page, page_corner(layout)[0])], layout.height)


def _open_side(state: BookState, name: str, side: _Side) -> Drawing:
    """A side of a sheet as it lies; where a half has no leaf, its place stays blank."""
    layout = state.layout
    shown = [(page, BESIDE + at * layout.width) for at, page in enumerate(side.pages) if page is not None]
    title = f"{state.book.title}: guide, sheet {name}, {side.which} side"
    said = "; ".join(f"{page.guide.label}: {_hand_words(page.guide)}" for page, _ in shown)
    return _laid(title, said, 2 * layout.width + 2 * BESIDE, shown, layout.height)


def _laid(title: str, said: str, width: float, shown: Sequence[tuple[_GuidedPage, float]], height: float) -> Drawing:
    """Pages side by side, each from its left edge in mm, with words above and below."""
    room = min(width, HEADING_WIDTH)
    notes = [_KEY]
    for page, _ in shown:
        named = f"{page.guide.label}, " if len(shown) > 1 else ""
        notes += [f"{named}{note}" for note in notes_of(page.guide)]
        notes += [f"{capital(page.guide.nothing)}."] if page.guide.nothing else []
    lines = [line for note in notes for line in fonts.lines(note, _SMALL, room - 2)]
    low = ABOVE + height + BELOW
    marks = (
        Words(room / 2, 4, fonts.fitting(title, 4, room, fonts.BOLD), 4, "middle", strong=True),
        Words(room / 2, 8.5, fonts.fitting(said, 2.5, room), 2.5, "middle"),
        *(lowered(mark, ABOVE, left) for page, left in shown for mark in _page(page)),
        *check_bar(room / 2, ABOVE + height + 6.5),
        *(Words(1.0, low + _SMALL_LINE * at, line, _SMALL) for at, line in enumerate(lines, 1)),
    )
    return Drawing(title, width, low + _SMALL_LINE * (len(lines) + 1), marks)


def _page(page: _GuidedPage) -> Iterator[Mark]:
    """A page and what is to be written on it, in mm from its upper left corner."""
    layout, side = page.layout, page.ruled.side
    lefts = layout.column_lefts(side)
    for column, done in page.guide.written:
        yield _written(layout, lefts[column - 1], done, (0.0, layout.measure))
    yield from page_drawn(page.ruled, pale=True)
    for line, place in page.guide.changed_places():
        left, y = lefts[line.column - 1], layout.baselines[line.line - 1]
        if line.written:
            yield _written(layout, left, line.line, (line.room[0][0], line.written))
        yield from (lowered(mark, y, left) for mark in _words(line, page, layout.line_height))
        before, after = _room_beside(layout, side, line.column)
        yield from _figure(place, left - _OFF, y, before, end=True)
        yield from _figure(str(_spare(line)), left + layout.measure + _OFF, y, after, end=False)
    yield from _below(page)


def _written(layout: PageLayout, left: float, line: int, stretch: tuple[float, float]) -> Box:
    """What hides the part of a line that is written already."""
    top, low = layout.line_band(line)
    inset = (low - top) * 0.2
    return Box(left + stretch[0], top + inset, stretch[1] - stretch[0], low - top - inset, "written")


def _words(line: GuideLine, page: _GuidedPage, step: float) -> Iterator[Mark]:
    """The words of a line, from the beginning of its baseline; the end of a verse may stand ``step`` below or above."""
    for word in line.words:
        yield from (lowered(mark, word.off * step) for mark in _word(word, page.size))
    over = [word for word in line.words if word.off]
    if over:  # the mark before words turned into another line
        x, y = over[0].left - _OFF, over[0].off * step
        yield DrawnLine(x, y - page.size / 2, x, y + _UNDER, "bar")


def _word(word: GuideWord, size: float) -> Iterator[Mark]:
    """One word with what marks it."""
    end = word.left + word.width
    colour = RED if word.rubric else _TEXT
    yield Words(word.left, 0, sanitize(word.text), size, wide=word.width, colour=colour)
    if word.painted:
        share = min(word.painted / max(len(word.text), 1), 1.0)
        yield DrawnLine(word.left, _UNDER, word.left + word.width * share, _UNDER, "fold")
    if word.watched:
        yield DrawnLine(word.left, _UNDER, end, _UNDER, "cut")
        numbers = ",".join(map(str, word.watched))
        yield Words(end, -0.62 * size, numbers, _SMALL, "middle", strong=True, colour=RED)


def _room_beside(layout: PageLayout, side: Side, column: int) -> tuple[float, float]:
    """The room for figures at the left and at the right of a column, in mm: the margin, or a share of the gap."""
    inner, outer = layout.margins.inner, layout.margins.outer
    left, right = (inner, outer) if side is Side.RECTO else (outer, inner)
    before = left if column == 1 else layout.gap * 0.6
    after = right if column == layout.columns else layout.gap * 0.4
    return before - 2 * _OFF, after - 2 * _OFF


def _figure(text: str, x: float, y: float, room: float, *, end: bool) -> Iterator[Words]:
    """A figure beside a line, made narrower where its room asks for that; none where it could not be read."""
    natural = fonts.width(text, _SMALL)
    if text and room >= _NARROWEST * natural:
        wide = room if natural > room else 0.0
        yield Words(x, y, text, _SMALL, "end" if end else "start", wide=wide)


def _below(page: _GuidedPage) -> Iterator[Mark]:
    """The catchword under the last column, and the signature there or below it, each with its name before it."""
    layout = page.layout
    right = layout.column_lefts(page.ruled.side)[-1] + layout.measure
    step = min(layout.line_height, layout.margins.foot / 3)
    for at, (name, words) in enumerate(_foot(page.guide), 1):
        wide = len(words) * layout.measure / page.guide.letters
        y = max(layout.ruled) + step * at
        yield Words(right, y, words, page.size, "end", wide=wide, colour=_TEXT)
        yield Words(right - wide - 2, y, name, _SMALL, "end")


def _strips(state: BookState, pages: Sequence[_GuidedPage], order: PaperRequest) -> list[Drawing]:
    """Every line on a strip of its own, on as many sheets of paper as it takes, with a line to cut along between."""
    layout, title = state.layout, f"{state.book.title}: guide in strips"
    width = max(_STRIP_LEFT + layout.measure + _STRIP_RIGHT, LEAST_WIDTH)
    paper = paper_named(order.paper)
    held = paper if width <= paper.width - 2 * MARGIN else paper.turned
    step = max(layout.line_height, _STRIP_LEAST)
    found = [(page, line, place) for page in pages for line, place in page.guide.changed_places()]
    most = len(found) if order.form == "svg" else int((held.height - 2 * MARGIN - ABOVE - BELOW) / step)
    drawings = []
    for first in range(0, len(found), most):
        shown = found[first : first + most]
        low = ABOVE + step * len(shown)
        marks: list[Mark] = [
            Words(1, 4, fonts.fitting(title, 4, width - 25, fonts.BOLD), 4, strong=True),
            Words(width, 4, f"page {first // most + 1} of {-(-len(found) // most)}", 2.6, "end"),
            Words(1, 9, "Cut along the red lines; lay a strip above the line you write.", 2.5),
            *(DrawnLine(0, ABOVE + step * at, width, ABOVE + step * at, "cut") for at in range(len(shown) + 1)),
            *check_bar(width / 2, low + 6.5),
        ]
        for at, (page, line, place) in enumerate(shown, 1):
            marks += (lowered(mark, ABOVE + step * at) for mark in _strip(page, line, place, step))
        drawings.append(Drawing(title, width, low + BELOW, tuple(marks)))
    return drawings


def _strip(page: _GuidedPage, line: GuideLine, place: str, step: float) -> Iterator[Mark]:
    """One strip, in mm from the left end of its lower edge: the words stand just above that."""
    y, right = -_UNDER_STRIP * page.layout.line_height, _STRIP_LEFT + page.layout.measure
    column = f"{line.column}." if page.layout.columns > 1 else ""
    yield Words(1, y, f"{page.guide.label}  {column}{line.line}", 2.4, strong=True)
    yield from _figure(place, _STRIP_LEFT - _OFF, y, _STRIP_LEFT / 2, end=True)
    for x in (_STRIP_LEFT, right):
        yield DrawnLine(x, y - page.size, x, 0, "pale")
    yield DrawnLine(_STRIP_LEFT, y, right, y, "pale")
    yield from (lowered(mark, y, _STRIP_LEFT) for mark in _words(line, page, step))
    yield from _figure(str(_spare(line)), right + _OFF, y, _STRIP_RIGHT - _OFF, end=False)
