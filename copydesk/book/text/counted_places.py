"""A place of a text known by its counts only, as people write and read it: ``division 2 word 812``.

The place is that of the last word (letter, line of the exemplar) of what is meant, or of the first. A division can
be counted in any unit its own count gives; its words and letters follow from each other.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Literal, NamedTuple

from copydesk.book.common.errors import InvalidValueError, UnknownNameError
from copydesk.book.text.copy_text import LETTERS_A_WORD

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.flow import CountedDivision
    from copydesk.book.text.copy_text import CopyText


HOW = '"division 2 word 812" or "division 2 end"'
"""The forms, for a person who is to give one."""

WORD_SPREAD = 0.45
"""How much words with their spaces differ in length, as a share of their mean: English prose, our own judgement."""

Unit = Literal["word", "letter", "line"]


class _Part(NamedTuple):
    """One division of a counted text: its number from 1, its first word and the one after its last, its counts."""

    number: int
    first: int
    end: int
    counts: dict[Unit, int]


def last_at(copy: CopyText, divisions: Sequence[CountedDivision], said: str, near: int) -> int:
    """The position after the last word of what ends at a place.

    Args:
        copy: the counted text.
        divisions: its divisions as the book has them.
        said: the place; without a division it is of the one in which the word ``near`` stands.
        near: a word's position.

    Raises:
        CopydeskError: where it is no place, or not one of the text.
    """
    part, unit, number = _read(copy, divisions, said, near)
    if number is None:
        return part.end
    return part.first + round((part.end - part.first) * number / part.counts[unit])


def first_at(copy: CopyText, divisions: Sequence[CountedDivision], said: str, near: int) -> int:
    """The position of the first word of what begins at a place; arguments and refusals as those of ``last_at``."""
    part, unit, number = _read(copy, divisions, said, near)
    if number is None:
        raise InvalidValueError(
            f'{said!r} is where a division ends; write where the page begins, as in "division 2 word 812"'
        )
    return part.first + round((part.end - part.first) * (number - 1) / part.counts[unit])


def last_place(copy: CopyText, divisions: Sequence[CountedDivision], end: int) -> str:
    """The place of the last word before the position ``end``, in the unit its division was counted in."""
    part, unit = _part_of(copy, divisions, max(end - 1, 0))
    if end >= part.end:
        return f"division {part.number} end"
    share = (end - part.first) / (part.end - part.first)
    return f"division {part.number} {unit} {max(round(share * part.counts[unit]), 1)}"


def first_place(copy: CopyText, divisions: Sequence[CountedDivision], word: int) -> str:
    """The place of the word at a position, in the unit its division was counted in."""
    part, unit = _part_of(copy, divisions, word)
    count = part.counts.get(unit, 1)
    share = (word - part.first) / max(part.end - part.first, 1)
    return f"division {part.number} {unit} {min(round(share * count) + 1, count)}"


def letters_doubt(copy: CopyText, divisions: Sequence[CountedDivision], start: int, end: int) -> float:
    """How far the letters between two words may be from what the count gives, as a standard deviation in letters.

    Of words only the mean length is known, and few words may be long ones or short ones. A line of the exemplar is
    given whole though the pen stopped somewhere in it; so at both ends.
    """
    part, unit = _part_of(copy, divisions, max(end - 1, 0))
    if unit == "line":
        return (part.end - part.first) * LETTERS_A_WORD / part.counts.get("line", 1) / math.sqrt(6)
    return WORD_SPREAD * LETTERS_A_WORD * math.sqrt(max(end - start, 0)) if unit == "word" else 0.0


def _read(copy: CopyText, divisions: Sequence[CountedDivision], said: str, near: int) -> tuple[_Part, Unit, int | None]:
    """The division of a place, the unit, and how many of it; None for the division's end."""
    words = said.replace(",", " ").lower().split()
    part, _ = _part_of(copy, divisions, near)
    if words[:1] == ["division"] and len(words) > 2 and _is_number(words[1]):
        part = _division(copy, divisions, int(words[1]), said)
        words = words[2:]
    if words == ["end"]:
        return part, "word", None
    units: dict[str, Unit] = {"word": "word", "letter": "letter", "line": "line"}
    unit = units.get(words[0]) if len(words) == 2 and _is_number(words[1]) else None
    if unit is None:
        raise InvalidValueError(
            f"the text of this book is known by its counts only, so {said!r} is no place in it; write {HOW}"
        )
    count = part.counts.get(unit)
    if count is None:
        raise UnknownNameError(f"division {part.number} is not counted in {unit}s; write {HOW}")
    number = int(words[1])
    if not 1 <= number <= count:
        raise UnknownNameError(
            f"division {part.number} has {unit}s 1 to {count}, so there is no {unit} {number}; correct it"
        )
    return part, unit, number


def _division(copy: CopyText, divisions: Sequence[CountedDivision], number: int, said: str) -> _Part:
    if not 1 <= number <= len(divisions):
        raise UnknownNameError(f"{said!r} names division {number}; the text has divisions 1 to {len(divisions)}")
    return _part(copy, divisions, number)


def _part_of(copy: CopyText, divisions: Sequence[CountedDivision], word: int) -> tuple[_Part, Unit]:
    """The division a word stands in, and the unit it was counted in."""
    number = max(sum(first <= min(word, copy.words - 1) for first in copy.divisions), 1)
    division = divisions[number - 1]
    unit: Unit = "word" if division.words is not None else "letter" if division.letters is not None else "line"
    return _part(copy, divisions, number), unit


def _part(copy: CopyText, divisions: Sequence[CountedDivision], number: int) -> _Part:
    division, first = divisions[number - 1], copy.divisions[number - 1]
    end = copy.divisions[number] if number < len(divisions) else copy.words
    letters = division.letters if division.letters is not None else round((end - first) * LETTERS_A_WORD)
    counts: dict[Unit, int] = {"word": end - first, "letter": letters}
    if division.lines is not None and division.words is None and division.letters is None:
        counts["line"] = division.lines
    return _Part(number, first, end, {unit: count for unit, count in counts.items() if count})


def _is_number(word: str) -> bool:
    return word.isascii() and word.isdigit() and len(word) < 12
