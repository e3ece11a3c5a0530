"""One page drawn in place on a canvas: its columns and lines, spaces, flaws and faults, and where the pen is.

A line is solid as far as it is written, broken where text is planned for it, a thin rule where it is only ruled,
with the words that begin it where they are known. Where the canvas is low, one row stands for several lines.
"""

from __future__ import annotations

from itertools import pairwise
from math import ceil, floor
from typing import TYPE_CHECKING, NamedTuple

from rich.cells import cell_len

from copydesk.book.common.sanitize import sanitize
from copydesk.book.layout.flaws import flaw_place, room_around
from copydesk.book.layout.page_frame import SplitLine
from copydesk.book.structure.page import Side
from copydesk.desk.widgets.canvas import Canvas
from copydesk.tracking.checking.line_texts import line_texts
from copydesk.tracking.state.page_content import line_places
from copydesk.tracking.views.space_view import NotBegun

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from copydesk.book.layout.page_layout import PageLayout
    from copydesk.desk.widgets.canvas import TonedText
    from copydesk.tracking.checking.line_texts import LineText
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount
    from copydesk.tracking.views.space_view import SpaceAccount


SOLID, PARTLY, BROKEN, RULED = "━", "╍", "┄", "─"


class PageRoom(NamedTuple):
    """Where a page is drawn: its left cell and upper row, its width in cells, rows for its lines, lines to a row."""

    left: int
    top: int
    width: int
    rows: int
    lines_a_row: int

    def row(self, line: int) -> int:
        """The row of a written line (from 1)."""
        return self.top + (line - 1) // self.lines_a_row


class _Margins(NamedTuple):
    inner: int
    outer: int
    gap: int


class _Columns(NamedTuple):
    """The left cell of each column, and the width of all."""

    lefts: tuple[int, ...]
    width: int


def draw_page(canvas: Canvas, state: BookState, account: PageAccount, room: PageRoom) -> None:
    """Draw the inside of a page; its edges are drawn by whoever lays pages side by side."""
    columns = _columns(state.layout.columns, account.page.side, room, _longest_line(state, account))
    _lines(canvas, state, account, room, columns)
    for space in account.spaces:
        _space(canvas, state, space, room, columns)
    _flaws(canvas, state, account, room, columns)
    _signs(canvas, state, account, room, columns)


_MARGINS = (_Margins(3, 6, 3), _Margins(2, 3, 2), _Margins(1, 1, 1))
"""Cells around the columns, the widest first."""


def _columns(count: int, side: Side, room: PageRoom, longest: int) -> _Columns:
    """Where the columns stand: with margins as wide as leave room for the ``longest`` line and a stroke."""
    for margins in _MARGINS:
        free = room.width - margins.inner - margins.outer - margins.gap * (count - 1)
        width = max(free // count, 1)
        if width > longest + 1 and width * count >= room.width * _TEXT_SHARE:
            break
    first = room.left + (margins.inner if side is Side.RECTO else margins.outer)
    return _Columns(tuple(first + at * (width + margins.gap) for at in range(count)), width)


_TEXT_SHARE = 0.84
"""What the columns take of the width of a page at the least, so that a small picture is not all margin."""


def _longest_line(state: BookState, account: PageAccount) -> int:
    return max((cell_len(sanitize(str(line))) for line in line_texts(state, account.page.index)), default=0)


def _lines(canvas: Canvas, state: BookState, account: PageAccount, room: PageRoom, columns: _Columns) -> None:
    if account.record.has_ruling:
        for place in line_places(state, account.page.index):
            canvas.across(columns.lefts[place[0] - 1], room.row(place[1]), columns.width, RULED, "rule")
    rows: dict[tuple[int, int], list[tuple[LineText, bool]]] = {}
    for number, text in enumerate(line_texts(state, account.page.index), 1):
        line = text.line
        rows.setdefault((line.column, room.row(line.line)), []).append((text, number <= account.record.written))
    stretches = _stretches(state, account)
    for (column, row), found in rows.items():
        text = found[0][0]
        left, width = _stretch(stretches.get((text.line.column, text.line.line), (0.0, 1.0)), columns, column)
        _row(canvas, (left, row, width), sanitize(str(text)), [written for _, written in found])


def _row(canvas: Canvas, place: tuple[int, int, int], words: str, written: list[bool]) -> None:
    """The words that begin a row, and a stroke after them that tells whether its lines are written."""
    left, row, width = place
    sign, tone = (SOLID, "ink") if all(written) else (PARTLY, "ink") if any(written) else (BROKEN, "quiet")
    canvas.across(left, row, width, " ", tone)
    taken = canvas.put(left, row, words, tone, width - 1) if width > 4 else 0
    start = min(taken + 1, width - 1) if taken else 0
    canvas.across(left + start, row, width - start, sign, tone)


def _stretch(share: tuple[float, float], columns: _Columns, column: int) -> tuple[int, int]:
    """The first cell and the cells of the part of a column's line that text stands on."""
    first, last = (round(columns.width * each) for each in share)
    return columns.lefts[column - 1] + first, max(last - first, 1)


def _stretches(state: BookState, account: PageAccount) -> dict[tuple[int, int], tuple[float, float]]:
    """Lines on which text stands in a part only, as shares of the measure: beside an initial or a flaw."""
    index, measure = account.page.index, state.layout.measure
    frame = state.frames.get(index, state.frame)
    found = {
        (placement.column, line): (placement.share, 1.0)
        for space in account.spaces
        if (placement := space.placement) is not None and placement.share > 0.0
        for line in range(placement.from_line, placement.from_line + placement.lines)
    }
    # a line that goes on beyond a hole is drawn whole, and the hole upon it
    felt = {(column, line) for column, line, share in frame.flaws if share > 0.0 and not isinstance(share, SplitLine)}
    for touched in room_around(state.layout_on(index), account.flaws, account.page.side) if felt else ():
        if (touched.column, touched.line) in felt:
            first, last = touched.largest
            found[touched.column, touched.line] = (first / measure, last / measure)
    return found


def _space(
    canvas: Canvas, state: BookState, space: SpaceAccount, room: PageRoom, columns: _Columns, tone: str = "space"
) -> None:
    placement = space.placement
    if placement is None or not placement.lines:
        return
    top, bottom = room.row(placement.from_line), room.row(placement.from_line + placement.lines - 1)
    left, width = columns.lefts[max(placement.column - 1, 0)], columns.width
    if placement.column == 0:
        width += columns.lefts[state.layout.columns - 1] - left
    elif placement.share > 0.0:
        width = min(max(round(width * placement.share), 2), width)
    label = space.plan.id if space.stage is NotBegun.RESERVED else f"{space.plan.id}: {space.stage}"
    canvas.box(left, top, width, bottom - top + 1, sanitize(label), tone)


def _flaws(canvas: Canvas, state: BookState, account: PageAccount, room: PageRoom, columns: _Columns) -> None:
    """Every cell a flaw reaches into sideways by half, every row it reaches into at all."""
    layout, side = state.layout_on(account.page.index), account.page.side
    for flaw in account.flaws:
        place = flaw_place(layout, flaw, side)
        left, right = (round(_on_scale(mm, _across(layout, side, room, columns))) for mm in (place.left, place.right))
        top, bottom = (_on_scale(mm, _down(layout, room)) for mm in (place.top, place.bottom))
        for row in range(floor(top), max(ceil(bottom), floor(top) + 1)):
            canvas.across(left, row, max(right - left, 1), "╳", "wrong")


def _across(layout: PageLayout, side: Side, room: PageRoom, columns: _Columns) -> list[tuple[float, float]]:
    """Where millimetres from the page's left edge fall, in cells: at its edges and those of every column."""
    lefts = zip(layout.column_lefts(side), columns.lefts, strict=True)
    edges = [pair for mm, cell in lefts for pair in ((mm, cell), (mm + layout.measure, cell + columns.width))]
    return [(0.0, room.left), *edges, (layout.width, room.left + room.width)]


def _down(layout: PageLayout, room: PageRoom) -> list[tuple[float, float]]:
    """Where millimetres from the head edge fall, in rows; the margins have hardly any."""
    last = room.top + layout.lines / room.lines_a_row
    foot = layout.margins.head + layout.lines * layout.line_height
    return [(0.0, room.top - 1), (layout.margins.head, room.top), (foot, last), (layout.height, last + 1)]


def _on_scale(length: float, scale: Sequence[tuple[float, float]]) -> float:
    for (mm, cell), (next_mm, next_cell) in pairwise(scale):
        if length <= next_mm and next_mm > mm:
            return cell + (next_cell - cell) * max(length - mm, 0.0) / (next_mm - mm)
    return scale[-1][1]


def _signs(canvas: Canvas, state: BookState, account: PageAccount, room: PageRoom, columns: _Columns) -> None:
    """Beside a column's lines: where the pen goes on, and where faults are open."""
    pen = _pen(state, account)
    if pen is not None:
        canvas.put(columns.lefts[pen[0] - 1] - 1, room.row(pen[1]), "▸", "label")
    for column, line in _fault_places(account):
        if column <= state.layout.columns:
            canvas.put(columns.lefts[column - 1] - 1, room.row(line), "!", "wrong")


def _pen(state: BookState, account: PageAccount) -> tuple[int, int] | None:
    """Column and line of the next line to write, None where none is next."""
    if account.record.whole or not account.record.has_ruling:
        return None
    places = line_places(state, account.page.index)
    written = account.record.written
    return places[written] if written < min(len(places), account.budget.planned) else None


def _fault_places(account: PageAccount) -> Iterator[tuple[int, int]]:
    for fault in account.record.open_faults:
        if fault.line is not None:
            yield fault.column or 1, fault.line


SMALL_COLUMN, SMALL_ROWS = 13, 12
"""Cells of a column and rows of lines, at most, in the small picture of a page."""


def draw_small_page(state: BookState, account: PageAccount, space: str, within: int) -> list[list[TonedText]]:
    """A small picture of a page in ``within`` cells: its columns, what is written, its spaces by name.

    The space called ``space`` is marked.
    """
    frame = state.frame_of(account.page.index)
    lines_a_row = max(-(-frame.lines // SMALL_ROWS), 1)
    rows = -(-frame.lines // lines_a_row)
    column_width = max(min(SMALL_COLUMN, (within - 3) // frame.columns - 1), 1)
    width = frame.columns * (column_width + 1) + 1
    canvas = Canvas(width + 2, rows + 2)
    room = PageRoom(1, 1, width, rows, lines_a_row)
    columns = _Columns(tuple(2 + at * (column_width + 1) for at in range(frame.columns)), column_width)
    canvas.box(0, 0, width + 2, rows + 2, "", "axis")
    canvas.put(2, 0, f" {state.book.named(account.page)} ", "axis")
    for number, (column, line) in enumerate(line_places(state, account.page.index), 1):
        is_written = number <= account.record.written
        sign, tone = (SOLID, "axis") if is_written else (RULED if account.record.has_ruling else "·", "planned")
        canvas.across(columns.lefts[column - 1], room.row(line), column_width, sign, tone)
    for each in sorted(account.spaces, key=lambda each: each.plan.id == space):
        _space(canvas, state, each, room, columns, "expected" if each.plan.id == space else "waits")
    return canvas.rows()
