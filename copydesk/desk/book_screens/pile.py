"""The pile: every sheet by the place where it is, who has it since when, and one key to put it elsewhere."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.containers import Horizontal
from textual.widgets import OptionList, Static

from copydesk.desk.base.list_screen import ToldListScreen
from copydesk.desk.wording.lines import next_row
from copydesk.desk.wording.pile_rows import rows, sheet_lines, title
from copydesk.tracking.ledger.entry_kinds import SHEET_PLACES, SheetPlace
from copydesk.tracking.views.sheet_pile import SheetStatus, pile_now

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from textual.app import ComposeResult

    from copydesk.desk.wording.lines import PanelLine
    from copydesk.tracking.ledger.entry import Act


class PileScreen(ToldListScreen[SheetStatus]):
    """A list of the sheets, and what there is to say of the one under the cursor."""

    SCOPE = "pile"
    TOPIC = "pile"
    PAPER = "sheets"
    FOOT = ("artist", "desk", "more", "go")
    NEEDS_ROW = FOOT
    CHOOSES = "go"
    CSS_PATH = "pile.tcss"
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (118, "-wide")]  # noqa: RUF012 - as Textual declares it

    def compose(self) -> ComposeResult:
        """The heading, the list, the panel, what was done, the keys."""
        yield Static(id="title", markup=False)
        yield from self.list_and_panel(Horizontal(id="pile"), "list")

    def on_mount(self) -> None:
        """Begin on the sheet of the page one comes from."""
        self.renew()
        options = self.query_one(OptionList)
        options.focus()
        options.highlighted = next_row(self._rows, lambda each: self._from_page in each.sheet.pages())

    def show_book(self) -> None:
        """Show the sheets where they are now; the cursor stays on its sheet."""
        before, sheets = self.in_hand, pile_now(self.job.state, self.job.clock())
        self.show_text("#title", title(sheets))
        name = before.sheet.name if before is not None else ""
        listed = rows(sheets, self.job.book)
        self.fill(listed, next_row(listed, lambda each: each.sheet.name == name))

    def lines_in_hand(self) -> Iterable[PanelLine]:
        """What there is to say of the sheet under the cursor."""
        chosen = self.in_hand
        return sheet_lines(self.job.state, chosen, self.job.clock()) if chosen is not None else ()

    def action_place(self, place: str) -> None:
        """Record that the sheet is there now."""
        chosen = self.in_hand
        if chosen is not None:
            self.do(lambda: self._moved(chosen.sheet.name, place))

    def _moved(self, sheet: str, place: str, who: str = "", note: str = "") -> Act:
        """The act, other desks' news taken in first, so that nobody takes what another has."""
        if self.job.refresh():
            self.renew()
        return self.job.commands.sheet(sheet, place, who, note=note, at=self.job.clock().isoformat())

    def action_someone(self) -> None:
        """Ask who has the sheet, and where."""
        from copydesk.desk.dialogs.form import Field, Form

        chosen = self.in_hand
        if chosen is None:
            return

        def answer(given: Mapping[str, str]) -> None:
            self.job.record(self._moved(chosen.sheet.name, given["place"].lower(), given["who"], given["note"]))

        fields = [
            Field("place", f"Place: {', '.join(SHEET_PLACES)}", "checker"),
            Field("who", "Who has it there", follows=self._keeper),
            Field("note", "Note"),
        ]
        self.app.push_screen(Form(f"Sheet {chosen.sheet.name}", fields, answer), self._after_form)

    def _keeper(self, given: Mapping[str, str]) -> str:
        """Who has the sheet where nobody is named: the artist what is with the artist, else the hand at this desk."""
        artist = self.job.book.workshop.artist if given["place"].lower() == SheetPlace.ARTIST else ""
        return artist or self.job.hand

    def action_go(self) -> None:
        """Go to the sheet's first page that waits for anything, else to its first."""
        chosen = self.in_hand
        if chosen is not None:
            self.close(at=next(iter((*chosen.waiting_pages, *chosen.sheet.pages()))))
