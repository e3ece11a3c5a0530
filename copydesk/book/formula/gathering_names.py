"""What gatherings are called in a formula: numbers, roman numerals, letters of the signing alphabet, signs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.numerals import LARGEST, is_roman, read_roman, roman
from copydesk.book.formula.parts import Name
from copydesk.book.structure.signatures import AFTER_Z, ALPHABET, letter, letter_number

if TYPE_CHECKING:
    from collections.abc import Iterable


def named(tokens: Iterable[str], *, long: bool = False) -> list[Name]:
    """The names that the words of one formula stand for, read together: I beside B is a letter, beside II a numeral.

    ``long``: & and con follow z, as they do wherever one of the words is one of them; else aa follows z.
    """
    tokens = list(tokens)
    long = long or uses_long_alphabet(tokens)
    words = [word for word in tokens if word.isalpha() and word not in AFTER_Z]
    romans = {
        "roman": _are_roman([word for word in words if word[0].islower()]),
        "ROMAN": _are_roman([word.lower() for word in words if word[0].isupper()]),
    }
    names: list[Name] = []
    upper = bool(words) and words[0][0].isupper()
    for token in tokens:
        if token not in AFTER_Z:  # & and con are of the alphabet that goes before them
            upper = token.isalpha() and token[0].isupper()
        names.append(_name(token, romans, upper=upper, long=long))
    return names


def uses_long_alphabet(tokens: Iterable[str]) -> bool:
    """Whether & and con stand after z among these names."""
    return any(token in AFTER_Z for token in tokens)


def expand(first: Name, last: Name, *, long: bool = False) -> list[Name] | None:
    """The names from one to another, both included; None where they are no series or it goes back."""
    if first.series != last.series or first.series == "sign" or last.number < first.number:
        return None
    like = last.text if len(last.text) > 1 else first.text
    between = (_spelt(number, first.series, like, long=long) for number in range(first.number + 1, last.number))
    ends = [first] if first.number == last.number else [first, last]
    return [ends[0], *(Name(text, first.series, first.number + at) for at, text in enumerate(between, 1)), *ends[1:]]


def _are_roman(words: list[str]) -> bool:
    """Whether lower-case words are numerals; c, d, l or m alone are letters unless others prove them numerals."""
    if not words or not all(is_roman(word) for word in words):
        return False
    return any(len(set(word)) > 1 for word in words) or all(len(word) > 1 or word in "ivx" for word in words)


def _name(token: str, romans: dict[str, bool], *, upper: bool, long: bool) -> Name:
    if token.isdecimal():
        return Name(str(int(token)), "number", int(token))
    if token[0].isdecimal():  # 2A stands for AA, which is no numeral
        return _lettered(token[1] * int(token[0]), upper=token[1].isupper(), long=long)
    if romans["ROMAN" if upper else "roman"] and is_roman(token):
        return Name(token, "ROMAN" if upper else "roman", read_roman(token))
    return _lettered(token, upper=upper, long=long)


def _lettered(token: str, *, upper: bool, long: bool) -> Name:
    number = letter_number(token)
    if number and number > len(ALPHABET) and not long:
        number -= len(AFTER_Z)
    return Name(token, "LETTERS" if upper else "letters", number) if number else Name(token, "sign", 0)


def _spelt(number: int, series: str, like: str, *, long: bool) -> str:
    """The name of ``number`` in a series, in capitals as ``like`` has them."""
    if series == "number":
        return str(number)
    passed = len(AFTER_Z) if number > len(ALPHABET) and not long else 0
    text = roman(min(number, LARGEST)) if series.lower() == "roman" else letter(number + passed)
    if series.islower():
        return text
    return text.capitalize() if like[1:].islower() else text.upper()
