"""The gatherings: those round the cursor lying open, the others a line each. Any book costs what is seen of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.geometry import Region
from textual.message import Message
from textual.reactive import var

from copydesk.book.structure.page import Page, Side
from copydesk.desk.widgets.gathering_drawing import ClosedLine, Marks, OpenGathering, closed_line, heading
from copydesk.desk.widgets.gathering_layout import GatheringLayout, lay_out
from copydesk.desk.widgets.grid_rows import CLOSED, GridRoom, Hidden, ShownRow
from copydesk.desk.widgets.page_cell import cell_needs
from copydesk.desk.widgets.pick_list import SecondClick
from copydesk.desk.widgets.toned_lines import TonedLines
from copydesk.desk.wording.cell_words import cell_words
from copydesk.tracking.state.page_content import placements_on
from copydesk.tracking.views.gathering_progress import page_glance
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from textual import events
    from textual.strip import Strip

    from copydesk.book.structure.gathering import Gathering
    from copydesk.desk.widgets.grid_rows import Rows
    from copydesk.desk.widgets.toned_lines import Piece
    from copydesk.desk.wording.cell_words import CellWords
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.gathering_progress import PageGlance


class GatheringGrid(TonedLines, can_focus=True, inherit_bindings=False):
    """The gatherings of a book; the cursor stands on a page."""

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
        self.closed = False
        self._click = SecondClick()
        self._ahead: int | None = None
        self._first = 0
        self._follows = True
        self._words: dict[int, tuple[object, CellWords]] = {}
        self._sure: dict[int, CellWords] = {}
        self._layouts: dict[int, GatheringLayout] = {}
        self._glances: dict[int, list[PageGlance]] = {}
        self._drawn: dict[int, list[list[Piece]]] = {}
        self._lines: dict[int, ClosedLine] = {}
        self._strips: dict[ShownRow, Strip] = {}
        self._strips_before: dict[ShownRow, tuple[list[Piece], Strip]] = {}
        self._shown: Rows = []
        self._hands = _hand_ids(state)
        self.set_reactive(GatheringGrid.cursor, cursor)

    # what is shown

    def on_resize(self) -> None:
        """Lay everything out in the new room."""
        self._strips_before.clear()
        self._forget()
        self._arrange()
        self.refresh()

    def show(self, state: BookState) -> None:
        """Show the book as it stands now."""
        if state is not self.state:
            self._words.clear()
        self.state = state
        self._hands = _hand_ids(state)
        self._sure.clear()
        self._forget()
        self._strips_before = {row: kept for row, kept in self._strips_before.items() if row in self._shown}
        self.set_reactive(GatheringGrid.cursor, max(min(self.cursor, state.collation.pages - 1), 0))
        self._arrange()
        self.refresh()

    def show_ahead(self, index: int | None) -> None:
        """Mark the page to write next of all."""
        if index != self._ahead:
            changed = {self._gathering_of(at) for at in (self._ahead, index) if at is not None}
            self._ahead = index
            for number in changed:
                self._redraw(number)

    def show_closed(self, closed: bool) -> None:
        """Show a line for every gathering, or open those round the cursor again."""
        self.closed = closed
        self._follows = True
        self._arrange()
        self.refresh()

    def _forget(self) -> None:
        for kept in (self._layouts, self._glances, self._drawn, self._lines, self._strips):
            kept.clear()

    @property
    def page(self) -> Page:
        """The page under the cursor."""
        return Page.at(self.cursor)

    @property
    def _gatherings(self) -> tuple[Gathering, ...]:
        return self.state.collation.gatherings

    def _gathering_of(self, index: int) -> int:
        """The gathering (from 0) a page is in; 0 where the book has no such page."""
        collation = self.state.collation
        page = Page.at(index)
        return collation.place(page).gathering - 1 if collation.has(page) else 0

    def _marks(self) -> Marks:
        collation = self.state.collation
        return Marks(collation.place(self.page) if collation.has(self.page) else None, self._ahead)

    # which gatherings lie open

    def _arrange(self) -> None:
        """Decide for every row of the screen what it shows."""
        here = self._gathering_of(self.cursor)
        room = GridRoom(len(self._gatherings), self.size.height, self.layout_of)
        if not room.height or not room.gatherings:
            self._shown = []
        elif self.closed:
            self._first = room.first_line(self._first, here if self._follows else None)
            self._shown = room.closed(self._first)
        else:
            if self._follows:
                self._first = room.first_open(self._first, here)
            verso = self.page.side is Side.VERSO and here == self._first
            self._shown = room.half_open(self._first, verso=verso)

    # what the rows say

    def words(self, index: int) -> CellWords:
        """What a page's cell says; looked at once each time the book is shown, made anew only where it changed."""
        if index not in self._sure:
            self._sure[index] = self._renewed(index)
        return self._sure[index]

    def _renewed(self, index: int) -> CellWords:
        state = self.state
        record = state.record(state.skin_at(index))
        spaces = tuple(state.space_record(each.id) for each in placements_on(state, index))
        key = (record, state.budget.pages[index], spaces)
        kept = self._words.get(index)
        if kept is None or kept[0] != key:
            kept = self._words[index] = (key, cell_words(page_account(state, index)))
        return kept[1]

    def _pages_in(self, number: int) -> range:
        leaves = self.state.collation.leaf_numbers(self._gatherings[number].number)
        return range(2 * leaves.start - 2, 2 * leaves.stop - 2)

    def layout_of(self, number: int) -> GatheringLayout:
        """Where the leaves of the gathering at ``number`` (from 0) stand."""
        found = self._layouts.get(number)
        if found is None:
            needs = cell_needs(self.words(index) for index in self._pages_in(number))
            leaf = self.page.leaf if self._gathering_of(self.cursor) == number else None
            found = lay_out(self.state, self._gatherings[number], self.size.width, needs, leaf)
            self._layouts[number] = found
        return found

    def _glances_of(self, number: int) -> list[PageGlance]:
        if number not in self._glances:
            self._glances[number] = [page_glance(self.state, index) for index in self._pages_in(number)]
        return self._glances[number]

    def _closed_line(self, number: int) -> ClosedLine:
        if number not in self._lines:
            gathering, glances = self._gatherings[number], self._glances_of(number)
            self._lines[number] = closed_line(self.state, gathering, glances, self.size.width, self.cursor)
        return self._lines[number]

    def _rows_of(self, number: int) -> list[list[Piece]]:
        if number not in self._drawn:
            gathering, width = self._gatherings[number], self.size.width
            above = heading(self.state, gathering, self._glances_of(number), width)
            drawn = OpenGathering(self.state, gathering, self.layout_of(number), self.words, self._hands)
            self._drawn[number] = drawn.rows(self._marks(), above, width)
        return self._drawn[number]

    def _pieces(self, shown: ShownRow | Hidden | None) -> list[Piece]:
        if shown is None:
            return []
        if isinstance(shown, Hidden):
            return [(f"      {shown}", "soft")]
        if shown.row == CLOSED:
            return self._closed_line(shown.gathering).pieces
        return self._rows_of(shown.gathering)[shown.row]

    def row_at(self, y: int) -> ShownRow | None:
        """What of a gathering stands in a row of the widget; None where nothing does."""
        shown = self._shown[y] if 0 <= y < len(self._shown) else None
        return shown if isinstance(shown, ShownRow) else None

    def render_line(self, y: int) -> Strip:
        """One line of the screen."""
        shown = self._shown[y] if y < len(self._shown) else None
        if not isinstance(shown, ShownRow):
            return self.strip(self._pieces(shown))
        if shown not in self._strips:
            pieces, before = self._pieces(shown), self._strips_before.get(shown)
            if before is None or before[0] != pieces:
                before = self._strips_before[shown] = (pieces, self.strip(pieces))
            self._strips[shown] = before[1]
        return self._strips[shown]

    def notify_style_update(self) -> None:
        """Draw in the colours of another look."""
        self._strips.clear()
        self._strips_before.clear()
        super().notify_style_update()

    def picture(self) -> list[list[Piece]]:
        """What is on the screen now, line by line."""
        return [self._pieces(shown) for shown in self._shown[: self.size.height]]

    # the cursor

    def watch_cursor(self, old: int, new: int) -> None:
        """Draw again what the cursor left and where it came."""
        self._click.moved_to(new)
        before = self._shown
        numbers = {self._gathering_of(old), self._gathering_of(new)}
        for number in numbers:
            layout = self._layouts.get(number)
            if layout is not None and not layout.whole:
                del self._layouts[number]
        self._follows = True
        self._arrange()
        for number in numbers:
            self._redraw(number)
        if self._shown != before:
            self.refresh()
        self.post_message(self.Moved(Page.at(new)))

    def _redraw(self, number: int) -> None:
        """Draw the rows of one gathering anew."""
        self._drawn.pop(number, None)
        self._lines.pop(number, None)
        rows = [y for y, shown in enumerate(self._shown) if isinstance(shown, ShownRow) and shown.gathering == number]
        for kept in [shown for shown in self._strips if shown.gathering == number]:
            del self._strips[kept]
        if rows:
            self.refresh(Region(0, rows[0], self.size.width, rows[-1] - rows[0] + 1))

    def move(self, way: str) -> None:
        """Move the cursor: left, right, up, down, a gathering up or down, first, last."""
        pages = self.state.collation.pages
        if not pages:
            return
        if self.closed and way in ("up", "down"):
            way = f"gathering_{way}"
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

    # the mouse

    def on_click(self, event: events.Click) -> None:
        """Go to the page clicked on; a second click on it asks for what comes next."""
        index = self.index_at(event.x, event.y)
        if index is None:
            return
        second = self._click.is_second(index)
        self.cursor = index
        if second:
            self.post_message(self.Chosen())

    def index_at(self, x: int, y: int) -> int | None:
        """The page drawn at a place of the widget."""
        shown = self.row_at(y)
        if shown is None:
            return None
        if shown.row == CLOSED:
            return self._closed_line(shown.gathering).columns.get(x)
        layout = self.layout_of(shown.gathering)
        recto = 1 <= shown.row <= layout.side_rows
        if not recto and not layout.side_rows + 2 <= shown.row <= 2 * layout.side_rows + 1:
            return None
        for slot in layout.slots:
            if slot.leaf is not None and slot.left <= x < slot.left + slot.width:
                return Page(slot.leaf, Side.RECTO if recto else Side.VERSO).index
        return None

    def place_of(self, index: int) -> tuple[int, int] | None:
        """The first cell of a page on the widget, as x and y; None where it is not shown open."""
        number, page = self._gathering_of(index), Page.at(index)
        layout = self.layout_of(number)
        row = 1 if page.side is Side.RECTO else layout.side_rows + 2
        slot = next((slot for slot in layout.slots if slot.leaf == page.leaf), None)
        shown = ShownRow(number, row)
        return (slot.left + 1, self._shown.index(shown)) if slot and shown in self._shown else None

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        """Look at later gatherings; the cursor stays."""
        self._look(1, event)

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        """Look at earlier gatherings; the cursor stays."""
        self._look(-1, event)

    def _look(self, step: int, event: events.MouseEvent) -> None:
        event.stop()
        last = len(self._gatherings) - 1
        self._first = max(min(self._first + step, last), 0)
        self._follows = False
        self._arrange()
        self.refresh()


def _hand_ids(state: BookState) -> tuple[str, ...]:
    return (*(hand.id for hand in state.book.hands), *state.book.others)
