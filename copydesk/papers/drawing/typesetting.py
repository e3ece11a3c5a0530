"""Letters on paper: how a text is set, how wide it is, and where it is broken.

A mark over or under a letter is set by the ink of both: over the middle of its letter, and as high as that is tall.
A letter no face of ours has is never a box: its code point stands for it, ``[U+6F22]``, and the paper says so.
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.sanitize import sanitize
from copydesk.papers.drawing.fonts import BOLD, ROMAN, Ink, face_with, ink, letters_of, width_in

if TYPE_CHECKING:
    from collections.abc import Sequence


__all__ = ["BOLD", "ROMAN", "Setting", "TypeRun", "fitting", "lacking_words", "lines", "setting", "width"]

NOT_SHOWN = "▫"
"""What :func:`plain` leaves of a sign that must not be shown."""

_TOLD = 8  # code points in one remark
_LOW_LETTER = "x"  # marks are drawn for letters of its height
_OVER, _UNDER = 0.8, 0.1  # of that height: ink above the one lies over a letter, ink below the other under it
_NAMELESS = frozenset({"Co", "Cn", "Cs"})  # letters of private use, of nobody's use yet, and halves of letters
_UNSEEN = dict.fromkeys((0x034F, *range(0xFE00, 0xFE10)))  # they join letters, or choose the form of one
_SPANNING = range(0x035C, 0x0363)  # marks over two letters, drawn for the place between them


class TypeRun(NamedTuple):
    """Text set in one go: in which face, how far above the line, and the blank after it; both in parts of the size."""

    text: str
    face: str
    above: float = 0.0
    after: float = 0.0


class Setting(NamedTuple):
    """A text as it is set: its runs one after another, the width of all in parts of the size, letters no face has."""

    runs: tuple[TypeRun, ...]
    width: float
    lacking: tuple[str, ...] = ()


def setting(text: str, wanted: str = ROMAN) -> Setting:
    """Harmless ``text`` set in the face ``wanted``, and in others where that lacks a letter."""
    text = unicodedata.normalize("NFC", _harmless(text).translate(_UNSEEN))
    if text.isascii() or not any(_is_mark(letter) or ord(letter) not in letters_of(wanted) for letter in text):
        return Setting((TypeRun(text, wanted),), width_in(text, wanted), _not_shown(text))
    parts = [_set(letter, marks, wanted) for letter, marks in _parted(text, wanted)]
    lacking = (letter for part in parts for letter in part.lacking)
    told = dict.fromkeys((*_not_shown(text), *lacking))
    return Setting(_joined(parts), sum(part.width for part in parts), tuple(told))


def lacking_words(letters: Sequence[str]) -> str:
    """What a paper says of the letters no face has; empty where there are none."""
    said = []
    if NOT_SHOWN in letters:
        said.append(f"{NOT_SHOWN} stands for a sign that is no letter: one of control, or of private use.")
    codes = [f"U+{ord(letter):04X}" for letter in letters if letter != NOT_SHOWN]
    if codes:
        more = f" and {len(codes) - _TOLD} more" if len(codes) > _TOLD else ""
        named = ", ".join(codes[:_TOLD])
        said.append(f"Letters the typeface of this paper lacks stand in it as their code points: {named}{more}.")
    return " ".join(said)


def width(text: str, size: float, font: str = ROMAN) -> float:
    """How wide ``text`` is at ``size``, in the same unit as the size."""
    return setting(text, font).width * size


def lines(text: str, size: float, room: float, font: str = ROMAN) -> list[str]:
    """``text`` broken between words into lines no wider than ``room``; a word too long for a line is cut."""
    made = [""]
    for word in _harmless(text).split():
        longer = f"{made[-1]} {word}" if made[-1] else word
        if width(longer, size, font) <= room:
            made[-1] = longer
            continue
        parts = _cut(word, size, room, font)
        made[len(made) if made[-1] else 0 :] = parts
    return made


def fitting(text: str, size: float, room: float, font: str = ROMAN) -> str:
    """``text`` on one line, cut short with an ellipsis where it is wider than ``room``."""
    text = _harmless(text)
    if width(text, size, font) <= room:
        return text
    fits = (length for length in range(len(text), 0, -1) if width(f"{text[:length].rstrip()}…", size, font) <= room)
    return f"{text[: next(fits, 0)].rstrip()}…"


def _harmless(text: str) -> str:
    """The text made plain, but for letters of private use and none yet given: these are told by their code point."""
    if text.isprintable():
        return sanitize(text)
    return "".join(letter if unicodedata.category(letter) in _NAMELESS else sanitize(letter) for letter in text)


def _not_shown(text: str) -> tuple[str, ...]:
    return (NOT_SHOWN,) if NOT_SHOWN in text else ()


def _is_mark(letter: str) -> bool:
    """Whether it stands on the letter before it and takes no room of its own (Unicode, general categories)."""
    return unicodedata.category(letter) in {"Mn", "Me"}


def _code(letter: str) -> str:
    return f"[U+{ord(letter):04X}]"


def _cut(word: str, size: float, room: float, font: str) -> list[str]:
    """A word in as few parts as fit into lines."""
    parts = [""]
    for letter in word:
        if parts[-1] and width(parts[-1] + letter, size, font) > room:
            parts.append("")
        parts[-1] += letter
    return parts


def _parted(text: str, wanted: str) -> list[tuple[str, str]]:
    """Each letter with the marks on it; a letter with an accent that no face has whole is taken apart."""
    parted: list[tuple[str, str]] = []
    for letter in text:
        parts = unicodedata.normalize("NFD", letter)
        if _is_mark(letter) and parted:
            parted[-1] = (parted[-1][0], parted[-1][1] + letter)
        elif len(parts) > 1 and face_with(letter, wanted) is None:
            parted.append((parts[0], parts[1:]))
        else:
            parted.append((letter, ""))
    return parted


@lru_cache(maxsize=4096)
def _set(letter: str, marks: str, wanted: str) -> Setting:
    """One letter with the marks on it; what no face has stands by its code point, and a mark without its letter too."""
    found = {each: face_with(each, wanted) for each in letter + marks}
    own = found[letter]
    shown = [(mark, name) for mark in marks if own is not None and (name := found[mark]) is not None]
    told = [each for each in letter + marks if own is None or found[each] is None]
    runs: list[TypeRun] = []
    wide = 0.0
    if own is not None:
        wide = width_in(letter, own)
        runs = _marked(TypeRun(letter, own), wide, shown)
    if told:
        codes = "".join(map(_code, told))
        runs.append(TypeRun(codes, wanted))
        wide += width_in(codes, wanted)
    return Setting(tuple(runs), wide, tuple(told))


def _marked(run: TypeRun, wide: float, marks: list[tuple[str, str]]) -> list[TypeRun]:
    """A letter and its marks: the blank before a mark moves it to its place, and is taken off again after it."""
    base = ink(run.text[-1], run.face)
    runs, at, low, high = [run], wide, min(base.low, 0.0), base.high
    for mark, name in marks:
        own = ink(mark, name)
        place = wide if ord(mark) in _SPANNING else _middle(base) - _middle(own)
        above = _raised(own, low, high)
        runs[-1] = runs[-1]._replace(after=place - at)
        runs.append(TypeRun(mark, name, above))
        at, low, high = place + width_in(mark, name), min(low, own.low + above), max(high, own.high + above)
    runs[-1] = runs[-1]._replace(after=wide - at)
    return runs


def _middle(ink: Ink) -> float:
    return (ink.left + ink.right) / 2


def _raised(mark: Ink, low: float, high: float) -> float:
    """How far a mark is moved up over ink as high, or down under ink as low; a stroke through a letter stays."""
    letter = ink(_LOW_LETTER, ROMAN).high
    if mark.low >= _OVER * letter:
        return max(high - letter, 0.0)
    return low if mark.high <= _UNDER * letter else 0.0


def _joined(parts: list[Setting]) -> tuple[TypeRun, ...]:
    """The runs of all parts; those that follow one another plainly in one face become one."""
    runs: list[TypeRun] = []
    for run in (run for part in parts for run in part.runs):
        last = runs[-1] if runs else None
        if last is not None and run[1:] == last[1:] == (last.face, 0.0, 0.0):
            runs[-1] = TypeRun(last.text + run.text, run.face)
        else:
            runs.append(run)
    return tuple(runs)
