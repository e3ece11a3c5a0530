"""The desk's first screen: the gatherings lying open, and the page under the cursor in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.containers import Horizontal

from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.page import EXAMPLE, Page
from copydesk.desk.base.grid_snapshot import Picture
from copydesk.desk.base.keymap import shown
from copydesk.desk.base.keys import key_named
from copydesk.desk.base.screen_foot import FootLine, SayLine
from copydesk.desk.page_screens.page_screen import PageScreen
from copydesk.desk.widgets.gathering_grid import GatheringGrid
from copydesk.desk.widgets.page_panel import (
    PagePanel,
    PanelSize,
    has_room_beside,
    panel_size,
    place_panel,
    title_pieces,
)
from copydesk.desk.widgets.toned_lines import TonedLines
from copydesk.tracking.views.gathering_progress import book_glance
from copydesk.tracking.views.page_lookup import next_to_write, next_with_space, page_called

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from textual.app import ComposeResult
    from textual.timer import Timer

    from copydesk.desk.base.keys import KeyBinding
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.gathering_progress import Totals


_COUNTED_AT_ONCE = 1_000
"""Pages that are counted in less time than a screen is drawn."""

_REST_SECONDS = 0.2


class GridScreen(PageScreen):
    """Every gathering, page by page."""

    SCOPE = "grid"
    TOPIC = "desk"

    def __init__(self) -> None:
        super().__init__()
        self._panel_size = PanelSize(-1, -1)
        self._totals: Totals | None = None
        self._counting: Timer | None = None

    def compose(self) -> ComposeResult:
        """The title, the grid, the panel, a line for what was done, and the keys."""
        state = self.job.state
        yield TonedLines(id="heading")
        with Horizontal(id="book"):
            yield GatheringGrid(state, cursor=self._first_cursor())
            yield PagePanel(id="panel")
        yield from self.foot()

    def _first_cursor(self) -> int:
        """The page to write next, else the first."""
        return next_to_write(self.job.state, -1) or 0

    def on_mount(self) -> None:
        """Begin on the grid."""
        self._place_panel()
        self.query_one(GatheringGrid).focus()
        self.renew()
        looking = ("This desk is open for looking only.",) if self.job.read_only else ()
        notes = (*looking, *self.job.store.notes, *self._homeless(), *self.desk.own_keys.told)
        tour = (
            f"{shown(self.desk.own_keys.key_of(key_named('grid.tour')))} walks you round the desk."
            if self.desk.offers_tour
            else ""
        )
        self.say(notes[0] if notes else tour, wrong=bool(notes))
        if self.desk.is_new:
            self._walk("first-steps")

    def _homeless(self) -> list[str]:
        spaces = self.job.state.budget.homeless
        return [f"no page has room for the space {', '.join(spaces)}; rule it in on another page"] if spaces else []

    def on_resize(self) -> None:
        """Put the panel where there is room for it, and the title in its length."""
        self._place_panel()
        self._show_title()

    def _place_panel(self) -> None:
        width, height = self.size
        if not self.is_whole or not width:
            return
        size = panel_size(width, height, roomy=has_room_beside(self.job.state, width))
        if size != self._panel_size:
            self._panel_size = size
            self.query_one(PagePanel).beside = bool(size.wide)
            place_panel(self, size)

    def show_book(self) -> None:
        """Show the grid and the panel as the book stands now; what is counted through the book follows."""
        grid = self.query_one(GatheringGrid)
        grid.show(self.job.state)
        self._place_panel()
        self._show_title()
        self._show_panel()
        self._count_soon()

    def _count_soon(self) -> None:
        """Have the book counted once this is on the screen; a large one once no more follows."""
        if self._counting is not None:
            self._counting.stop()
        if self.job.state.collation.pages > _COUNTED_AT_ONCE:
            self._counting = self.set_timer(_REST_SECONDS, self._count)
        else:
            self.call_after_refresh(self._count)

    def _count(self) -> None:
        """Count through the book, and show its totals and what waits."""
        self._counting = None
        if not self.is_whole:
            return
        state = self.job.state
        glance = book_glance(state)
        self._totals = glance.totals
        self._show_title()
        self.query_one(GatheringGrid).show_ahead(glance.ahead)
        self.query_one(PagePanel).show_whole(state, glance)

    def _show_title(self) -> None:
        at_desk = self.job.book.hand(self.job.hand)
        name = f", {at_desk.name}" if at_desk is not None and at_desk.name else ""
        pieces = title_pieces(self.job.book.title, f"{self.job.hand}{name}", self._totals, self.size.width)
        self.query_one("#heading", TonedLines).show_lines_of([pieces])

    def _show_panel(self) -> None:
        grid = self.query_one(GatheringGrid)
        self.query_one(PagePanel).show_page(self.job.state, grid.cursor)

    def on_gathering_grid_moved(self) -> None:
        """The panel and the foot follow the cursor."""
        self._show_panel()
        self.query_one(FootLine).show_keys(self.keys_now())

    def on_gathering_grid_chosen(self) -> None:
        """A second click on a page does what comes next."""
        self.action_do_next()

    @property
    def page(self) -> Page:
        """The page under the cursor."""
        return self.query_one(GatheringGrid).page

    def keys_now(self) -> Iterable[KeyBinding]:
        """Acts that make sense on this page first, then where to go."""
        rest = ("next_write", "next_space", "more", "closed", "all.undo", "all.others", "all.find")
        return self.foot_keys(*self.acts_now(), *rest, "all.help", "all.quit")

    def action_move(self, way: str) -> None:
        """Move the cursor."""
        self.query_one(GatheringGrid).move(way)

    def action_go(self) -> None:
        """Ask for a page to go to."""
        from copydesk.desk.dialogs.form import Field, Form

        def go(given: Mapping[str, str]) -> None:
            self.query_one(GatheringGrid).cursor = page_called(state, given["page"], leaf_alone=True).index

        state = self.job.state
        self.app.push_screen(Form("Go to a page", [Field("page", f"Page, as {state.book.named(EXAMPLE)}")], go))

    def action_back(self) -> None:
        """There is nothing behind the grid; a walk round the desk is left."""
        self.query("TourPanel").remove()

    def action_tour(self) -> None:
        """Begin a walk round the desk, or take its next step."""
        from copydesk.desk.page_screens.tour_panel import TourPanel

        panels = self.query(TourPanel)
        if panels:
            panels.first().go_on()
        else:
            self._walk("tour")

    def _walk(self, topic: str) -> None:
        from copydesk.desk.page_screens.tour_panel import TourPanel

        self.mount(TourPanel(self.desk.own_keys, topic), before="#book")

    @property
    def is_whole(self) -> bool:
        """Whether all its parts stand: not while it is laid out."""
        return all(self.query(part) for part in (GatheringGrid, PagePanel, SayLine))

    def picture(self) -> Picture:
        """This screen as it stands, for the next opening to begin with."""
        say = self.query_one(SayLine)
        return Picture(
            width=self.size.width,
            height=self.size.height,
            wide=self._panel_size.wide,
            high=self._panel_size.high,
            title=[list(row) for row in self.query_one("#heading", TonedLines).lines],
            grid=self.query_one(GatheringGrid).picture(),
            panel=[list(row) for row in self.query_one(PagePanel).lines],
            said=say.said,
            keys=[key.id for key in self.keys_now()],
        )

    def action_closed(self) -> None:
        """Show a line for every gathering, or open those round the cursor again."""
        grid = self.query_one(GatheringGrid)
        grid.show_closed(not grid.closed)

    def go_to(self, page: Page) -> None:
        """Put the cursor on a page."""
        self.query_one(GatheringGrid).cursor = page.index

    def action_next_to_write(self) -> None:
        """Go to the next page that is to be ruled or written."""
        self._go_where("page to write", next_to_write)

    def action_next_space(self) -> None:
        """Go to the next page with a space waiting for the artist."""
        self._go_where("space waiting", next_with_space)

    def _go_where(self, what: str, find: Callable[[BookState, int], int | None]) -> None:
        found = find(self.job.state, self.query_one(GatheringGrid).cursor)
        if found is None:
            self.say(f"There is no {what} in the book.")
        else:
            self.query_one(GatheringGrid).cursor = found

    def action_clock(self) -> None:
        """Begin a stint, rest, go on, or end it."""
        from copydesk.desk.dialogs.stint_dialog import turn_clock

        self.run_worker(turn_clock(self), exclusive=True, group="ask")

    def action_remedies(self) -> None:
        """What would make the text around this page fit."""
        from copydesk.tracking.fit.remedies import need_for

        try:
            need_for(self.job.state, self.page)
        except CopydeskError as refused:
            self.say(f"{refused.problems[0]}.")
            return
        self.action_open("remedies")
