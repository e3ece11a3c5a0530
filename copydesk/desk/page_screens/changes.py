"""Where the text departs from the exemplar on purpose: the list, and adding to it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content
from textual.widgets import OptionList, Static

from copydesk.book.common.phrases import capital
from copydesk.book.common.sanitize import sanitize
from copydesk.desk.dialogs.form import Field, Form
from copydesk.desk.page_screens.page_list import PageListScreen
from copydesk.desk.widgets.pick_list import PickList
from copydesk.tracking.commands.change_commands import change_text
from copydesk.tracking.ledger.timestamps import say_at
from copydesk.tracking.views.change_report import CHANGES, change_accounts
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

    from textual.app import ComposeResult

    from copydesk.tracking.views.change_report import ChangeAccount


_LIST = CHANGES.without("why", "who", "entry")
"""What is not told below the list."""

_WHY = (Field("why", "Why"), Field("who", "Who decided it"))
_PASSAGE = (
    Field("first", "The passage's first words, as the exemplar has them; all of it, where it is short"),
    Field("last", "Its last words"),
)
_FIELDS: dict[str, tuple[Field, ...]] = {
    "left out": (*_PASSAGE, *_WHY),
    "put differently": (*_PASSAGE, Field("write", "What is written instead"), *_WHY),
    "added": (Field("after", "After these words of the exemplar"), Field("write", "The words added"), *_WHY),
}


class ChangesScreen(PageListScreen["ChangeAccount"]):
    """The changes in the order of the text; words are looked for near the page one comes from."""

    SCOPE = "changes"
    TOPIC = "changes"
    PAPER = "changes"
    FOOT = ("new", "take_back", "go")
    NEEDS_ROW = ("take_back", "go")
    CSS_PATH = "changes.tcss"
    NOT_THERE = "That passage falls on no page."
    NOTHING = "There is no change to go to."

    def compose(self) -> ComposeResult:
        """What the list is, the list, what is known of the one in hand, and the keys."""
        yield Static(id="title", markup=False)
        yield Static(id="heads", markup=False)
        yield PickList(markup=False)
        yield Static(id="more", markup=False)
        yield from self.foot()

    def on_mount(self) -> None:
        """Show them."""
        self.renew()
        self.query_one(OptionList).focus()

    def show_book(self) -> None:
        """Show the changes as they stand now."""
        listed = change_accounts(self.job.state)
        heads, *rows = _LIST.laid_out(listed, self.job.book)
        self.show_text("#heads", f" {heads}")
        self.fill(listed, (Content(f" {row}") for row in rows))
        count = len(self._listed)
        said = f" {count} {'passage is' if count == 1 else 'passages are'} changed on purpose"
        self.show_text("#title", said if count else " Nothing is changed on purpose; i adds a change")
        self._show_more()

    def idle_now(self) -> Collection[str]:
        """A change that stands in the plan is not taken back here."""
        recorded = self.in_hand is not None and self.in_hand.entry
        return (*super().idle_now(), *(() if recorded else ("take_back",)))

    def _show_more(self) -> None:
        chosen = self.in_hand
        self.show_text("#more", _more(chosen) if chosen is not None else "")

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Tell more of the change come to."""
        event.stop()
        self._show_more()
        self.show_foot()

    def action_change(self, sort: str) -> None:
        """Ask for a change, and record it."""
        state = self.job.state
        near = page_account(state, self._from_page.index).from_word if state.collation.has(self._from_page) else None

        def record(given: Mapping[str, str]) -> None:
            self.job.record(change_text(self.job.state, near=near, **given))

        title = {
            "left out": "A passage left out",
            "put differently": "A passage put differently",
            "added": "Words added",
        }
        note = f"The words are looked for near {self.job.book.named(self._from_page)}."
        fields = [each._replace(hint=self.job.hand) if each.name == "who" else each for each in _FIELDS[sort]]
        self.app.push_screen(Form(title[sort], fields, record, note=note), self._after_form)

    def action_take_back(self) -> None:
        """Take back the change in hand, where it was recorded."""
        chosen = self.in_hand
        if chosen is None or not chosen.entry:
            self.say("It stands in book.yaml, under changes; take it out there." if chosen else "Nothing to take back.")
            return
        self._take_back("Taken back", lambda: self.job.undo(chosen.entry))


def _more(account: ChangeAccount) -> str:
    """Where it stands, why and by whom, and since when."""
    where = f"column {account.column} line {account.line}" if account.line else ""
    exemplar = f"exemplar {account.place}" if account.place else f"word {account.change.from_word}"
    written = "written already" if account.written else "not written yet"
    known = say_at(account.at) if account.at else "in book.yaml"
    parts = (where, exemplar, written, f"decided by {account.change.who}" if account.change.who else "", known)
    said = ", ".join(part for part in parts if part)
    return sanitize(f" {capital(said)}. Why: {account.change.why or 'not said'}.")
