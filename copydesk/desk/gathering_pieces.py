"""The pieces a line of the grid is put together from, each of one tone. No Textual here."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

Piece = tuple[str, str]
"""A text of the grid and its tone."""


def joined(pieces: Iterator[Piece]) -> Iterator[Piece]:
    """Pieces of one tone put together, blanks with what stands before them: a line costs as its pieces are many."""
    text, tone = "", ""
    for more, its_tone in pieces:
        if its_tone == tone or (more.isspace() and tone != "cursor"):
            text += more
        elif text.isspace() and tone != "cursor":
            text, tone = text + more, its_tone
        else:
            if text:
                yield text, tone
            text, tone = more, its_tone
    if text:
        yield text, tone
