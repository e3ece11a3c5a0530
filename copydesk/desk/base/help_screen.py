"""What a screen is for, its keys, and a page of help."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Markdown, Static

from copydesk.desk.base.keymap import Keymap
from copydesk.desk.base.keys import KEYS, bindings, key_named
from copydesk.desk.base.screen_foot import FootLine
from copydesk.help.topics import read_topic

if TYPE_CHECKING:
    from collections.abc import Iterator

    from textual.app import ComposeResult
    from textual.binding import BindingType


EVERYWHERE = "all"


class HelpScreen(Screen[None]):
    """Help on one screen: its page, then its keys, then those that every screen has."""

    CSS_PATH = "help_screen.tcss"
    SCOPE: ClassVar[str] = "help"
    BINDINGS: ClassVar[list[BindingType]] = bindings("help")

    def __init__(self, topic: str, scope: str) -> None:
        super().__init__()
        self._topic = topic
        self._scope = scope

    def compose(self) -> ComposeResult:
        """The page and the keys."""
        keys = getattr(self.app, "own_keys", Keymap())
        with VerticalScroll(id="page"):
            yield Markdown(read_topic(self._topic), open_links=False)
            yield Static(Content("\n".join(key_lines(self._scope, keys))), id="keys")
        yield FootLine(map(key_named, ("help.words", "help.back", "help.quit")))

    def action_back(self) -> None:
        """Go back."""
        if self.is_current:
            self.app.pop_screen()


def key_lines(scope: str, keys: Keymap) -> Iterator[str]:
    """The keys of a screen, then those of every screen on a book, as they are now; none before a book is open."""
    if not scope:
        return
    for heading, part in (("Keys here", scope), ("Keys on every screen", EVERYWHERE)):
        rows = [key for key in KEYS if key.id.split(".")[0] == part]
        if rows:
            yield from ("", f" {heading}", *(f" {keys.way_to(key) or 'by name':<14} {key.more}" for key in rows))
