"""The passes: pages down, passes across, one key to record a page as gone over, and what an ink may be put on now."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.containers import Horizontal
from textual.widgets import OptionList, Static

from copydesk.book.common.typed_values import read_minutes, read_wholes
from copydesk.desk.base.list_screen import ToldListScreen
from copydesk.desk.wording.lines import next_row
from copydesk.desk.wording.pass_rows import PassTable, Row, page_lines, pass_table, title
from copydesk.tracking.passes.pass_status import PassState, PassStatus, all_statuses

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping, Sequence

    from textual.app import ComposeResult

    from copydesk.book.structure.page import Page
    from copydesk.desk.wording.lines import PanelLine
    from copydesk.tracking.ledger.entry import Act


class PassesScreen(ToldListScreen[Row]):
    """A list of the pages, and all that the one under the cursor needs in the pass in hand."""

    SCOPE = "passes"
    TOPIC = "passes"
    PAPER = "rubrics"
    FOOT = ("go_over", "right", "next", "ready", "more", "go")
    NEEDS_ROW = ("go_over", "next", "more", "go")
    CHOOSES = "go_over"
    CSS_PATH = "passes.tcss"
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (118, "-wide")]  # noqa: RUF012 - as Textual declares it

    _pages: Sequence[Row] = ()
    _in_hand = 1
    _ready = False

    def compose(self) -> ComposeResult:
        """The headings, the list, the panel, what was done, the keys."""
        yield Static(id="title", markup=False)
        yield Static(id="heads", markup=False)
        yield from self.list_and_panel(Horizontal(id="passes"), "list")

    def on_mount(self) -> None:
        """Begin on the page one comes from."""
        self.renew()
        options = self.query_one(OptionList)
        options.focus()
        options.highlighted = next_row(self._rows, lambda row: row[0].page == self._from_page)

    @property
    def pass_in_hand(self) -> str:
        """The name of the pass in hand; empty where the book has no later one."""
        later = self.job.book.later_passes
        return later[(self._in_hand - 1) % len(later)].name if later else ""

    @property
    def status(self) -> PassStatus | None:
        """The page under the cursor in the pass in hand."""
        row = self.in_hand
        return next((each for each in row if each.name == self.pass_in_hand), None) if row is not None else None

    @property
    def page(self) -> Page:
        """The page under the cursor, else the one this screen was opened from."""
        row = self.in_hand if self.children else None
        return row[0].page if row is not None else self._from_page

    def show_book(self) -> None:
        """Show the pages as they are now; the cursor stays on its page."""
        before, name = self.page, self.pass_in_hand
        rows = all_statuses(self.job.state, self.job.clock()) if name else []
        self._pages = [tuple(row) for row in rows]
        self.show_text("#title", title(self._pages, name))
        table = pass_table(self._pages, name, self.job.book, ready=self._ready) if name else PassTable("", [])
        self.show_text("#heads", table.heads)
        at = next_row(table.rows, lambda row: row[0].page == before)
        self.fill(table.rows, next_row(table.rows, lambda _: True) if at is None else at)

    def idle_now(self) -> Collection[str]:
        """Without a pass beside the one in hand there is no other to take."""
        later = len(self.job.book.later_passes)
        return (*super().idle_now(), *(("right",) if later < 2 else ()), *(() if later else ("ready",)))

    def lines_in_hand(self) -> Iterable[PanelLine]:
        """What there is to say of the page under the cursor."""
        row = self.in_hand
        return page_lines(self.job.state, row, self.pass_in_hand) if row is not None else ()

    def action_go_over(self) -> None:
        """Record the page as gone over in the pass in hand."""
        chosen = self.status
        if chosen is not None:
            self.do(lambda: self._done(chosen), hand=chosen.work.plan.hand)

    def _done(self, chosen: PassStatus, given: Mapping[str, str] | None = None) -> Act:
        from copydesk.desk.dialogs.form import SURE

        told = given or {}
        return self.job.commands.go_over(
            chosen.page,
            chosen.name,
            left=read_wholes(told.get("left", ""), "Left open"),
            minutes=read_minutes(told["minutes"], "Minutes") if told.get("minutes") else None,
            note=told.get("note", ""),
            sure=told.get(SURE) == "yes",
            now=self.job.clock(),
        )

    def action_some(self) -> None:
        """Ask what is left open, how long it took, and for a note; record the page."""
        from copydesk.desk.dialogs.form import Field, Form

        chosen = self.status
        if chosen is None:
            return

        def answer(given: Mapping[str, str]) -> None:
            self.job.record(self._done(chosen, given), hand=chosen.work.plan.hand)

        fields = [
            Field("left", "Left open, by number, as 2, 5"),
            Field("minutes", "How long it took, as 20 min"),
            Field("note", "Note"),
        ]
        named = f"{chosen.name} on {self.job.book.named(chosen.page)}"
        self.app.push_screen(Form(named, fields, answer), self._after_form)

    def action_turn(self, step: int) -> None:
        """Take the next pass in hand, or the one before."""
        later = len(self.job.book.later_passes)
        if later:
            self._in_hand = (self._in_hand - 1 + step) % later + 1
            self.renew()

    def action_next(self) -> None:
        """Go to the next page on which the pass in hand may begin."""
        options, name = self.query_one(OptionList), self.pass_in_hand
        at = next_row(self._rows, lambda row: _may_begin(row, name), options.highlighted or 0)
        if at is None:
            self.say(f"No page may take {name} now; each row says what it waits for.")
        else:
            options.highlighted = at

    def action_ready(self) -> None:
        """Show only the pages that may take the pass in hand now, by loose sheets; again, all."""
        self._ready = not self._ready
        self.renew()
        if self._ready and not self._rows:
            self.say(f"No sheet may take {self.pass_in_hand} now.")

    def action_go(self) -> None:
        """Go to the page."""
        if self.in_hand is not None:
            self.close(at=self.page)


def _may_begin(row: Row, name: str) -> bool:
    return any(each.name == name and each.state in (PassState.READY, PassState.LEFT) for each in row)
