"""The words of the trade, looked up from any screen: type a few letters, read the meaning and where it is from."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from copydesk.desk.base.keys import bindings, key_named
from copydesk.desk.base.screen_foot import FootLine
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.desk.wording.lines import PanelLine
from copydesk.help.glossary import find_words, meaning_and_source, titles_of

if TYPE_CHECKING:
    from textual.app import ComposeResult
    from textual.binding import BindingType


class WordsScreen(Screen[None]):
    """The glossary: what is typed narrows the list, the word in hand is explained below it."""

    CSS_PATH = "glossary_screen.tcss"
    SCOPE: ClassVar[str] = "words"
    TOPIC: ClassVar[str] = "glossary"
    BINDINGS: ClassVar[list[BindingType]] = bindings("words")

    def compose(self) -> ComposeResult:
        """What is looked for, the words that fit, the one in hand explained."""
        yield Static(Content(" The words of the trade"), id="title")
        yield Input(placeholder="a word, or part of one", id="wanted")
        yield OptionList(id="found")
        with VerticalScroll(id="panel", can_focus=False):
            yield LinesPanel()
        yield FootLine(map(key_named, ("words.down", "words.up", "words.help", "words.back")))

    def action_back(self) -> None:
        """Go back."""
        if self.is_current:
            self.app.pop_screen()

    def on_mount(self) -> None:
        """Begin with all words."""
        self.query_one("#found").can_focus = False
        self.query_one(Input).focus()
        self._show("")

    def on_input_changed(self, event: Input.Changed) -> None:
        """Show the words that fit."""
        self._show(event.value)

    def _show(self, wanted: str) -> None:
        self._found = find_words(wanted)
        words = self.query_one(OptionList)
        words.clear_options()
        words.add_options(Option(Content(f" {word}")) for word, _ in self._found)
        words.highlighted = 0 if self._found else None
        if not self._found:
            self.query_one(LinesPanel).show_lines([PanelLine("", f"The glossary has nothing on {wanted.strip()!r}.")])

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Explain the word in hand."""
        if event.option_index >= len(self._found):
            return  # told late, of a list that is gone
        word, explained = self._found[event.option_index]
        meaning, source = meaning_and_source(explained)
        titles = [PanelLine("", title) for title in titles_of(source)]
        self.query_one(LinesPanel).show_lines(
            [PanelLine("", f"{word}: {meaning}"), PanelLine("Source", source), *titles]
        )

    def action_move(self, how: str) -> None:
        """Move in the list while the hand stays where it types."""
        getattr(self.query_one(OptionList), f"action_{how}")()
