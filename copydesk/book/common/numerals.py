"""Roman numerals as printed today and as scribes wrote them: iiij for four, the last i written long."""

from __future__ import annotations

import re

from copydesk.book.common.errors import InvalidValueError

LARGEST = 4999
_TODAY = (
    (1000, "m"), (900, "cm"), (500, "d"), (400, "cd"), (100, "c"), (90, "xc"),
    (50, "l"), (40, "xl"), (10, "x"), (9, "ix"), (5, "v"), (4, "iv"), (1, "i"),
)  # fmt: skip
_BY_ADDING = tuple((value, letters) for value, letters in _TODAY if len(letters) == 1)
_VALUES = {letters: value for value, letters in _BY_ADDING}
_FORM = re.compile(r"m{0,4}(cm|cd|d?c{0,4})(xc|xl|l?x{0,4})(i[xv]|v?i{0,4}|v?i{0,3}j)")


def roman(number: int, *, scribal: bool = False) -> str:
    """``number`` in roman numerals, lower case: xiv; ``scribal`` gives xiiij (common practice of the hands).

    Raises:
        InvalidValueError: where it is not from 1 to 4,999.
    """
    if not 1 <= number <= LARGEST:
        raise InvalidValueError(f"{number} cannot be written in roman numerals; use a number from 1 to {LARGEST}")
    written = ""
    for value, letters in _BY_ADDING if scribal else _TODAY:
        written += letters * (number // value)
        number %= value
    return f"{written[:-1]}j" if scribal and written.endswith("i") else written


def is_roman(text: str) -> bool:
    """Whether ``text`` is a roman numeral, of today's form or the scribes', in either case."""
    return bool(text) and text.isascii() and _FORM.fullmatch(text.lower()) is not None


def read_roman(text: str) -> int:
    """The number a roman numeral says, in today's form or the scribes' (iiii, iiij, viiii, xxxx).

    Raises:
        InvalidValueError: where the text is no roman numeral.
    """
    if not is_roman(text):
        raise InvalidValueError(f"{text!r} is not a roman numeral; write it as in xiv")
    values = [_VALUES[letter] for letter in text.lower().replace("j", "i")]
    return sum(-value if value < after else value for value, after in zip(values, [*values[1:], 0], strict=True))
