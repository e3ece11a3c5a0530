"""How far a verse of a TEI file is indented: what ``rend`` and ``style`` of ``l`` and ``lg`` say, and marks for it.

``rend`` holds any words (TEI P5 Guidelines, att.global.rendition); read are ``indent`` and ``hanging``, with a number
after them for so many times as far, as in ``indent2`` or ``indent(2)``. One indent is an em, which is two letters:
CSS takes the width of a figure (``ch``) for half an em where it is not known (CSS Values and Units Module Level 3,
section 5.1.1). ``style`` is CSS (TEI P5): ``text-indent`` of the first line, ``margin-left`` or ``padding-left`` of
all.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping


EM = 2
"""Letters to an em."""

_MOST = 999
_REND = re.compile(r"(indent|hanging)\(?([0-9]{1,3})?\)?")
_STYLE = re.compile(r"(text-indent|margin-left|padding-left)\s*:\s*(-?[0-9]{0,3}\.?[0-9]{1,3})\s*(ch|em)")


class VerseRoom(NamedTuple):
    """Letters by which a verse is indented, and by which its further lines are beyond that."""

    indent: int = 0
    hang: int = 0


def verse_room(attributes: Mapping[str, str]) -> VerseRoom:
    """What the attributes of an ``l`` or an ``lg`` say."""
    said = {"text-indent": 0.0, "margin-left": 0.0, "padding-left": 0.0}
    styled = _STYLE.findall(attributes.get("style", ""))
    for name, figure, unit in styled:
        said[name] = float(figure) * (EM if unit == "em" else 1)
    if styled:
        first = round(said["text-indent"])
        left = round(said["margin-left"] + said["padding-left"])
        return VerseRoom(min(max(left + first, 0), _MOST), max(-first, 0))
    words = map(_REND.fullmatch, attributes.get("rend", "").split())
    room = {found[1]: EM * int(found[2] or 1) for found in words if found}
    return VerseRoom(min(room.get("indent", 0), _MOST), room.get("hanging", 0))


def verse_marks(around: Iterable[VerseRoom]) -> str:
    """The marks of the plain form, after ``| ``, for a verse within elements that ask for so much room."""
    around = list(around)
    indent, hang = sum(each.indent for each in around), max((each.hang for each in around), default=0)
    return " " * min(indent, _MOST) + (f"{{hanging {hang}}} " if hang else "")


def lines_of_space(attributes: Mapping[str, str]) -> int:
    """The blank lines that a ``space`` leaves; none where it is not counted in lines."""
    if not attributes.get("unit", "").startswith("line"):
        return 0
    quantity = attributes.get("quantity", "1").strip()
    return int(quantity) if re.fullmatch("[0-9]{1,2}", quantity) else 1
