"""Before sewing: the binder's walk, sheet by sheet from the outermost in, flyleaves before and after, each ticked."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual import work
from textual.containers import Container
from textual.content import Content
from textual.widgets import OptionList, Static

from copydesk.desk.base.list_screen import ToldListScreen
from copydesk.desk.dialogs.form import Field, record_form
from copydesk.desk.wording.assembly_words import book_lines, has_obstacle, title_words, walk_rows, walked_lines
from copydesk.desk.wording.lines import next_row
from copydesk.tracking.binding.assembly import assembly
from copydesk.tracking.binding.binding_walk import WalkedSheet, walk_sheet, walked_by
from copydesk.tracking.binding.bound_book import bind_book
from copydesk.tracking.binding.flyleaf_walk import walk_flyleaf
from copydesk.tracking.log.entry_text import entry_sentence

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from textual.app import ComposeResult

    from copydesk.desk.wording.assembly_words import Walked
    from copydesk.desk.wording.lines import PanelLine
    from copydesk.tracking.binding.assembly import Assembly
    from copydesk.tracking.ledger.entry import Act
    from copydesk.tracking.state.book_state import BookState


class AssemblyScreen(ToldListScreen["Walked"]):
    """The walk on the left, what there is to say of the sheet or flyleaf in hand on the right or below."""

    SCOPE = "assembly"
    TOPIC = "assembly"
    PAPER = "binder"
    FOOT = ("tick", "next", "go", "more", "colophon")
    NEEDS_ROW = ("tick", "next", "go")
    CHOOSES = "tick"
    CSS_PATH = "assembly.tcss"
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (130, "-wide")]  # noqa: RUF012 - as Textual declares it

    def compose(self) -> ComposeResult:
        """The walk, what is said of the sheet in hand, the line above the foot, the keys."""
        yield Static(id="title", markup=False)
        yield from self.list_and_panel(Container(id="assembly"), "walk")

    def on_mount(self) -> None:
        """Begin on the first not yet walked."""
        self.renew()
        self.query_one(OptionList).focus()
        self._go_where(-1, lambda each: not each.ticked)
        self.say("Find each sheet in its place and tick it with enter; n: the next obstacle.")

    def show_book(self) -> None:
        """Show the walk as it stands now."""
        state = self.job.state
        self._found: Assembly = assembly(state)
        title = self.query_one("#title", Static)
        title.set_class(not self._found.ready, "-wrong")
        title.update(Content(f" {title_words(self._found)}"))
        self.fill(walk_rows(state, self._found), self.query_one(OptionList).highlighted)

    def lines_in_hand(self) -> Iterable[PanelLine]:
        """What there is to say of the sheet or flyleaf in hand, and of the book."""
        walked, book = self.in_hand, self.job.book
        return (*(walked_lines(walked, book) if walked is not None else ()), *book_lines(self._found, book))

    def action_tick(self) -> None:
        """Tick the sheet or flyleaf in hand and go to the next one; or take its tick away."""
        walked = self.in_hand
        if walked is None:
            return
        ticked_by = _tick_of(walked, self.job.state)
        if ticked_by is not None:
            self._take_back("Taken back", lambda: self.job.undo(ticked_by))
            return
        at = self.query_one(OptionList).highlighted or 0
        walk = walk_sheet if isinstance(walked, WalkedSheet) else walk_flyleaf
        if self.do(lambda: walk(self.job.state, walked.name)) is not None:
            self._go_where(at, lambda each: not each.ticked)

    @work
    async def action_bound(self) -> None:
        """Record the book as sewn and bound."""

        def make(given: Mapping[str, str]) -> Act:
            return bind_book(self.job.state, given["who"], given["note"])

        fields = [Field("who", "Who sewed and bound it", self.job.book.workshop.binder), Field("note", "Note")]
        entry = await record_form(self, "The book is sewn and bound", fields, make)
        if entry is not None:
            self.say(entry_sentence(entry, self.job.state))

    def action_next(self) -> None:
        """Go to the next sheet with an obstacle, or flyleaf not yet found."""
        at = self.query_one(OptionList).highlighted
        if not self._go_where(-1 if at is None else at, has_obstacle):
            self.say("No sheet has an obstacle.")

    def _go_where(self, after: int, wanted: Callable[[Walked], bool]) -> bool:
        """Put the cursor on the next that is wanted."""
        at = next_row(self._rows, wanted, after)
        if at is not None:
            self.query_one(OptionList).highlighted = at
        return at is not None

    def action_go(self) -> None:
        """Go to the page with the obstacle, or to the sheet's first; a flyleaf has none."""
        walked = self.in_hand
        if isinstance(walked, WalkedSheet):
            pages = [point.page for point in walked.obstacles if point.page is not None]
            page = pages[0] if pages else min(walked.sheet.pages())
            self.close(at=page)
        elif walked is not None:
            self.say(f"{walked.leaf} has no page of the text.")


def _tick_of(walked: Walked, state: BookState) -> str | None:
    """The entry that ticks a sheet or flyleaf; None where nothing does."""
    if isinstance(walked, WalkedSheet):
        ticked = walked_by(state, walked.name)
        return ticked[1] if ticked is not None else None
    return walked.entry.entry if walked.entry is not None else None
