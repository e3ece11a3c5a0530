"""The colophon: a draft out of the ledger, to be written in or kept."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from copydesk.desk.base.book_screen import BookScreen
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.desk.wording.lines import PanelLine, under_one_head
from copydesk.tracking.binding.colophon import colophon, keep_colophon, kept_already, kept_colophon, room_words

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

    from textual.app import ComposeResult


_KEPT_ALREADY = "Kept in these words already; nothing was recorded."


class ColophonScreen(BookScreen):
    """The draft, where it could be written, and what was kept."""

    SCOPE = "colophon"
    TOPIC = "assembly"
    FOOT = ("keep", "words")
    CSS_PATH = "colophon.tcss"

    def compose(self) -> ComposeResult:
        """The draft, the line above the foot, the keys."""
        yield Static(Content(" The colophon, as the ledger has it"), id="title")
        with VerticalScroll(id="told"):
            yield LinesPanel(id="lines")
        yield from self.foot()

    def on_mount(self) -> None:
        """Show the draft."""
        self.renew()
        self.say("Blanks stand for what the ledger does not know. ctrl+s keeps the draft, i your own words.")

    def show_book(self) -> None:
        """Show the draft as it stands now."""
        found = colophon(self.job.state)
        kept = kept_colophon(self.job.state)
        lines = [
            *under_one_head("Draft", found.sentences),
            PanelLine("", ""),
            PanelLine("Room", room_words(self.job.book, found)),
            PanelLine(
                "State", "the book is done" if found.finished else "the book is not done yet; draft it again then"
            ),
            *([PanelLine("Kept", kept)] if kept else []),
        ]
        self._text = found.text
        self.query_one(LinesPanel).show_lines(lines)

    def idle_now(self) -> Collection[str]:
        """A draft that is kept in these words is not kept again."""
        return ("keep",) if kept_already(self.job.state, self._text) else ()

    def action_keep(self) -> None:
        """Keep the draft in the ledger, once."""
        if kept_already(self.job.state, self._text):
            self.say(_KEPT_ALREADY)
        elif self.do(lambda: keep_colophon(self._text)) is not None:
            self.say("Kept in the ledger.")

    def action_words(self) -> None:
        """Keep it in words of one's own."""
        from copydesk.desk.dialogs.form import Field, Form

        def record(given: Mapping[str, str]) -> None:
            if kept_already(self.job.state, given["text"]):
                self.say(_KEPT_ALREADY)
                return
            self.job.record(keep_colophon(given["text"]))
            self.renew()
            self.say("Kept in the ledger.")

        text = kept_colophon(self.job.state) or self._text
        self.app.push_screen(Form("The colophon in your own words", [Field("text", "Colophon", text)], record))
