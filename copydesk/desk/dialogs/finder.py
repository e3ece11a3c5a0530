"""Finding: acts and screens by their names, or pages, words of the text, spaces, people and help."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Input, Label, OptionList
from textual.widgets.option_list import Option

from copydesk.desk.base.keys import key_binding
from copydesk.desk.dialogs.findings import acts_of, things_like
from copydesk.desk.dialogs.form import Asking
from copydesk.desk.widgets.pick_list import PickList

if TYPE_CHECKING:
    from collections.abc import Sequence

    from textual.app import ComposeResult
    from textual.binding import BindingType
    from textual.types import CSSPathType

    from copydesk.desk.base.book_screen import BookScreen
    from copydesk.desk.dialogs.findings import Finding

_NAMES = ("choose", "down", "up", "page_down", "page_up", "help", "back")


class Finder(Asking[None]):
    """A line to type in, what was found, and what the row in hand would do."""

    CSS_PATH: ClassVar[CSSPathType | None] = ["form.tcss", "finder.tcss"]
    SCOPE: ClassVar[str] = "finder"
    ASKS: ClassVar[str] = "Find a page, words of the text, a space, a person, help"
    HINT: ClassVar[str] = "12r, some words, a name"
    BINDINGS: ClassVar[list[BindingType]] = [key_binding(f"finder.{name}") for name in _NAMES]

    def __init__(self, front: BookScreen) -> None:
        super().__init__()
        self._front = front
        self._found: Sequence[Finding] = ()

    def compose(self) -> ComposeResult:
        """The line, the list, what would happen, the keys."""
        with Vertical(id="form"):
            yield Label(Content(self.ASKS), id="title")
            yield Input(placeholder=self.HINT, id="wanted")
            yield PickList(id="found")
            yield Label("", id="note")
            yield self.foot("finder.choose", "finder.help", "finder.back")

    def on_mount(self) -> None:
        """Begin with all there is."""
        self.query_one(PickList).can_focus = False
        self.query_one(Input).focus()
        self._look_for("")

    def on_input_changed(self, event: Input.Changed) -> None:
        """Show what fits."""
        self._look_for(event.value)

    def findings(self, wanted: str) -> Sequence[Finding]:
        """What fits what is typed, likeliest first."""
        return things_like(self._front.job.state, wanted)

    def _look_for(self, wanted: str) -> None:
        self._found = self.findings(wanted)
        rows = self.query_one(PickList)
        rows.clear_options()
        width = max((len(each.says) for each in self._found), default=0)
        rows.add_options(Option(Content(f" {each.says:<{width}}  {each.key}")) for each in self._found)
        rows.highlighted = 0 if self._found else None
        if not self._found:
            said = f"Nothing here is called {wanted.strip()!r}." if wanted.strip() else ""
            self.query_one("#note", Label).update(Content(said))

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Say what the row in hand would do."""
        event.stop()
        if event.option_index < len(self._found):
            self.query_one("#note", Label).update(Content(self._found[event.option_index].more))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """A second click on a row is as enter."""
        event.stop()
        self.action_choose()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter takes the row in hand."""
        event.stop()
        self.action_choose()

    def action_choose(self) -> None:
        """Close, then do or go to what the row in hand says."""
        at = self.query_one(PickList).highlighted
        if at is None or not self.is_current:
            return
        found = self._found[at]
        self.dismiss(None)
        if found.page is not None:
            self._front.go_to(found.page)
        elif found.topic:
            self.app.open_screen("help", found.topic, "")  # type: ignore[attr-defined]
        elif found.action:
            self._front.do_later(found.action)

    def action_move(self, how: str) -> None:
        """Move in the list while the hand stays where it types."""
        getattr(self.query_one(PickList), f"action_{how}")()

    def action_leave(self) -> None:
        """Do nothing."""
        self.dismiss(None)


class Palette(Finder):
    """The same for acts and screens, each with its key; a page is found too."""

    ASKS = "Any act or screen, by its name"
    HINT = "write, theme, binder, 13r"

    def findings(self, wanted: str) -> Sequence[Finding]:
        """Acts of the screen in front and the other screens; then pages."""
        return acts_of(self._front, wanted)
