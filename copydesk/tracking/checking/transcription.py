"""A transcription of a copied page: its words, and where on the page each stands by the lines it is typed in."""

from __future__ import annotations

from itertools import accumulate
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.layout.page_frame import CastLine
    from copydesk.book.text.copy_text import CopyText


ALWAYS_OFF, OFF_BY_LINE = 0.12, 0.6
"""How far the letters of typed lines may be from those of as many lines of the page: this share of them, and this
share of one line. Lines of a page differ by about a tenth; text broken at another width differs by more."""


class Transcription(NamedTuple):
    """The words as they stand; for each the number of its line from 0, blank lines left out; and how many lines."""

    words: list[str]
    line_of: list[int]
    lines: int


def read_transcription(text: str) -> Transcription:
    """The words and lines of what was typed."""
    lines = [words for line in text.splitlines() if (words := line.split())]
    numbers = [number for number, words in enumerate(lines) for _ in words]
    return Transcription([word for words in lines for word in words], numbers, len(lines))


def places_by_line(typed: Transcription, page: Sequence[CastLine], copy: CopyText) -> list[tuple[int, int]]:
    """Column and line of each typed word, where the lines typed are those of the page; none where they are not.

    Args:
        typed: the transcription, whole or begun.
        page: the lines of the page, as written and planned.
        copy: the text as it is to be written.
    """
    if not 0 < typed.lines <= len(page):
        return []
    wanted = list(accumulate(_letters(copy.text(line.start, line.end)) for line in page))[typed.lines - 1]
    off = abs(_letters(typed.words) - wanted) / max(wanted, 1)
    if off > ALWAYS_OFF + OFF_BY_LINE / typed.lines:
        return []
    return [(page[number].column, page[number].line) for number in typed.line_of]


def _letters(words: Sequence[str]) -> int:
    """Letters and word-spaces."""
    return sum(map(len, words)) + len(words)
