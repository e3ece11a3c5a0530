"""The common signs of abbreviation, and what each may stand for.

Source: the signs and their usual readings are common practice of Latin and vernacular hands, as set out in
A. Cappelli, *Lexicon abbreviaturarum*, introduction (from memory); the characters are those of Unicode.
"""

from __future__ import annotations

AND_SIGNS = "&⁊"
"""The ampersand and the Tironian sign; both are read as the word for *and*."""

AND_WORDS = ("et", "and", "und", "ond", "e", "y", "i", "og", "ok", "och")
"""What a sign for *and* may be read as, by language."""

READINGS: dict[str, tuple[str, ...]] = {
    "ꝑ": ("per", "par", "por"),
    "ꝓ": ("pro",),
    "ꝗ": ("qui", "quod", "que"),
    "ꝙ": ("quod", "que"),
    "ꝫ": ("et", "us", "ue", "m"),
    "ꝯ": ("con", "com", "cum", "us"),
    "ꝰ": ("us", "os"),
    "ꝭ": ("is", "es", "s"),
    "ꝝ": ("rum",),
    "ꝛ": ("r",),
    "ꝥ": ("that", "þat", "þæt"),
}
"""A sign, and the letters it may stand for, the likeliest first."""

STROKES = "\u0303\u0304\u0305"
"""The stroke over a letter (tilde, macron, overline), which stands for an m or n left out after it."""
