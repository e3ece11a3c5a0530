"""What every app of ours shares: where it goes wrong itself, whoever ran it hears of it, and no traceback is drawn."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

from rich.cells import cell_len
from rich.segment import Segment
from textual.app import App
from textual.filter import LineFilter

if TYPE_CHECKING:
    from textual.color import Color


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

    def _fatal_error(self) -> None:
        # Textual would draw the traceback with what every name in it held, the exemplar's text among it.
        self._close_messages_no_wait()


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
