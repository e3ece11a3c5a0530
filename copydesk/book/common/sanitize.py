"""Text from files and people made harmless to show: no control characters, nothing that turns or hides text."""

from __future__ import annotations

import unicodedata

_HIDDEN = frozenset(
    "\u00ad\u061c\u180e\u200b\u200c\u200d\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2060\u2061\u2062\u2063\u2064"
    "\u2066\u2067\u2068\u2069\u206a\u206b\u206c\u206d\u206e\u206f\ufeff\ufff9\ufffa\ufffb"
)
"""Zero-width characters and those that turn the direction of writing."""

_SEEN = dict.fromkeys(map(ord, _HIDDEN))


def sanitize(text: str) -> str:
    """``text`` on one line: white space is a space, control and hidden characters become a small square or go."""
    if text.isascii() and text.isprintable():
        return text
    shown = text.translate(_SEEN)
    return "".join(_shown(character) for character in shown)


def _shown(character: str) -> str:
    if character.isprintable():
        return character
    if character in "\t\n\r\v\f" or unicodedata.category(character).startswith("Z"):
        return " "
    return "▫"
