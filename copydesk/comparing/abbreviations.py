"""Common abbreviations read by rule: signs, strokes, raised letters, and short forms of whole words.

Sources: the ways of abbreviating (a word cut short, a word drawn together, marks with a meaning of their own or one
that depends on the letter, raised letters, conventional signs) and most signs are those of A. Cappelli, *Lexicon
abbreviaturarum* (Trattato dell'abbreviatura medievale), from memory; the sacred names and their endings as the Hill
Museum & Manuscript Library's *vHMML School*, "Abbreviations: Nomina Sacra", has them; the English raised letters are
common practice, from memory. A workshop adds its own under ``allow: abbreviations`` in book.yaml.
"""

from __future__ import annotations

import re
import unicodedata
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Callable


AND_SIGNS = "&⁊"
"""The ampersand and the Tironian sign; both are read as the word for *and*."""

AND_WORDS = ("et", "and", "und", "ond", "e", "y", "i", "og", "ok", "och")
"""What a sign for *and* may be read as, by language."""

READINGS: dict[str, tuple[str, ...]] = {
    "ꝑ": ("per", "par", "por"),
    "ꝓ": ("pro",),
    "ꝕ": ("prae", "pre"),
    "ꝗ": ("qui", "quod", "que", "quam"),
    "ꝙ": ("quod", "que"),
    "ꝫ": ("et", "us", "ue", "m"),
    "ꝯ": ("con", "com", "cum", "us"),
    "ꝰ": ("us", "os"),
    "ꝭ": ("is", "es", "s"),
    "ꝝ": ("rum",),
    "ꝵ": ("rum",),
    "ꝸ": ("um",),
    "ꝛ": ("r",),
    "ꝟ": ("ver", "vir", "var"),
    "ꝉ": ("el", "ul", "il", "vel"),
    "ẜ": ("ser", "sir"),
    "ꝥ": ("that", "þat", "þæt"),
    "\u035b": ("er", "re", "r", "ir"),
    "\u1dd2": ("us",),
    "\u1dd3": ("ra", "ua", "a"),
}
"""A sign, and the letters it may stand for, the likeliest first. The last three stand over the letter before."""

FINAL = {"q;": "que", "b;": "bus", "q:": "que", "b:": "bus"}
"""A point with a hook at a word's end, as a semicolon or colon, after the letter that gives it its meaning."""

STROKES = "\u0303\u0304\u0305"
"""The stroke over a letter (tilde, macron, overline): an m or n left out after it, or letters left out of the word."""

WHOLE: dict[str, tuple[str, ...]] = {
    "e": ("est", "en", "em"),
    "n": ("non",),
    "c": ("cum", "con"),
    "s": ("sunt",),
    "h": ("haec", "hec"),
    "o": ("omnis", "on", "om"),
    "q": ("que", "quam", "quae", "quod"),
    "t": ("ter", "tur"),
    "p": ("prae", "pre"),
    "mia": ("misericordia",),
    "qm": ("quoniam", "quum"),
    "dd": ("david", "davit"),
    "ff": ("fratres",),
    **{f"ih{end}": (f"iesu{last}", f"ihesu{last}") for end, last in (("s", "s"), ("c", "s"), ("m", "m"), ("u", ""))},
    **{f"xp{end}": (f"christ{last}",) for end, last in (("s", "us"), ("c", "us"), ("m", "um"), ("i", "i"), ("o", "o"))},
    "xpe": ("christe",),
    "xpian": ("christian",),
    "ihrlm": ("ierusalem", "hierusalem"),
    "y^e": ("the", "ye"),
    "y^t": ("that",),
    "y^u": ("thou",),
    "þ^e": ("þe", "the"),
    "þ^t": ("þat", "that"),
    "þ^u": ("þou", "thou"),
}
"""Short forms whose letters alone do not lead to the word: with a stroke, or with raised letters, marked by ``^``."""

MOST_LEFT_OUT = 4
"""A word drawn together keeps at least one of so many letters; shorter ones are listed by hand. Our own judgement."""
NEAR_RAISED = (4, 2)
"""Letters that may be left out before a raised letter and after it. Our own judgement."""


class Shortened(NamedTuple):
    """A word written short: the letters kept, and whether a stroke or raised letters say that others are left out.

    Attributes:
        letters: the letters and signs kept, letters as they are compared; none is empty.
        readings: what each of them may stand for: itself, or what a sign among them is read as.
        raised: which of them are raised, by their place.
        stroke: whether a stroke stands over the word.
        cut: whether the stroke stands over its end, so that the end may be left out.
    """

    letters: tuple[str, ...]
    readings: tuple[tuple[str, ...], ...]
    raised: frozenset[int]
    stroke: bool
    cut: bool

    @property
    def words(self) -> tuple[str, ...]:
        """The words it stands for by custom."""
        return WHOLE.get("".join(f"^{each}" if at in self.raised else each for at, each in enumerate(self.letters)), ())

    def stands_for(self, word: str) -> bool:
        """Whether the letters kept are those of ``word`` in their order, its first among them, others left out."""
        kept = sum(map(len, self.letters))
        if not (1 < kept < len(word) <= MOST_LEFT_OUT * kept):
            return False
        return re.fullmatch(self._pattern, word) is not None

    @property
    def _pattern(self) -> str:
        kept = ["|".join(map(re.escape, each)) for each in self.readings]
        if self.stroke:
            return ".*".join(f"(?:{each})" for each in kept) + (".*" if self.cut else "")
        before, after = NEAR_RAISED
        return "".join(
            f".{{0,{before}}}(?:{each}).{{0,{after}}}" if at in self.raised else f"(?:{each})"
            for at, each in enumerate(kept)
        )


def shortened(word: str, compared: Callable[[str], str]) -> Shortened | None:
    """The word as one written short; None where no stroke and no raised letter stands in it.

    ``compared`` gives a letter as it is compared; empty for a mark that does not count.
    """
    letters: list[str] = []
    signs: dict[int, tuple[str, ...]] = {}
    raised: set[int] = set()
    last_stroke = -1
    for mark in unicodedata.normalize("NFD", word):
        up = _raised(mark)
        final = FINAL.get(f"{letters[-1]}{mark}") if letters else None
        if mark in STROKES and letters:
            last_stroke = len(letters) - 1
        elif mark in READINGS or final is not None:
            read = READINGS[mark] if final is None else (final[1:], "")
            signs[len(letters)] = tuple(map(compared, read))
            letters.append(mark)
        elif not up and unicodedata.combining(mark) and letters:
            letters[-1] = compared(letters[-1] + mark)
        elif kept := compared(up or mark):
            if up:
                raised.add(len(letters))
            letters.append(kept)
    if not letters or (last_stroke < 0 and not raised):
        return None
    readings = tuple(signs.get(at, (each,)) for at, each in enumerate(letters))
    return Shortened(tuple(letters), readings, frozenset(raised), last_stroke >= 0, last_stroke >= len(letters) - 2)


def _raised(mark: str) -> str:
    """The letter that a raised letter is, written above or beside the one before it; empty for any other mark."""
    kind, _, code = unicodedata.decomposition(mark).partition(" ")
    if kind == "<super>" and " " not in code:
        letter = chr(int(code, 16))
        return letter if letter.isalpha() else ""
    name = unicodedata.name(mark, "")
    letter = name.removeprefix("COMBINING LATIN SMALL LETTER ")
    return letter.casefold() if name != letter and len(letter) == 1 else ""
