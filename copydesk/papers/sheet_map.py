"""The sheet map: what stands on each side of each sheet of each gathering, to lie beside the pile.

Drawn, each sheet's outer side is on the left and its inner side on the right, as it lies on the desk. The hair side is
tinted, the flesh side white; the fold is dotted; the half of a leaf that is gone is left out.
"""

from __future__ import annotations

import math
from itertools import zip_longest
from textwrap import wrap
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.phrases import count_of, say_day
from copydesk.book.common.sanitize import sanitize
from copydesk.book.common.units import show_size
from copydesk.book.structure.openings import opening_label, unlike_openings, why_unlike
from copydesk.book.structure.page import Surface
from copydesk.book.structure.sheets import open_sheets
from copydesk.papers.drawing import typesetting as fonts
from copydesk.papers.drawing.paper_sheets import paper_named
from copydesk.papers.drawing.shapes import Box, Drawing, DrawnLine, Mark, Words, lowered
from copydesk.papers.drawing.tiling import MARGIN
from copydesk.papers.paper_forms import drawn
from copydesk.tracking.ledger.entry_kinds import SheetPlace
from copydesk.tracking.views.narrow_lines import narrow_sentences
from copydesk.tracking.views.page_view import ActKind
from copydesk.tracking.views.sheet_view import sheet_account

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.papers.paper_forms import PaperRequest
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount
    from copydesk.tracking.views.sheet_view import HalfAccount, SheetAccount, SideAccount
    from copydesk.tracking.views.space_view import SpaceAccount


_HALF_LETTERS = 37  # letters to each half of a side in the plain form
_WIDTH = 190.0  # of the drawing, mm, as all lengths below
_SIDE, _GAP = 92.0, 6.0  # a side's width, and the blank between the two sides
_SIZE, _LEADING, _INSET = 2.3, 3.2, 2.0
_HEAD, _FOOT, _TITLE, _NAME = 6.5, 4.5, 10.0, 6.0
_STUB = 4.0


def printed(order: PaperRequest) -> bytes:
    """Make the map: as PDF on as many sheets of paper as it takes, as one long SVG drawing, or as plain text.

    Raises:
        UnknownNameError: where we print on no such paper.
    """
    state = order.job.state
    maps = _gathering_maps(state)
    title = f"{state.book.title}: sheet map, {say_day(order.job.clock().date())}"

    def drawings() -> list[Drawing]:
        height = math.inf if order.form == "svg" else paper_named(order.paper).height - 2 * MARGIN
        return _drawings(state, maps, title, height)

    return drawn(order, drawings, lambda: _told(state, maps, title))


class _HalfWords(NamedTuple):
    """A half in words: its page's label and what comes next on it, what stands there, what is signed at its foot."""

    label: str
    next_act: str
    lines: tuple[str, ...]
    foot: str


class _GatheringMap(NamedTuple):
    """A gathering on the map: its heading, its sheets from the outermost, remarks on openings that break."""

    heading: str
    sheets: tuple[SheetAccount, ...]
    remarks: tuple[str, ...]


def _gathering_maps(state: BookState) -> list[_GatheringMap]:
    """Every gathering of the book of which a leaf stands."""
    collation, numbering = state.collation, state.book.signing.foliation
    remarks: dict[int, list[str]] = {}
    for opening in unlike_openings(collation):
        said = f"At {opening_label(opening, numbering)} hair faces flesh: {why_unlike(collation, opening, numbering)}."
        remarks.setdefault(opening.gatherings[0], []).append(said)
    return [
        _GatheringMap(
            _heading(state, gathering.number),
            tuple(sheet_account(state, sheet) for sheet in open_sheets(collation, gathering.number)),
            tuple(remarks.get(gathering.number, ())),
        )
        for gathering in collation.gatherings
        if gathering.leaves
    ]


def _heading(state: BookState, number: int) -> str:
    gathering = state.collation.gathering(number)
    span = state.book.leaves_named(state.collation.leaf_numbers(number))
    sheets = count_of(len(gathering.sheet_numbers()), "sheet")
    return f"Gathering {number}: {span}, {sheets}, {gathering.leaves[0].recto} outward"


def _sheet_words(sheet: SheetAccount) -> str:
    """What a sheet is called, and where it is when it is not at the desk."""
    place = sheet.record.place.words if sheet.record.place is not SheetPlace.DESK else ""
    who = f", {sheet.record.who}" if place and sheet.record.who else ""
    return sanitize(f"Sheet {sheet.sheet.name}{f' ({place}{who})' if place else ''}")


def _half_words(state: BookState, half: HalfAccount) -> _HalfWords:
    """A half of a side in words."""
    account, marks = half.page, half.marks
    if account is None or marks is None:
        return _HalfWords("", "", (half.instead or "",), "")
    foot = f"{marks.signature}{'   ' if marks.signature and marks.catchword else ''}"
    if marks.catchword:
        foot += f'catchword "{marks.catchword}"'
    ruling = [] if account.next_act.kind is ActKind.BLANK else [_lines(account)]
    narrow = narrow_sentences(state, account.page.index)
    lines = (_text(state, account), *ruling, *map(_space, account.spaces), *_flaws(state, account), *narrow)
    return _HalfWords(marks.label, str(account.next_act), lines, sanitize(foot))


def _text(state: BookState, account: PageAccount) -> str:
    if account.budget.start >= account.budget.end:
        return "no text"
    if state.exemplar is None:
        return f"words {account.from_word} to {account.to_word}"
    return f'"{account.first_words}" to "{account.last_words}"'


def _lines(account: PageAccount) -> str:
    ruled = "ruled" if account.record.has_ruling else "to rule"
    said = f"{account.ruled_lines} lines {ruled}, {account.record.written} of {account.budget.planned} written"
    return f"{said}, {account.over} over" if account.over > 0 else said


def _space(space: SpaceAccount) -> str:
    placement = space.placement
    where = ""
    if placement is not None and placement.lines:
        column = "across" if placement.column == 0 else f"column {placement.column}"
        where = f", {column}, lines {placement.from_line} to {placement.from_line + placement.lines - 1}"
    return f"{space.plan.id}: {space.plan.kind}, {space.stage}{where}"


def _flaws(state: BookState, account: PageAccount) -> list[str]:
    return [f"flaw of {show_size(flaw.width, flaw.height, state.book.unit)}" for flaw in account.flaws]


def _told(state: BookState, maps: list[_GatheringMap], title: str) -> Iterator[str]:
    yield title
    for each in maps:
        yield from ("", each.heading)
        for sheet in each.sheets:
            for side in (sheet.outer, sheet.inner):
                yield from ("", f"{_sheet_words(sheet)}, {side.side} side up, {side.surface}")
                halves = (_half_lines(_half_words(state, half)) for half in (side.left, side.right))
                for left, right in zip_longest(*halves, fillvalue=""):
                    yield f"  {left:<{_HALF_LETTERS}} ┊ {right}".rstrip()
        if each.remarks:
            yield from ("", *each.remarks)


def _half_lines(said: _HalfWords) -> list[str]:
    head = [f"{said.label:<{_HALF_LETTERS - len(said.next_act)}}{said.next_act}"] if said.label else []
    foot = [said.foot] if said.foot else []
    return [*head, *(part for line in (*said.lines, *foot) for part in wrap(line, _HALF_LETTERS))]


class _Block(NamedTuple):
    """What is never split over two pages: its height in mm, and its marks from its upper left corner."""

    height: float
    marks: tuple[Mark, ...]


def _drawings(state: BookState, maps: list[_GatheringMap], title: str, height: float) -> list[Drawing]:
    """The map as drawings at most ``height`` mm high; a gathering goes on over the page under its name."""
    head = Words(0, 5, fonts.fitting(title, 4, _WIDTH - 25, fonts.BOLD), 4, strong=True)
    pages: list[list[Mark]] = [[head]]
    y = _TITLE
    for each in maps:
        for at, block in enumerate(_blocks(state, each)):
            heading = _heading_block(f"{each.heading}, continued" if at else each.heading)
            needed = block.height + (0.0 if at else heading.height)
            if y + needed > height and y > _TITLE:
                pages.append([head])
                y = _TITLE
            for put in (heading, block) if at == 0 or y == _TITLE else (block,):
                pages[-1] += (lowered(mark, y) for mark in put.marks)
                y += put.height
    ends = [_lowest(page) for page in pages]
    for number, page in enumerate(pages, 1):
        page.append(Words(_WIDTH, 5, f"page {number} of {len(pages)}", 2.6, "end"))
    return [Drawing(title, _WIDTH, end, tuple(page)) for end, page in zip(ends, pages, strict=True)]


def _lowest(page: list[Mark]) -> float:
    ends = [
        mark.top + mark.height if isinstance(mark, Box) else mark.y for mark in page if isinstance(mark, Box | Words)
    ]
    return max(ends, default=_TITLE) + 2.0


def _heading_block(said: str) -> _Block:
    return _Block(8.0, (Words(0, 5.5, said, 3.2, strong=True),))


def _blocks(state: BookState, each: _GatheringMap) -> Iterator[_Block]:
    for sheet in each.sheets:
        yield _sheet(state, sheet)
    for remark in each.remarks:
        yield _Block(4.5, (Words(0, 3.2, fonts.fitting(remark, 2.6, _WIDTH), 2.6),))


def _sheet(state: BookState, sheet: SheetAccount) -> _Block:
    """Both sides of a sheet beside each other, as high as the half with most to say needs."""
    sides = (sheet.outer, sheet.inner)
    tallest = max(len(_wrapped(state, half)) for side in sides for half in (side.left, side.right))
    height = _HEAD + tallest * _LEADING + _FOOT
    marks: list[Mark] = [
        Words(0, 3.6, _sheet_words(sheet), 2.8, strong=True),
        Words(_SIDE, 3.6, f"{sheet.outer.side} side, {sheet.outer.surface}", 2.6, "end"),
        Words(_SIDE + _GAP, 3.6, f"{sheet.inner.side} side, {sheet.inner.surface}", 2.6),
    ]
    for side, left in zip(sides, (0.0, _SIDE + _GAP), strict=True):
        marks += (lowered(mark, _NAME - 1.0, left) for mark in _side(state, side, height))
    return _Block(height + _NAME + 2.0, tuple(marks))


def _side(state: BookState, side: SideAccount, height: float) -> Iterator[Mark]:
    middle = _SIDE / 2
    for half, left in ((side.left, 0.0), (side.right, middle)):
        if half.page is not None:
            yield Box(left, 0, middle, height, "sheet" if side.surface is Surface.HAIR else "edge")
        elif half.instead is not None and half.instead.is_stub:
            yield Box(middle - _STUB if left == 0.0 else middle, 0, _STUB, height, "crease")
        # the words about a leaf that is gone keep clear of its stub at the fold
        start = left if half.page is not None or left == 0.0 else middle + _STUB
        yield from _half(state, half, start, height)
    yield DrawnLine(middle, 0, middle, height, "crease")


def _half(state: BookState, half: HalfAccount, left: float, height: float) -> Iterator[Mark]:
    said = _half_words(state, half)
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
    return [part for line in _half_words(state, half).lines for part in fonts.lines(line, _SIZE, room)]


def _room(half: HalfAccount) -> float:
    return _SIDE / 2 - 2 * _INSET - (0.0 if half.page is not None else _STUB)
