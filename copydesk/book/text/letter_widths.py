"""How wide letters are beside one another: the built-in table, and the widths of words.

Widths are counted in *letters*: one letter is the mean width of a letter or word-space in ordinary English.
A line of ``letters_per_line: 34`` is then 34 letters wide, whichever table is used.

The relative widths are the mean of two faces drawn after the broad pen, an upright round one (P052 Roman, metrically
Palatino) and a chancery italic (Z003 Medium Italic, metrically Zapf Chancery), as published in their Adobe font
metrics files (URW++ core 35 fonts), each taken relative to its own mean letter. The word-space is wider than in type:
the gap is "the width of the letter o" (E. Johnston, *Writing & Illuminating, & Lettering*, 1906, p. 78), so the o
without the white at its sides. The mean letter is weighed by the letter frequencies of English (R. E. Lewand,
*Cryptological Mathematics*, 2000, p. 36, from memory) with words of 4.7 letters. Wynn, yogh and the Tironian sign
stand in neither face and take the width of p, g and a figure.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable


TableName = Literal["relative", "equal"]

WORD_SPACE = 0.86
"""The gap between two words, in mean letters."""

_WIDTHS = """
    a 1.10  b 1.16  c 0.93  d 1.25  e 0.97  f 0.79  g 1.13  h 1.22  i 0.64  j 0.55
    k 1.19  l 0.64  m 1.78  n 1.24  o 1.12  p 1.24  q 1.14  r 0.83  s 0.88  t 0.78
    u 1.26  v 1.20  w 1.81  x 1.12  y 1.13  z 1.13
    A 1.67  B 1.46  C 1.46  D 1.77  E 1.49  F 1.38  G 1.65  H 1.81  I 0.88  J 0.90
    K 1.67  L 1.44  M 2.15  N 1.83  O 1.65  P 1.38  Q 1.65  R 1.52  S 1.18  T 1.33
    U 1.83  V 1.64  W 2.26  X 1.47  Y 1.47  Z 1.55
    0 1.13  1 1.13  2 1.13  3 1.13  4 1.13  5 1.13  6 1.13  7 1.13  8 1.13  9 1.13
    . 0.56  , 0.56  : 0.62  ; 0.59  ! 0.68  ? 0.99  ' 0.44  " 1.02  ` 0.62  - 0.73
    ( 0.71  ) 0.65  [ 0.68  ] 0.79  { 0.68  } 0.68  * 0.98  _ 1.21  / 1.10  \\ 1.30
    & 1.89  $ 1.13  % 1.82  # 1.13  @ 1.75  | 1.35  ~ 1.35  ^ 1.35  ° 0.97  • 1.46
    + 1.35  = 1.35  < 1.35  > 1.35  − 1.35  × 1.35  – 1.21  — 2.42  … 2.42  · 0.56
    ‘ 0.62  ’ 0.62  “ 0.99  ” 1.02  ‚ 0.54  „ 0.91  « 0.99  » 1.05  ‹ 0.68  › 0.70
    ¿ 1.02  ¡ 0.68  ¶ 1.35  § 1.10  † 1.16  ‡ 1.18  ß 1.16  ſ 0.79  ı 0.63
    æ 1.54  œ 1.64  Æ 2.01  Œ 2.17  ø 1.19  Ø 1.78  ð 1.12  Ð 1.77  þ 1.24  Þ 1.38
    ł 0.72  Ł 1.44  đ 1.25  Đ 1.77  ƿ 1.24  Ƿ 1.38  ȝ 1.13  Ȝ 1.65  ⁊ 1.13
"""
_OTHER_CAPITAL = 1.56
"""A capital of an alphabet that is not in the table: the mean of A to Z."""

_STEP = 1024
"""Widths are kept in 1024ths, which sum without rounding: text cast from its middle agrees with text cast whole."""


class WidthTable(NamedTuple):
    """A way of counting how much of a line each letter takes.

    ``space`` is the gap between two words; ``letter`` gives the width of one character, both in mean letters.
    """

    name: TableName
    space: float
    letter: Callable[[str], float]

    def width_of(self, word: str) -> float:
        """The width of a word, or of words with spaces between them, in mean letters."""
        return sum(self.space if character == " " else self.letter(character) for character in word)


class WordWidths(dict[str, float]):
    """The widths of words, in mean letters, each worked out once; ``widths[word]`` leaves out the space after it.

    ``space`` is the word-space. For many words at once: ``map(widths.__getitem__, words)``.
    """

    __slots__ = ("_letters", "space", "table")

    def __init__(self, table: WidthTable) -> None:
        super().__init__()
        self.table = table
        self.space = table.space
        self._letters = _LetterWidths(table.letter)

    def __missing__(self, word: str) -> float:
        width = self[word] = sum(map(self._letters.__getitem__, word))
        return width


class _LetterWidths(dict[str, float]):
    __slots__ = ("_letter",)

    def __init__(self, letter: Callable[[str], float]) -> None:
        super().__init__()
        self._letter = letter

    def __missing__(self, character: str) -> float:
        width = self[character] = self._letter(character)
        return width


def width_table(name: TableName) -> WidthTable:
    """The table that ``letter_widths`` in book.yaml names."""
    return EQUAL if name == "equal" else RELATIVE


def natural_width(words: Iterable[str], widths: WordWidths) -> float:
    """The width of words written on one endless line, in mean letters."""
    each = list(map(widths.__getitem__, words))
    return sum(each) + widths.space * max(0, len(each) - 1)


def letter_count(words: Iterable[str]) -> int:
    """How many letters and word-spaces words take; marks over a letter and unseen characters count nothing."""
    words = list(words)
    text = "".join(words)
    unseen = filter(_takes_no_room, set().union(*set(words)))
    return len(text) - sum(map(text.count, unseen)) + max(0, len(words) - 1)


def _exact(width: float) -> float:
    return round(width * _STEP) / _STEP


def _read(rows: str) -> dict[str, float]:
    fields = rows.split()
    return {letter: _exact(float(width)) for letter, width in zip(fields[::2], fields[1::2], strict=True)}


_RELATIVE = _read(_WIDTHS)


def _takes_no_room(character: str) -> bool:
    from unicodedata import category

    return category(character) in ("Mn", "Me", "Cf", "Cc")


def _equal_letter(character: str) -> float:
    return 0.0 if _takes_no_room(character) else 1.0


def _relative_letter(character: str) -> float:
    known = _RELATIVE.get(character)
    return _letter_by_kind(character) if known is None else known


def _letter_by_kind(character: str) -> float:
    """A letter that is not in the table: by its width class, its base letter, or its kind."""
    from unicodedata import category, east_asian_width, normalize

    if _takes_no_room(character):
        return 0.0
    if east_asian_width(character) in ("W", "F"):
        return 2.0
    parts = normalize("NFKD", character)
    if parts != character and " " not in parts:
        return sum(map(_relative_letter, parts))
    return _exact(_OTHER_CAPITAL) if category(character) == "Lu" else 1.0


RELATIVE = WidthTable("relative", _exact(WORD_SPACE), _relative_letter)
"""The built-in table of relative letter widths."""

EQUAL = WidthTable("equal", 1.0, _equal_letter)
"""Every letter and word-space counts one, whatever its shape."""
