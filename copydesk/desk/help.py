"""What a screen is for, its keys, and a page of help."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Markdown, Static

from copydesk.desk.keys import KEYS, shown
from copydesk.help.topics import read_topic

if TYPE_CHECKING:
    from textual.app import ComposeResult
    from textual.binding import BindingType


class HelpScreen(Screen[None]):
    """Help on one screen."""

    CSS_PATH = "help.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [("escape,q,f1", "app.pop_screen", "back")]

    def __init__(self, topic: str, scope: str) -> None:
        super().__init__()
        self._topic = topic
        self._scope = scope

    def compose(self) -> ComposeResult:
        """The page and the keys."""
        with VerticalScroll(id="page"):
            yield Markdown(read_topic(self._topic))
            yield Static(Content(self._keys()), id="keys")
        yield Static(Content(" escape goes back"), id="how")

    def _keys(self) -> str:
        rows = [key for key in KEYS if key.id.split(".")[0] in (self._scope, "all")]
        return "\n".join(f" {_all_shown(key.key):<14} {key.more}" for key in rows)


def _all_shown(keys: str) -> str:
    return ", ".join(shown(each) for each in keys.split(","))
