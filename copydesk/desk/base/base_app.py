"""What every app of ours shares: where it goes wrong itself, whoever ran it hears of it, and no traceback is drawn."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol, TypeVar

from rich.cells import cell_len
from rich.segment import Segment
from textual.app import App
from textual.filter import LineFilter

from copydesk.desk.base.screen_table import screen_class

if TYPE_CHECKING:
    from textual.color import Color

    from copydesk.desk.base.keymap import Keymap
    from copydesk.job import Job


Given = TypeVar("Given")
"""What an app gives when it is left."""


class OwnApp(App[Given]):
    """An app that is run with ``stay``."""

    def stay(self, *, mouse: bool = True) -> Given | None:
        """Run until it is left; gives what it was left with.

        Raises:
            Exception: the mistake of copydesk's own that ended it, once the terminal is as it was before.
        """
        given = self.run(mouse=mouse)
        if self._exception is not None:
            raise self._exception
        return given

    def open_screen(self, name: str, *given: object) -> None:
        """Open the screen that the table of screens lists under ``name``; ``given`` is what its class is made with."""
        self.push_screen(screen_class(name)(*given))

    def action_help(self) -> None:
        """What the screen in front is for, and its keys."""
        front = self.screen
        topic = getattr(front, "TOPIC", "") or getattr(self, "TOPIC", "")
        self.open_screen("help", topic, getattr(front, "SCOPE", ""))

    def action_words(self) -> None:
        """The words of the trade, to look one up."""
        self.open_screen("words")

    def _fatal_error(self) -> None:
        # Textual would draw the traceback with what every name in it held, the exemplar's text among it.
        self._close_messages_no_wait()


class DeskApp(Protocol):
    """What a screen on a book asks of the desk that shows it."""

    own_keys: Keymap
    offers_tour: bool

    @property
    def job(self) -> Job:
        """The book being copied."""

    def next_look(self) -> str:
        """Change to the next look; gives its name, empty where colours are not wanted."""

    def open_screen(self, name: str, *given: object) -> None:
        """Open a screen by its name."""


class Harmless(LineFilter):
    """Puts room in the place of every character that is not for showing."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:  # noqa: ARG002 - as filters are called
        """The same segments, each of the same width."""
        if all(segment.text.isprintable() for segment in segments):
            return segments
        shown = [Segment(_shown(segment.text), segment.style, segment.control) for segment in segments]
        return [segment for segment in shown if segment.text or segment.control]


def _shown(text: str) -> str:
    return "".join(each if each.isprintable() else " " * cell_len(each) for each in text)
