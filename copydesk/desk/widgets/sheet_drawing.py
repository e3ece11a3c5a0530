"""One side of a loose sheet as it lies before the scribe: two pages side by side at the fold, or what is left."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.sanitize import sanitize
from copydesk.book.structure.gathering import Lies
from copydesk.desk.widgets.canvas import Canvas, TonedText
from copydesk.desk.widgets.page_drawing import PageRoom, draw_page

if TYPE_CHECKING:
    from copydesk.book.structure.page import Page
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount
    from copydesk.tracking.views.sheet_view import HalfAccount, SideAccount


_STUB = 4  # cells a stub is wide


class SheetPicture(NamedTuple):
    """The rows of the picture, the cell of the fold, and how many ruled lines one row stands for."""

    rows: list[list[TonedText]]
    fold: int
    lines_a_row: int


def lines_of_side(state: BookState, side: SideAccount) -> int:
    """Lines of a column on one side of a sheet, the more where its two pages are ruled otherwise."""
    return max((state.frame_of(each.page.index).lines for each in side.pages), default=state.frame.lines)


def draw_side(state: BookState, side: SideAccount, cursor: Page, width: int, height: int) -> SheetPicture:
    """Draw one side of a sheet in ``width`` by ``height`` cells, at most as high as its lines need."""
    half = max((width - 1) // 2, 8)
    lines = lines_of_side(state, side)
    lines_a_row = -(-lines // max(height - 2, 1))
    rows = -(-lines // lines_a_row)
    spare = min(max(height - 2 - rows, 0), 2)
    canvas = Canvas(2 * half + 1, rows + spare + 2)
    top = 1 + (spare + 1) // 2
    for each, left in ((side.left, 1), (side.right, half + 1)):
        room = PageRoom(left, top, half - 1, rows, lines_a_row)
        if each.page is not None:
            draw_page(canvas, state, each.page, room)
        else:
            _draw_missing(canvas, each, half)
    _draw_edges(canvas, side, half)
    for each in (side.left, side.right):
        _draw_labels(canvas, each, cursor, half)
    return SheetPicture(canvas.rows(), half, lines_a_row)


def _draw_missing(canvas: Canvas, missing: HalfAccount, half: int) -> None:
    """What there is where no leaf is: a stub at the fold, or nothing, and a word on it."""
    left = missing.lies is Lies.LEFT
    bottom = canvas.height - 1
    if missing.instead is not None and missing.instead.is_stub:
        edge = half - _STUB if left else half + _STUB
        canvas.down(edge, 1, bottom - 1, "╎", "edge")
        for row in (0, bottom):
            canvas.across(min(edge, half), row, _STUB + 1, "╌", "edge")
    words = missing.instead or ""
    room = half - _STUB - 2
    start = 1 if left else half + _STUB + 2
    for row, part in enumerate(_wrapped(words, room)):
        canvas.put(start + max((room - len(part)) // 2, 0), bottom // 2 + row, part, "quiet", room)


def _wrapped(words: str, room: int) -> list[str]:
    lines = [""]
    for word in words.split():
        if lines[-1] and len(lines[-1]) + 1 + len(word) > room:
            lines.append("")
        lines[-1] = f"{lines[-1]} {word}".strip()
    return lines


def _draw_edges(canvas: Canvas, side: SideAccount, half: int) -> None:
    bottom = canvas.height - 1
    for each, edge, corners in ((side.left, 0, "┌└"), (side.right, 2 * half, "┐┘")):
        if each.page is None:
            continue
        for row, corner in zip((0, bottom), corners, strict=True):
            canvas.across(min(edge, half) + 1, row, half - 1, "─", "edge")
            canvas.put(edge, row, corner, "edge")
        sign, tone = ("║", "space") if _bordered(each.page) else ("│", "edge")
        canvas.down(edge, 1, bottom - 1, sign, tone)
    canvas.down(half, 0, bottom + 1, "┊", "edge")
    canvas.put(half, 0, "┬", "edge")
    canvas.put(half, bottom, "┴", "edge")


def _bordered(account: PageAccount) -> bool:
    return any(space.plan.kind == "border" for space in account.spaces)


def _draw_labels(canvas: Canvas, each: HalfAccount, cursor: Page, half: int) -> None:
    """On the upper edge what the page is called and what comes next on it; on the lower what is signed there."""
    account, marks = each.page, each.marks
    if account is None or marks is None:
        return
    room, bottom = half - 3, canvas.height - 1
    recto = each.lies is Lies.RIGHT
    label = f" {marks.label}  {account.next_act} "
    start = 2 * half - 2 - min(len(label), room) if recto else 2
    canvas.put(start, 0, label, "cursor" if account.page == cursor else "label", room)
    signed = [f" {sanitize(mark)} " for mark in (marks.catchword, marks.signature) if mark]
    over = f" {account.over} over " if account.over > 0 else ""
    left = half + 2 if recto else 2
    taken = canvas.put(left, bottom, over, "wrong", room)
    for mark in signed:
        space = room - taken
        canvas.put(left + room - min(len(mark), space) - (0 if recto else 1), bottom, mark, "label", space)
