"""The faces our papers are set in: where a letter is found, how wide it is, and where its ink lies.

A text is set in DejaVu Sans. Letters it lacks come from Noto Sans (medieval letters, small letters over others) and
Junicode (runes, the newest letters). Each face is read the first time a paper wants a letter of it.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from struct import unpack_from
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from reportlab.pdfbase.ttfonts import TTFont


ROMAN = "DejaVuSans"
BOLD = "DejaVuSans-Bold"

_HELPERS = {ROMAN: ("NotoSans-Regular", "Junicode-Regular"), BOLD: ("NotoSans-Bold", "Junicode-Regular")}
"""Where the letters are looked for that a face lacks."""

_HERE = Path(__file__).with_name("typeface")


class Ink(NamedTuple):
    """How far the ink of a letter reaches from where it begins on its line, in parts of the size."""

    left: float
    low: float
    right: float
    high: float


@cache
def face(name: str) -> TTFont:
    """A face by its name, made known to the PDF library the first time it is asked for."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    found = TTFont(name, str(_HERE / f"{name}.ttf"))
    pdfmetrics.registerFont(found)
    return found


@cache
def letters_of(name: str) -> frozenset[int]:
    """The code points a face has."""
    return frozenset(face(name).face.charToGlyph)


@cache
def face_with(letter: str, wanted: str) -> str | None:
    """The face that has ``letter``: the one ``wanted``, one of its helpers, or none."""
    code = ord(letter)
    return next((name for name in (wanted, *_HELPERS[wanted]) if code in letters_of(name)), None)


def width_in(text: str, name: str) -> float:
    """How wide ``text`` is in a face, in parts of the size."""
    return float(face(name).stringWidth(text, 1))


@cache
def ink(letter: str, name: str) -> Ink:
    """Where the ink of a letter lies; all 0 where it leaves none (OpenType, table ``glyf``)."""
    read = face(name).face
    glyph = read.charToGlyph[ord(letter)]
    start = read.glyphPos[glyph]
    if read.glyphPos[glyph + 1] == start:
        return Ink(0.0, 0.0, 0.0, 0.0)
    return Ink(*(side / read.unitsPerEm for side in unpack_from(">4h", _outlines(name), start + 2)))


@cache
def _outlines(name: str) -> bytes:
    read: Any = face(name).face
    return bytes(read.get_table("glyf"))
