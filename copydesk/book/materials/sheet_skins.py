"""Which sheet was cut from which skin, so that a bad skin leads to its sheets and a bad sheet to its fellows."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable


class CutFrom(NamedTuple):
    """One sheet as it was cut: the sheet (``3.2``: gathering, then sheet from outside) and the skin's name."""

    sheet: str
    skin: str


def skin_of(cut: Iterable[CutFrom], sheet: str) -> str | None:
    """The skin a sheet was cut from, by what was noted last; None where nobody noted it."""
    return next((each.skin for each in reversed(tuple(cut)) if each.sheet == sheet), None)


def sheets_of(cut: Iterable[CutFrom], skin: str) -> tuple[str, ...]:
    """The sheets cut from a skin, in the order they were noted."""
    return tuple(sheet for sheet, of in _last_said(cut).items() if of == skin)


def fellows(cut: Iterable[CutFrom], sheet: str) -> tuple[str, ...]:
    """The other sheets of the skin that a sheet was cut from."""
    noted = tuple(cut)
    skin = skin_of(noted, sheet)
    return () if skin is None else tuple(other for other in sheets_of(noted, skin) if other != sheet)


def cutting_doubts(cut: Iterable[CutFrom], sheets_a_skin: int) -> tuple[str, ...]:
    """What cannot be right about the notes, as sentences: two skins for one sheet, too many sheets from one skin."""
    noted = tuple(cut)
    skins: dict[str, list[str]] = {}
    for sheet, skin in noted:
        skins.setdefault(sheet, []).append(skin)
    twice = [
        f"Sheet {sheet} is noted as cut from {' and from '.join(dict.fromkeys(names))}; it can come from one only."
        for sheet, names in skins.items()
        if len(set(names)) > 1
    ]
    many = [
        f"Skin {skin} is noted as giving {count} sheets, but the cutting gives {sheets_a_skin}."
        for skin, count in Counter(_last_said(noted).values()).items()
        if count > sheets_a_skin
    ]
    return (*twice, *many)


def _last_said(cut: Iterable[CutFrom]) -> dict[str, str]:
    return {each.sheet: each.skin for each in cut}
