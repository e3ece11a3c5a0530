"""How the desk is coloured: ink, skin, and one red for what is wrong or waiting; dark and light."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from textual.theme import Theme


DARK = "lamplight"
LIGHT = "daylight"
CONTRAST = "plain"
OWN_COLOURS = "ansi-dark"
"""Textual's own: the sixteen colours as the terminal has them."""

LOOKS = {"dark": DARK, "light": LIGHT, "contrast": CONTRAST, "terminal": OWN_COLOURS}
"""What a person calls each look, in the order in which a key goes through them."""

_ROLES = (
    "primary",
    "secondary",
    "warning",
    "error",
    "success",
    "accent",
    "foreground",
    "background",
    "surface",
    "panel",
)
_FIGURES = {
    DARK: "c9a86a 8f8571 d8a24a e0674f 9fb07a c9a86a e9e0cd 1d1a16 26221c 2f2a22",
    LIGHT: "6b4a1f 7d7261 8a5a00 a62a17 4d6130 6b4a1f 2a231a f6f0e2 efe7d4 e5dbc4",
    CONTRAST: "ffff00 ffffff ffff00 ff6060 00ff00 ffff00 ffffff 000000 000000 000000",
}
"""The colour of each role, as red, green and blue in hexadecimal."""


def look_after(look: str) -> str:
    """The next look in turn; the first after one that is unknown."""
    names = list(LOOKS)
    return names[(names.index(look) + 1) % len(names)] if look in LOOKS else names[0]


def themes() -> list[Theme]:
    """The desk's own themes."""
    from textual.theme import Theme

    found = []
    for name, figures in _FIGURES.items():
        colours = {role: f"#{figure}" for role, figure in zip(_ROLES, figures.split(), strict=True)}
        found.append(Theme(name=name, dark=name != LIGHT, **colours))  # type: ignore[arg-type]
    return found
