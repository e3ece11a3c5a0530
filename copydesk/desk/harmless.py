"""The last thing before the terminal: nothing goes there that it would obey, or that would hide or turn what is shown.

Screens make text harmless where they take it from the book, so that it reads well; this sees that none can forget.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.cells import cell_len
from rich.segment import Segment
from textual.filter import LineFilter

if TYPE_CHECKING:
    from textual.color import Color


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
