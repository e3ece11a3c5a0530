"""Everything that was recorded, newest first, below what contradicts itself; an entry can be taken back here."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from textual.content import Content
from textual.widgets import OptionList, Static

from copydesk.book.common.sanitize import sanitize
from copydesk.desk.base.book_screen import BookScreen
from copydesk.desk.widgets.pick_list import PickList
from copydesk.desk.wording.lines import PanelLine
from copydesk.tracking.ledger.timestamps import say_at
from copydesk.tracking.log.entry_text import describe

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from textual.app import ComposeResult

    from copydesk.desk.base.keys import KeyBinding
    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.log.contradictions import Contradiction
    from copydesk.tracking.state.book_state import BookState


_NOTHING = "Nothing is recorded yet; r on a page records it as ruled, w as written."

_MOST = 500
"""Entries shown; the command line lists them all."""


class LogScreen(BookScreen):
    """The entries, newest first."""

    SCOPE = "log"
    TOPIC = "log"
    FOOT = ("take_back", "show", "all.redo", "all.others", "all.find")
    CHOOSES = "show"
    NEEDS_ROW = ("take_back", "show")
    CSS_PATH = "log.tcss"

    def compose(self) -> ComposeResult:
        """The list."""
        yield Static(Content(" Everything recorded, newest first"), id="title")
        yield PickList()
        yield from self.foot()

    def on_mount(self) -> None:
        """Fill the list."""
        self.renew()
        self.query_one(OptionList).focus()
        self.say("" if self._shown else _NOTHING)

    def keys_now(self) -> Iterable[KeyBinding]:
        """The usual ones; here the key for undo takes the entry in hand back."""
        return [key for key in super().keys_now() if key.id != "all.undo"]

    def show_book(self) -> None:
        """Show the entries as they are now."""
        self._contradictions = contradictions = self.job.contradictions
        self._shown = [*[None] * len(contradictions), *list(self.job.ledger)[: -_MOST - 1 : -1]]
        rows = [f" Contradiction: {sanitize(str(each))}" for each in contradictions]
        rows += [self._told(entry) for entry in self._shown if entry is not None]
        self.show_rows(map(Content, rows), first=len(contradictions))

    def _told(self, entry: Entry) -> str:
        void = "  (taken back)" if self.job.ledger.is_void(entry.entry) else ""
        named = f"  ({entry.entry})" if any(entry.entry in each.entries for each in self._contradictions) else ""
        return f" {sanitize(say_at(entry.at, short=True)):<12}  {describe(entry, self.job.state)}{named}{void}"

    def action_show(self) -> None:
        """Show all that the entry in hand tells; of a contradiction, go to the newest of its entries."""
        from copydesk.desk.dialogs.form import Told

        at = self.query_one(OptionList).highlighted
        if at is None or at >= len(self._shown):
            self.say(_NOTHING)
        elif (entry := self._shown[at]) is None:
            self._go_to_named(self._contradictions[at])
        else:
            void = self.job.ledger.is_void(entry.entry)
            self.app.push_screen(Told("What was recorded", [*entry_lines(entry, self.job.state, taken_back=void)]))

    def action_take_back(self) -> None:
        """Take the entry in hand back."""
        at = self.query_one(OptionList).highlighted
        if at is None or at >= len(self._shown):
            self.say(_NOTHING)
            return
        if (entry := self._shown[at]) is not None:
            self._take_back("Taken back", partial(self.job.undo, entry.entry))
        else:
            self._go_to_named(self._contradictions[at])

    def _go_to_named(self, contradiction: Contradiction) -> None:
        """Put the cursor on the newest entry of a contradiction."""
        shown = enumerate(self._shown)
        at = next((at for at, entry in shown if entry is not None and entry.entry in contradiction.entries), None)
        if at is None:
            self.say("Those entries are too old to be listed here; copydesk undo takes one back.", wrong=True)
            return
        self.query_one(OptionList).highlighted = at
        self.say("This is one of them, with its name in brackets; u takes it back.")


def entry_lines(entry: Entry, state: BookState, *, taken_back: bool) -> Iterator[PanelLine]:
    """All that an entry tells: what it says, when, at which desk, by whom, and each fact it holds."""
    yield PanelLine("What", sanitize(describe(entry, state)))
    if taken_back:
        yield PanelLine("", "taken back; y lets what was taken back last stand again")
    yield PanelLine("When", sanitize(say_at(entry.at)))
    yield PanelLine("Hand", sanitize(entry.hand or "none"))
    yield PanelLine("Desk", sanitize(entry.desk))
    yield PanelLine("Entry", sanitize(entry.entry))
    for name, value in entry.facts.items():
        yield PanelLine(name.replace("_", " ").capitalize(), sanitize(str(value)))
