"""The grid: every gathering lying open, leaves side by side, recto above verso, the fold in the middle.

Drawn line by line, so that a book of any length costs what is seen.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, NamedTuple

from rich.segment import Segment
from textual.geometry import Region, Size
from textual.message import Message
from textual.reactive import var
from textual.scroll_view import ScrollView
from textual.strip import Strip

from copydesk.book.structure.page import Page, Side
from copydesk.desk.widgets.gathering_heading import TONES, brace, gathering_heading, joined
from copydesk.desk.widgets.grid_cells import PageCell, cell_of
from copydesk.tracking.state.page_content import placements_on
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.style import Style
    from textual import events

    from copydesk.book.structure.gathering import Gathering
    from copydesk.desk.widgets.gathering_heading import Piece
    from copydesk.tracking.state.book_state import BookState


BLOCK = 10
"""Lines a gathering takes: a heading, leaf numbers, three for rectos, three for versos, the brace, a blank."""

_MARGIN = 3
_FOLD = 2
_NARROWEST, _WIDEST = 9, 13


class Slot(NamedTuple):
    """One half of a sheet on the grid: its leaf (None where only a stub is there), and where it begins."""

    leaf: int | None
    label: str
    left: int
    sheet: int


class GatheringGrid(ScrollView, can_focus=True, inherit_bindings=False):
    """The gatherings of a book; the cursor stands on a page."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {f"grid--{tone}" for tone in TONES}
    """
    | Class | What it colours |
    | :- | :- |
    | `grid--head`, `grid--leaf` | A gathering's heading; the numbers of its leaves |
    | `grid--ink`, `grid--quiet`, `grid--wrong`, `grid--waits` | Pages, as their word says |
    | `grid--cursor` | The page under the cursor |
    | `grid--brace` | What joins the leaves of its sheet |
    """

    cursor: var[int] = var(0)

    class Moved(Message):
        """The cursor went to another page."""

        def __init__(self, page: Page) -> None:
            self.page = page
            super().__init__()

    class Chosen(Message):
        """The page under the cursor was clicked on again."""

    def __init__(self, state: BookState, *, cursor: int = 0) -> None:
        super().__init__()
        self.state = state
        self._cells: dict[int, tuple[object, PageCell]] = {}
        self._sure: dict[int, PageCell] = {}
        self._headings: dict[int, str] = {}
        self._slots: dict[int, tuple[Slot, ...]] = {}
        self.cell_width = _NARROWEST
        self.set_reactive(GatheringGrid.cursor, cursor)

    def on_mount(self) -> None:
        """Take the size of the book."""
        self._measure()

    def on_resize(self) -> None:
        """Wider cells where there is room."""
        self._slots.clear()
        self._cells.clear()
        self._sure.clear()
        self._headings.clear()
        self._measure()
        self.call_after_refresh(self._show_cursor)

    def show(self, state: BookState) -> None:
        """Show the book as it stands now."""
        if state is not self.state:
            self._cells.clear()
        self.state = state
        self._slots.clear()
        self._sure.clear()
        self._headings.clear()
        self.set_reactive(GatheringGrid.cursor, max(min(self.cursor, state.collation.pages - 1), 0))
        self._measure()
        self.refresh()

    def _measure(self) -> None:
        """Take the size of the book; a page has as much room as the commonest gathering leaves it."""
        collation = self.state.collation
        halves = max((len(gathering.leaves) for gathering in collation.gatherings[:4]), default=8) or 8
        high = BLOCK * len(collation.gatherings)
        bar = self.styles.scrollbar_size_vertical if high > self.outer_size.height else 0
        room = self.outer_size.width - bar - _MARGIN - _FOLD
        self.cell_width = max(_NARROWEST, min(room // halves, _WIDEST))
        widest = max((self._width_of(gathering) for gathering in collation.gatherings), default=0)
        self.virtual_size = Size(widest, high)

    @property
    def page(self) -> Page:
        """The page under the cursor."""
        return Page.at(self.cursor)

    def _width_of(self, gathering: Gathering) -> int:
        return _MARGIN + _FOLD + self.cell_width * len(gathering.halves)

    def slots(self, number: int) -> tuple[Slot, ...]:
        """The halves of the gathering at ``number`` (from 0) on the grid; stubs take little room."""
        if number not in self._slots:
            self._slots[number] = tuple(self._lay_slots(self.state.collation.gatherings[number]))
        return self._slots[number]

    def _lay_slots(self, gathering: Gathering) -> Iterator[Slot]:
        left = _MARGIN
        for at, half in enumerate(gathering.halves):
            if at == gathering.fold:
                left += _FOLD
            leaf = self.state.collation.number_of(half.id) if half.stands else None
            label = self._number(leaf) if leaf is not None else half.state.value
            yield Slot(leaf, label, left, half.sheet)
            left += self.cell_width if leaf is not None else 3

    def _number(self, leaf: int) -> str:
        """A leaf's number as the book counts; in figures where that has no room, never cut off."""
        label = self.state.book.number_of_leaf(leaf)
        return label if len(label) < self.cell_width else str(leaf)

    def watch_cursor(self, old: int, new: int) -> None:
        """Draw again what the cursor left and where it came."""
        collation = self.state.collation
        for index in (old, new):
            if 0 <= index < collation.pages:
                top = self._top_of(index)
                self.refresh(Region(0, top - self.scroll_offset.y, self.size.width, BLOCK))
        self._show_cursor()
        self.post_message(self.Moved(Page.at(new)))

    def _show_cursor(self) -> None:
        if 0 <= self.cursor < self.state.collation.pages:
            place = self.state.collation.place(self.page)
            slot = next((slot for slot in self.slots(place.gathering - 1) if slot.leaf == self.page.leaf), None)
            left = slot.left if slot else 0
            region = Region(max(left - _MARGIN, 0), self._top_of(self.cursor), self.cell_width + _MARGIN, BLOCK - 1)
            self.scroll_to_region(region, animate=False, force=True)

    def _top_of(self, index: int) -> int:
        return (self.state.collation.place(Page.at(index)).gathering - 1) * BLOCK

    def move(self, way: str) -> None:
        """Move the cursor: left, right, up, down, a gathering up or down, first, last."""
        pages = self.state.collation.pages
        if not pages:
            return
        index = self._target(way, pages)
        if index is not None and 0 <= index < pages:
            self.cursor = index

    def _target(self, way: str, pages: int) -> int | None:
        """Where a move would lead, None where nothing lies that way."""
        index, recto = self.cursor, self.cursor % 2 == 0
        if way in ("left", "right"):
            return index + (2 if way == "right" else -2)
        if way in ("first", "last"):
            return 0 if way == "first" else pages - 1
        if way == "up" and not recto:
            return index - 1
        if way == "down" and recto:
            return index + 1
        leaf = self._leaf_beyond(-1 if way in ("up", "gathering_up") else 1)
        if leaf is None:
            return None
        recto_there = recto if way.startswith("gathering") else way == "down"
        return Page(leaf, Side.RECTO if recto_there else Side.VERSO).index

    def _leaf_beyond(self, step: int) -> int | None:
        """The leaf at the same place in the gathering before or after."""
        collation = self.state.collation
        place = collation.place(self.page)
        numbers = collation.leaf_numbers(place.gathering + step)
        return numbers[min(place.leaf, len(numbers)) - 1] if numbers else None

    def cell(self, index: int) -> PageCell:
        """The cell of a page; looked at once each time the book is shown, worked out anew only where it changed."""
        if index not in self._sure:
            self._sure[index] = self._renewed(index)
        return self._sure[index]

    def _renewed(self, index: int) -> PageCell:
        state = self.state
        record = state.record(state.skin_at(index))
        spaces = tuple(state.space_record(each.id) for each in placements_on(state, index))
        key = (record, state.budget.pages[index], spaces, state.flaws.get(index // 2 + 1))
        kept = self._cells.get(index)
        if kept is None or kept[0] != key:
            kept = self._cells[index] = (key, cell_of(page_account(state, index), self.cell_width))
        return kept[1]

    def render_line(self, y: int) -> Strip:
        """One line of the screen."""
        left, top = self.scroll_offset
        number, row = divmod(top + y, BLOCK)
        if number >= len(self.state.collation.gatherings):
            return Strip.blank(self.size.width, self.rich_style)
        strip = Strip([Segment(text, self._style(tone)) for text, tone in joined(self._line(number, row))])
        return strip.crop_extend(left, left + self.size.width, self.rich_style)

    def _line(self, number: int, row: int) -> Iterator[Piece]:
        if row == 0:
            yield (self._heading(number), "head")
        elif row == 1:
            yield from self._numbers(number)
        elif row <= 7:
            yield from self._pages(number, Side.RECTO if row <= 4 else Side.VERSO, (row - 2) % 3)
        elif row == 8:
            yield (self._brace(number), "brace")

    def _heading(self, number: int) -> str:
        """What stands above a gathering; its pages are counted once each time the book is shown."""
        if number not in self._headings:
            self._headings[number] = gathering_heading(self.state, number, self.size.width)
        return self._headings[number]

    def picture(self) -> list[list[Piece]]:
        """What is on the screen now, line by line."""
        top, gatherings = self.scroll_offset.y, len(self.state.collation.gatherings)
        rows = (divmod(top + y, BLOCK) for y in range(self.size.height))
        return [list(joined(self._line(number, row))) if number < gatherings else [] for number, row in rows]

    def _style(self, name: str) -> Style:
        return self.get_component_rich_style(f"grid--{name}")

    def _numbers(self, number: int) -> Iterator[Piece]:
        at = 0
        fold = self._fold_at(number)
        for slot in self.slots(number):
            yield from self._gap(slot, at, fold)
            width = self.cell_width if slot.leaf is not None else 3
            label = slot.label if slot.leaf is not None else "┆"
            yield (label.center(width - 1).ljust(width)[:width], "leaf")
            at = slot.left + width

    def _fold_at(self, number: int) -> int:
        """The column of the fold line."""
        gathering = self.state.collation.gatherings[number]
        slots = self.slots(number)
        return slots[gathering.fold].left - _FOLD if gathering.fold < len(slots) else -1

    def _gap(self, slot: Slot, at: int, fold: int) -> Iterator[Piece]:
        if slot.left > at:
            blank = " " * (slot.left - at)
            if at <= fold < slot.left and at:
                blank = "┊" + " " * (slot.left - at - 1)
            yield (blank, "brace")

    def _pages(self, number: int, side: Side, row: int) -> Iterator[Piece]:
        at = 0
        fold = self._fold_at(number)
        place = self.state.collation.place(self.page) if self.state.collation.has(self.page) else None
        for slot in self.slots(number):
            if at == 0:
                yield f" {side.value} " if row == 0 else "   ", "leaf"
                at = _MARGIN
            yield from self._gap(slot, at, fold)
            if slot.leaf is None:
                yield (" ┆ ", "brace")
                at = slot.left + 3
                continue
            index = Page(slot.leaf, side).index
            mate = place is not None and place.gathering - 1 == number and place.sheet == slot.sheet
            yield from self._page_row(index, row, mate=mate)
            at = slot.left + self.cell_width

    def _page_row(self, index: int, row: int, *, mate: bool) -> Iterator[Piece]:
        cell, width = self.cell(index), self.cell_width
        at_cursor = index == self.cursor
        mark = "▐" if at_cursor else "│" if mate else " "
        yield mark, "brace"
        if row == 0:
            yield cell.written, cell.tone
            yield cell.planned, "quiet"
            yield cell.beyond, "wrong"
        elif row == 1:
            yield cell.word.ljust(width - 1), "cursor" if at_cursor else cell.tone
        else:
            yield cell.figures[: width - 1].ljust(width - 1), "wrong" if "+" in cell.figures else "quiet"

    def _brace(self, number: int) -> str:
        """What joins the two leaves of the cursor's sheet, with its name."""
        if not self.state.collation.has(self.page):
            return ""
        place = self.state.collation.place(self.page)
        if place.gathering - 1 != number:
            return ""
        middle = self.cell_width // 2
        ends = [slot.left + middle for slot in self.slots(number) if slot.sheet == place.sheet and slot.leaf]
        return brace(min(ends), max(ends), f" sheet {place.sheet}, {place.side} side, {place.surface} ")

    def on_click(self, event: events.Click) -> None:
        """Go to the page clicked on; a second click on it asks for what comes next."""
        index = self.index_at(event.x + self.scroll_offset.x, event.y + self.scroll_offset.y)
        if index is None:
            return
        if index == self.cursor:
            self.post_message(self.Chosen())
        else:
            self.cursor = index

    def index_at(self, x: int, y: int) -> int | None:
        """The page drawn at a place of the grid."""
        number, row = divmod(y, BLOCK)
        if not 2 <= row <= 7 or number >= len(self.state.collation.gatherings):
            return None
        side = Side.RECTO if row <= 4 else Side.VERSO
        for slot in self.slots(number):
            if slot.leaf is not None and slot.left <= x < slot.left + self.cell_width:
                return Page(slot.leaf, side).index
        return None
