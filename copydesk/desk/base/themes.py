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

_FIGURES = {
    DARK: {
        "primary": "#c9a86a",
        "secondary": "#8f8571",
        "warning": "#d8a24a",
        "error": "#e0674f",
        "success": "#9fb07a",
        "accent": "#c9a86a",
        "foreground": "#e9e0cd",
        "background": "#1d1a16",
        "surface": "#26221c",
        "panel": "#2f2a22",
    },
    LIGHT: {
        "primary": "#6b4a1f",
        "secondary": "#7d7261",
        "warning": "#8a5a00",
        "error": "#a62a17",
        "success": "#4d6130",
        "accent": "#6b4a1f",
        "foreground": "#2a231a",
        "background": "#f6f0e2",
        "surface": "#efe7d4",
        "panel": "#e5dbc4",
    },
    CONTRAST: {
        "primary": "#ffff00",
        "secondary": "#ffffff",
        "warning": "#ffff00",
        "error": "#ff6060",
        "success": "#00ff00",
        "accent": "#ffff00",
        "foreground": "#ffffff",
        "background": "#000000",
        "surface": "#000000",
        "panel": "#000000",
    },
}


def look_after(look: str) -> str:
    """The next look in turn; the first after one that is unknown."""
    names = list(LOOKS)
    return names[(names.index(look) + 1) % len(names)] if look in LOOKS else names[0]


def themes() -> list[Theme]:
    """The desk's own themes."""
    from textual.theme import Theme

    return [Theme(name=name, dark=name != LIGHT, **colours) for name, colours in _FIGURES.items()]  # type: ignore[arg-type]
