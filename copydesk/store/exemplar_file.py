"""The exemplar's text file as text: any length, checked to be UTF-8, and harmless."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.refusal import Problem
from copydesk.store.text_file import controls_in, decode, harmless, holds_controls, place_of, read_bytes

if TYPE_CHECKING:
    from pathlib import Path

LARGEST = 1_000_000_000
"""Bytes; some 150 million words, more than any book holds."""


def read_exemplar_file(path: Path, name: str) -> tuple[str, tuple[Problem, ...]]:
    """The text of the exemplar, and what was made harmless in it.

    A control character (other than tabs, line ends and page ends) is kept as the sign that stands for it in
    print, so that it takes its room and is seen, and no terminal obeys it.

    Args:
        path: where the file lies.
        name: what a person knows it by.

    Raises:
        Refused: where it is missing, cannot be read, or is not UTF-8 (with line and column).
    """
    data = read_bytes(path, name, LARGEST)
    text = decode(data, name)
    if not holds_controls(data):
        return text, ()
    found = next(controls_in(text))
    line, column = place_of(text, found)
    what = f"a control character (U+{ord(text[found]):04X}) stands here and is shown as a sign; take it out"
    return harmless(text), (Problem(name, line, column, what),)
