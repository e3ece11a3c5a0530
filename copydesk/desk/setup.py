"""Setting a new book up: a few questions on the left, what follows from them on the right, at once."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Input, Label, Static

from copydesk.book.common.errors import CopydeskError, InvalidValueError
from copydesk.desk.base.keys import key_binding, key_named
from copydesk.desk.base.screen_foot import FootLine
from copydesk.desk.start_app import BeforeTheBook
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.desk.wording.lines import PanelLine
from copydesk.desk.wording.plan_words import QUESTIONS, what_follows
from copydesk.store.folder.setup_answers import STARTING, make_book, plan_of, raw_findings, sample_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from textual.app import ComposeResult
    from textual.binding import BindingType
    from textual.events import DescendantFocus
    from textual.timer import Timer


SAMPLE_LINES = 10
WAIT_SECONDS = 0.15
"""After the last key, before what follows is worked out: nobody wants it while still typing."""


class SettingUp(BeforeTheBook[Path]):
    """Asks, shows what follows, makes the folder; gives the folder made."""

    CSS_PATH: ClassVar = ["base/desk.tcss", "setup.tcss"]
    TOPIC = "setting-up"
    AUTO_FOCUS = None
    BINDINGS: ClassVar[list[BindingType]] = [key_binding(f"setup.{name}") for name in ("make", "sample", "back")]

    def __init__(self, shelf: Path, folder: str = "", look: str = "") -> None:
        super().__init__(look)
        self._shelf = shelf
        self._folder = folder
        self._waiting: Timer | None = None
        self._sample = ""

    def compose(self) -> ComposeResult:
        """The questions and the panel."""
        yield Static(Content(" A new book"), id="heading")
        with Horizontal(id="both"):
            with VerticalScroll(id="questions", can_focus=False):
                for question in QUESTIONS:
                    with Vertical(classes="question"):
                        yield Label(Content(question.asks), classes="label")
                        value = self._folder if question.name == "folder" else STARTING.get(question.name, "")
                        yield Input(value, placeholder=question.hint, id=question.name)
            with VerticalScroll(id="panel", can_focus=False):
                yield LinesPanel()
        yield FootLine(key_named(f"setup.{name}") for name in ("make", "next", "sample", "help", "back"))

    def on_mount(self) -> None:
        """Begin with the first question."""
        self.query_one(f"#{QUESTIONS[0].name}", Input).focus(scroll_visible=False)
        self._show()

    def on_descendant_focus(self, event: DescendantFocus) -> None:
        """Keep what is asked in sight above its answer."""
        if isinstance(event.widget.parent, Vertical):
            self.call_after_refresh(event.widget.parent.scroll_visible, animate=False)

    def on_input_changed(self) -> None:
        """Work out what follows once the typing rests."""
        if self._waiting is not None:
            self._waiting.stop()
        self._waiting = self.set_timer(WAIT_SECONDS, self._show)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Go to the next question."""
        event.stop()
        self.screen.focus_next(Input)

    def action_next(self) -> None:
        """Go to the next question."""
        self.screen.focus_next(Input)

    def action_sample(self) -> None:
        """Ask for lines as the first scribe wrote them, and measure the hand by them."""
        from copydesk.desk.dialogs.form import Field, Form

        rows = [row.split("\t") for row in self._sample.splitlines()]
        rows += [[""]] * (SAMPLE_LINES - len(rows))
        fields = [Field(f"line{at}", f"Line {at + 1}", "; ".join(row)) for at, row in enumerate(rows)]

        def answer(given: Mapping[str, str]) -> None:
            sample = "\n".join("\t".join(each.strip() for each in line.split(";")) for line in given.values() if line)
            if sample:
                sample_of({"sample": sample})  # refuses what is no sample
            self._sample = sample
            self._show()

        title = "Lines as the first scribe wrote them, each as full as a line of the book"
        note = "Put a line's length in mm behind a semicolon where you measured it: the gates stood open; 52"
        self.push_screen(Form(title, fields, answer, note=note))

    def _given(self) -> dict[str, str]:
        given = {question.name: self.query_one(f"#{question.name}", Input).value.strip() for question in QUESTIONS}
        return {**given, "sample": self._sample}

    def _show(self) -> None:
        """Show what follows from the answers, or what is wrong with them."""
        given = self._given()
        try:
            planned = plan_of({**given, "title": given["title"] or "a book without a title"})
            lines = what_follows(*planned, sample_of(given), raw_findings(given), given["mend"])
        except CopydeskError as refused:
            lines = _wrong("Look at", refused)
        self.query_one(LinesPanel).show_lines(lines)

    def action_make(self) -> None:
        """Make the folder, or say why it cannot be made."""
        if self._waiting is not None:
            self._waiting.stop()
        given = self._given()
        try:
            if not given["folder"]:
                raise InvalidValueError("the book's folder has no name yet; write one, as in my-book")
            made = make_book(self._shelf / given["folder"], given)
        except CopydeskError as refused:
            lines = [
                PanelLine("Not made" if not at else "", str(each), wrong=True)
                for at, each in enumerate(refused.problems)
            ]
            self.query_one(LinesPanel).show_lines(lines)
            return
        self.exit(made)


def _wrong(head: str, refused: CopydeskError) -> list[PanelLine]:
    return [PanelLine("" if at else head, str(each), wrong=True) for at, each in enumerate(refused.problems)]
