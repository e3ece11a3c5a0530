"""How the desk is coloured: ink on skin, red for what is wrong, amber for what waits, blue for where one is.

Every colour has a role. Style sheets and widgets name roles, never colours.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from textual.theme import Theme


DARK = "lamplight"
LIGHT = "daylight"
CONTRAST = "plain"
OWN_COLOURS = "terminal"
"""The colours as the terminal has them; also worn where no colours are wanted."""

LOOKS = {"dark": DARK, "light": LIGHT, "contrast": CONTRAST, "terminal": OWN_COLOURS}
"""What a person calls each look, in the order in which a key goes through them."""

GROUNDS = ("background", "surface", "panel", "hair", "flesh", "beside", "cursor")
"""What is written on: the screen, panels, the line of messages; hair and flesh, the page beside, the row in hand."""

INKS = ("strong", "foreground", "secondary", "quiet", "error", "warning", "primary")
"""What is written in, beside ``now``, which has a ground of its own: the next act, ink, headings and rules, what is
done; what is wrong, what waits for the artist, where one is."""

_NOW = ("now", "now-ground")
_FIGURES = {
    DARK: (
        "171411 211d18 2f2921 221d17 2b2721 1d2b32 17384a",
        "fff6e0 e9e0cd c4b9a2 a79c87 f48a74 e0ad55 7fbfd9",
        "1d1a16 f3e7c9",
    ),
    LIGHT: (
        "f1e9d8 e9dfca ddd1b8 ece0c6 fbf6ea dfe7e4 c9e2ea",
        "120d06 2a231a 4d4436 5f5545 a3240f 834a00 0f5878",
        "fbf6ea 2a231a",
    ),
    CONTRAST: (
        "000000 000000 000000 000000 000000 000000 000080",
        "ffffff ffffff ffffff ffffff ff9c8a ffff00 7fe0ff",
        "000000 ffffff",
    ),
}
"""The colours of the grounds, of the inks, and of ``now``, as red, green and blue in hexadecimal."""

_TEXTUALS = frozenset({"background", "surface", "panel", "foreground", "secondary", "error", "warning", "primary"})
"""Roles for which Textual's themes have a field; the others are variables."""


def look_after(look: str) -> str:
    """The next look in turn; the first after one that is unknown."""
    names = list(LOOKS)
    return names[(names.index(look) + 1) % len(names)] if look in LOOKS else names[0]


def colours_of(theme: str) -> dict[str, str]:
    """The colour of every role in one of our own themes; the terminal's own has none but its default."""
    roles = (*GROUNDS, *INKS, *_NOW)
    if theme == OWN_COLOURS:
        return {**dict.fromkeys(roles, "ansi_default"), "error": "ansi_red", "warning": "ansi_yellow"}
    figures = " ".join(_FIGURES[theme]).split()
    return {role: f"#{figure}" for role, figure in zip(roles, figures, strict=True)}


_TINTED = {"cursor-style": "none", "row-style": "bold"}
"""How the page and the row in hand are drawn where their ground tells them; and where a dark ground alone would not."""
_SEEN = {"cursor-style": "reverse", "row-style": "bold underline"}


def themes() -> list[Theme]:
    """The desk's own themes."""
    from textual.theme import Theme

    found = []
    for name in LOOKS.values():
        colours = colours_of(name)
        fields = {role: colour for role, colour in colours.items() if role in _TEXTUALS}
        fields |= {"success": colours["foreground"], "accent": colours["primary"], "boost": colours["panel"]}
        found.append(
            Theme(
                name=name,
                dark=name != LIGHT,
                ansi=name == OWN_COLOURS,
                variables={**_variables(colours), **(_SEEN if name == CONTRAST else _TINTED)},
                **fields,  # type: ignore[arg-type]
            )
        )
    return found


def _variables(colours: dict[str, str]) -> dict[str, str]:
    """Our roles that Textual lacks; and its own roles, said in ours, so that its widgets are dressed alike."""
    own = {role: colour for role, colour in colours.items() if role not in _TEXTUALS}
    ink, row, quiet = colours["foreground"], colours["cursor"], colours["quiet"]
    said = {
        "ansi-background": colours["background"],
        **dict.fromkeys(("ansi-foreground", "text", "text-success", "input-foreground", "footer-foreground"), ink),
        **dict.fromkeys(("block-cursor-foreground", "block-cursor-blurred-foreground", "block-hover-foreground"), ink),
        **dict.fromkeys(("block-cursor-background", "block-cursor-blurred-background"), row),
        **dict.fromkeys(("input-cursor-foreground", "button-color-foreground"), colours["background"]),
        **dict.fromkeys(("input-cursor-background", "footer-key-foreground", "border"), colours["primary"]),
        **dict.fromkeys(("input-selection-background", "screen-selection-background"), row),
        **dict.fromkeys(("input-selection-foreground", "screen-selection-foreground"), ink),
        **dict.fromkeys(("text-muted", "text-disabled", "border-blurred", "footer-description-foreground"), quiet),
        **dict.fromkeys(("scrollbar", "scrollbar-hover", "scrollbar-active"), quiet),
        **dict.fromkeys(("scrollbar-background", "scrollbar-background-hover"), colours["surface"]),
        **dict.fromkeys(("scrollbar-background-active", "scrollbar-corner-color"), colours["surface"]),
        **dict.fromkeys(("text-primary", "text-accent", "link-color"), colours["primary"]),
        **dict.fromkeys(("markdown-h1-color", "markdown-h2-color", "markdown-h3-color"), colours["strong"]),
        "text-secondary": colours["secondary"],
        "text-error": colours["error"],
        "text-warning": colours["warning"],
        "block-hover-background": colours["panel"],
        "block-cursor-text-style": "bold",
        "block-cursor-blurred-text-style": "bold",
    }
    return own | said
