"""A transcription of a copied page, from a file or from what was sent to the program: plain UTF-8 text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.refusal import Problem, Refused
from copydesk.store.text_file import decode, harmless, read_bytes

if TYPE_CHECKING:
    from pathlib import Path

MOST_BYTES = 1_000_000
"""More than any page holds."""


def read_transcription_file(path: Path, name: str) -> str:
    """The text of a transcription's file.

    Raises:
        Refused: where it cannot be read, is not UTF-8, is far too long for a page, or holds no word.
    """
    return transcription_from(read_bytes(path, name, MOST_BYTES), name)


def transcription_from(data: bytes, name: str) -> str:
    """A transcription from its bytes; ``name`` is what a person knows them by.

    Raises:
        Refused: as for ``read_transcription_file``.
    """
    if len(data) > MOST_BYTES:
        raise Refused(Problem(name, 0, 0, "is far longer than a page; send the transcription of one page"))
    text = harmless(decode(data, name))
    if not text.split():
        raise Refused(Problem(name, 0, 0, "holds no word; put the page's transcription there"))
    return text
