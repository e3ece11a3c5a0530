"""The typeface of our papers: one that comes with the PDF library and is put into every file.

It has the letters of western Europe. An accented letter it lacks is built from its base and the accent; anything
else it lacks shows as an empty box, and its right code stays in the file for copying and searching.
"""

from __future__ import annotations

import unicodedata
from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.plain import plain

if TYPE_CHECKING:
    from reportlab.pdfbase.ttfonts import TTFont

ROMAN = "copydesk-roman"
BOLD = "copydesk-bold"

_ACCENTS = {
    "\u0300": "`",
    "\u0301": "´",
    "\u0302": "ˆ",
    "\u0303": "˜",
    "\u0304": "¯",
    "\u0306": "˘",
    "\u0307": "˙",
    "\u0308": "¨",
    "\u030a": "˚",
    "\u030b": "˝",
    "\u030c": "ˇ",
    "\u0327": "¸",
    "\u0328": "˛",
}
"""Accents that stand over or under a letter, and the same standing alone."""

_RAISED = 0.17  # of the size: how much higher an accent stands over a tall letter


class Run(NamedTuple):
    """Text that is drawn in one go, how far from the start, and how far above the baseline, in parts of the size."""

    text: str
    across: float
    above: float


def runs(text: str, font: str) -> tuple[list[Run], float]:
    """Harmless ``text`` as runs to draw, and the width of all, both in parts of the size."""
    text = unicodedata.normalize("NFC", plain(text))
    known = _known(font)
    if all(ord(letter) in known for letter in text):
        return [Run(text, 0.0, 0.0)], _width(text, font)
    drawn: list[Run] = []
    across = 0.0
    for letter, accents in _parted(text, known):
        wide = _width(letter, font)
        drawn.append(Run(letter, across, 0.0))
        drawn += (_over(letter, _ACCENTS[accent], across + wide / 2, font) for accent in accents)
        across += wide
    return drawn, across


def width(text: str, size: float, font: str = ROMAN) -> float:
    """How wide ``text`` is at ``size``, in the same unit as the size."""
    return runs(text, font)[1] * size


def lines(text: str, size: float, room: float, font: str = ROMAN) -> list[str]:
    """``text`` broken between words into lines no wider than ``room``; a word too long for a line is cut."""
    made = [""]
    for word in plain(text).split():
        longer = f"{made[-1]} {word}" if made[-1] else word
        if width(longer, size, font) <= room:
            made[-1] = longer
            continue
        parts = _cut(word, size, room, font)
        made[len(made) if made[-1] else 0 :] = parts
    return made


def fitting(text: str, size: float, room: float, font: str = ROMAN) -> str:
    """``text`` on one line, cut short with an ellipsis where it is wider than ``room``."""
    text = plain(text)
    if width(text, size, font) <= room:
        return text
    fits = (length for length in range(len(text), 0, -1) if width(f"{text[:length].rstrip()}…", size, font) <= room)
    return f"{text[: next(fits, 0)].rstrip()}…"


@cache
def typeface() -> dict[str, TTFont]:
    """The typeface by font name, made known to the PDF library the first time it is asked for."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    found = {ROMAN: TTFont(ROMAN, "Vera.ttf"), BOLD: TTFont(BOLD, "VeraBd.ttf")}
    for font in found.values():
        pdfmetrics.registerFont(font)
    return found


def _cut(word: str, size: float, room: float, font: str) -> list[str]:
    """A word in as few parts as fit into lines."""
    parts = [""]
    for letter in word:
        if parts[-1] and width(parts[-1] + letter, size, font) > room:
            parts.append("")
        parts[-1] += letter
    return parts


def _parted(text: str, known: frozenset[int]) -> list[tuple[str, str]]:
    """Each letter with the accents to be drawn over it: none where the font has the letter, or can do nothing."""
    parted: list[tuple[str, str]] = []
    for letter in text:
        parts = unicodedata.normalize("NFD", letter)
        if letter in _ACCENTS and parted:
            parted[-1] = (parted[-1][0], parted[-1][1] + letter)
        elif ord(letter) in known or ord(parts[0]) not in known or not set(parts[1:]) <= set(_ACCENTS):
            parted.append((letter, ""))
        else:
            parted.append((parts[0], parts[1:]))
    return parted


def _over(letter: str, accent: str, middle: float, font: str) -> Run:
    tall = letter.isupper() or letter in "bdfhklt"
    return Run(accent, middle - _width(accent, font) / 2, _RAISED if tall and accent not in "¸˛" else 0.0)


@cache
def _known(font: str) -> frozenset[int]:
    return frozenset(typeface()[font].face.charToGlyph)


def _width(text: str, font: str) -> float:
    return float(typeface()[font].stringWidth(text, 1))
