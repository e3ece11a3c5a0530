"""Reads which leaves of a gathering a remark speaks of: ``2, 4–6``, ``fifth``, ``last two``, ``outer bifolium``.

Places are counted from 1 in the gathering as planned. Bifolia are counted from the outside: the first of a
gathering of eight is leaves 1 and 8 (N. R. Ker, Catalogue of Manuscripts containing Anglo-Saxon, 1957, p. xxii, a).
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.formula.parts import Misread

if TYPE_CHECKING:
    from collections.abc import Callable


DASH = r"[-–—−]"
RAISED = "⁰¹²³⁴⁵⁶⁷⁸⁹"
NAME = r"(?:[2-9][A-Za-z](?![A-Za-z])|\d{1,4}|[A-Za-z]{1,12}|[&*†‡§¶πχ+])"
NAMES = rf"({NAME})(?:\s*{DASH}\s*({NAME}))?"
LEAVES_GIVEN = (
    rf"(?:\s*\^\s*\{{?\s*(\d+|\?)|([{RAISED}]+)"
    rf"|\s*:\s*(\d+)(?!\d|\s*{DASH}\s*\d+\s*[\^:({RAISED}]|\s*[\^{RAISED}])"
    r"|\.(\d+)|\s*\(\s*(\d+)\s*\))(\s*\?)?"
)
# A place is a number that does not begin the next gathering, as the 3 in "wants 2, 3^8" does.
_BEGINS_GATHERING = rf"(?:\s*[\^:{RAISED}]|\.\d|\s*\(\s*\d+\s*\))"
PLACE = rf"\d{{1,3}}(?!\d|{_BEGINS_GATHERING}|\s*{DASH}\s*\d+{_BEGINS_GATHERING})"

COUNT_WORDS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_COUNTS = {word: number for number, word in enumerate(COUNT_WORDS, 1)} | {"a": 1, "an": 1, "single": 1}
_ORDINAL_WORDS = (
    "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth", "eleventh",
    "twelfth", "thirteenth", "fourteenth", "fifteenth", "sixteenth", "seventeenth", "eighteenth", "nineteenth",
    "twentieth",
)  # fmt: skip
_ORDINALS = {word: number for number, word in enumerate(_ORDINAL_WORDS, 1)}
COUNT = rf"(?:\d{{1,2}}|{'|'.join(_COUNTS)})"
ORDINAL = rf"(?:\d{{1,3}}(?:st|nd|rd|th)|{'|'.join(_ORDINAL_WORDS)})"
LOST = (
    r"lost|gone|absent|excised|cut\s+(?:out|away|off)|torn\s+(?:out|away)|removed|extracted|taken\s+out|stolen|destroyed"
    r"|no(?:t|\s+longer)\s+(?:extant|present|there)|do(?:es)?\s+not\s+survive|did\s+not\s+survive"
)
GONE = rf"wants?|wanting|lacks?|lacking|missing|less|without|minus|{LOST}"
_LEAF = r"(?:(?:blank\s+)?(?:lea(?:f|ves)|foli(?:o|os|a|um)))"
_SHEET = r"(?:bifoli(?:um|a|o|os)|sheets?)"
_ARTICLES = re.compile(r"(?:(?:the|its|their|both|blank|nos?\.|numbers?|lea(?:f|ves)|places?)\s+)+", re.IGNORECASE)
_JOINED = re.compile(rf"\s*(?:({DASH}|to\b|through\b)|(,\s*and\b|,|/|&|and\b))\s*", re.IGNORECASE)
_OUTER = re.compile(
    rf"(?:({COUNT})\s+)?(outer(?:most)?|inner(?:most)?|cent(?:ral|re|er)|middle)\s+(?:({COUNT})\s+)?({_SHEET})(?!\w)",
    re.IGNORECASE,
)
_ORDINALS_JOINED = rf"{ORDINAL}(?:\s*(?:,\s*and|,|&|and|to|{DASH})\s*(?:the\s+)?{ORDINAL})+"
_ORDINAL_SHEETS = re.compile(rf"({_ORDINALS_JOINED})\s+{_SHEET}(?!\w)", re.IGNORECASE)
_NUMBERED_SHEETS = re.compile(
    rf"{_SHEET}\s+({PLACE}(?:\s*(?:,\s*and|,|&|and|to|{DASH})\s*{PLACE})*)(?!\w)", re.IGNORECASE
)
_ORDINAL_SHEET = re.compile(rf"({ORDINAL}|last)\s+{_SHEET}(?!\w)", re.IGNORECASE)
_ENDS = re.compile(rf"(?:(first|last|final)\s+({COUNT})|({COUNT})\s+(last|final))(?:\s+{_LEAF})?(?!\w)", re.IGNORECASE)
_CONJUGATE = re.compile(
    rf"(?:the\s+)?conjugates?(?:\s+{_LEAF})?\s+(?:of|to|with)\s+(?:the\s+)?(?:{_LEAF}\s+)?({ORDINAL}|{PLACE}|last)",
    re.I,
)
_ITS_CONJUGATE = re.compile(rf"(?:(?:its|the)\s+)?conjugate(?:\s+({PLACE}))?(?!\w|\s+(?:of|to|with)\b)", re.IGNORECASE)
_REST = re.compile(rf"all\s+(after|before)\s+(?:{_LEAF}\s+)?({PLACE}|{ORDINAL})(?!\w)", re.IGNORECASE)
_WHITHER = (
    rf"\s+(?:at\s+(?:the\s+)?(?P<end>end|beginning|start)"
    rf"|(?P<side>after|before)\s+(?:{_LEAF}\s+)?(?P<place>{PLACE}|{ORDINAL}))(?!\w)"
)
WHITHER = re.compile(_WHITHER, re.IGNORECASE)
"""Where leaves that are only counted stood: ``at the end``, ``after 5``."""
_SO_MANY = re.compile(
    rf"({COUNT})\s+(?:more\s+)?({_LEAF}|{_SHEET}|singletons?|blanks)(?!\w)(?:{_WHITHER})?", re.IGNORECASE
)
_HOW_MANY = re.compile(
    rf"({'|'.join(COUNT_WORDS)})(?=\s*(?:[,;.)]|$)|\s+(?:(?:is|are|was|were|has|have|been|now)\s+)*(?:{GONE}|cancell?ed))",
    re.IGNORECASE,
)
_ORDINAL = re.compile(rf"(last\s+but\s+one|penultimate|last|final|{ORDINAL})(?!\w)(?:\s+{_LEAF}(?!\w))?", re.IGNORECASE)
_NUMBER = re.compile(rf"([A-Za-z]{{1,3}})?({PLACE})(?!\w)(?:\s+{_LEAF}(?!\w))?")


class LeafList(NamedTuple):
    """Leaves a remark names: their places, how many more it only counts, and where in the text the list ends."""

    places: tuple[int, ...]
    unplaced: int
    end: int


class Context(NamedTuple):
    """The gathering a remark is made on: how many leaves it was planned with, and what it may be called."""

    leaves: int
    names: tuple[str, ...] = ()


def count_said(word: str | None) -> int:
    """The number a count says in figures or letters; 1 where nothing is said."""
    if not word:
        return 1
    return int(word) if word.isdecimal() else _COUNTS[word.lower()]


def read_places(
    text: str, at: int, end: int, context: Context, stops: Callable[[int], bool] = lambda _: False
) -> LeafList | None:
    """The list of leaves at ``at``, before ``end``; None where there is none.

    ``stops`` is asked at the end of every part after a comma whether that part belongs to another remark, as the
    5 in "wants 3, 5 cancelled" does.

    Raises:
        Misread: where a range goes back.
    """
    first = _item(text, at, end, context)
    if first is None:
        return None
    places, unplaced, stop = list(first.places), first.unplaced, first.end
    while joined := _JOINED.match(text, stop, end):
        item = _item(text, joined.end(), end, context) or _its_conjugate(text, joined.end(), end, context, places)
        if item is None or (joined[2] and _another(text, joined, end, context, stops)):
            break
        if joined[1] and places and item.places:
            if item.places[0] < places[-1]:
                raise Misread(at, f"{text[at : item.end]!r} goes back; write the lower place first")
            places += range(places[-1] + 1, item.places[0])
        places += item.places
        unplaced += item.unplaced
        stop = item.end
    return LeafList(tuple(places), unplaced, stop)


def _another(text: str, joined: re.Match[str], end: int, context: Context, stops: Callable[[int], bool]) -> bool:
    """Whether what follows a comma or an "and" is the beginning of the next remark."""
    stop = joined.end()
    while item := _item(text, stop, end, context):
        if stops(item.end):
            return True
        following = _JOINED.match(text, item.end, end)
        if following is None or following[2] == ",":
            return False
        stop = following.end()
    return False


def _item(text: str, at: int, end: int, context: Context) -> LeafList | None:
    if found := _ARTICLES.match(text, at, end):
        at = found.end()
    for pattern, meaning in _FORMS:
        if (found := pattern.match(text, at, end)) and (meant := meaning(found, context)) is not None:
            return LeafList(*meant, found.end())
    return None


def _its_conjugate(text: str, at: int, end: int, context: Context, places: list[int]) -> LeafList | None:
    """The "conjugate" of "3 and its conjugate"."""
    found = _ITS_CONJUGATE.match(text, at, end)
    if found is None or not places:
        return None
    place = int(found[1]) if found[1] else context.leaves + 1 - places[-1]
    return LeafList((place,), 0, found.end())


Meant = tuple[tuple[int, ...], int] | None
"""Places, and how many leaves are only counted; None where a form does not apply."""


def _outer(found: re.Match[str], context: Context) -> Meant:
    said = found[1] or found[3]
    if said is None and found[4].lower() in ("bifolia", "bifolios", "sheets"):
        return None  # several, nobody says how many
    sheets, half = count_said(said), context.leaves // 2
    if found[2].lower().startswith("outer"):
        return _sheets(range(1, sheets + 1), context), 0
    return _sheets(range(half, half - sheets, -1), context), 0


def _ordinal_sheet(found: re.Match[str], context: Context) -> Meant:
    number = context.leaves // 2 if found[1].lower() == "last" else _ordinal_number(found[1])
    return _sheets([number], context), 0


def _several_sheets(found: re.Match[str], context: Context) -> Meant:
    """``second and third bifolia``, ``sheets 1 to 3``."""
    numbers: list[int] = []
    for part in re.finditer(rf"({DASH}|\bto\b)?\s*(?:the\s+)?({ORDINAL}|\d+)", found[1], re.IGNORECASE):
        number = _place(part[2], context)
        if part[1] and numbers:
            numbers += range(numbers[-1] + 1, number)
        numbers.append(number)
    return _sheets(numbers, context), 0


def _sheets(numbers: range | list[int], context: Context) -> tuple[int, ...]:
    return tuple(sorted({place for number in numbers for place in (number, context.leaves + 1 - number)}))


def _ends(found: re.Match[str], context: Context) -> Meant:
    count = count_said(found[2] or found[3])
    if (found[1] or found[4]).lower() == "first":
        return tuple(range(1, count + 1)), 0
    return tuple(range(context.leaves - count + 1, context.leaves + 1)), 0


def _conjugate(found: re.Match[str], context: Context) -> Meant:
    return (context.leaves + 1 - _place(found[1], context),), 0


def _rest(found: re.Match[str], context: Context) -> Meant:
    place = _place(found[2], context)
    return tuple(range(place + 1, context.leaves + 1) if found[1].lower() == "after" else range(1, place)), 0


def _so_many(found: re.Match[str], context: Context) -> Meant:
    count = count_said(found[1]) * (2 if re.match(_SHEET, found[2], re.IGNORECASE) else 1)
    if found["end"] or found["side"]:
        return placed(count, found, context), 0
    return (), count


def _how_many(found: re.Match[str], context: Context) -> Meant:
    """``three`` alone: a place is given in figures."""
    return (), min(count_said(found[1]), context.leaves)


def placed(count: int, found: re.Match[str], context: Context) -> tuple[int, ...]:
    """The places of so many leaves where a match of :data:`WHITHER` says."""
    if found["end"]:
        start = context.leaves - count + 1 if found["end"].lower() == "end" else 1
    else:
        place = _place(found["place"], context)
        start = place + 1 if found["side"].lower() == "after" else place - count
    return tuple(range(start, start + count))


def _ordinal(found: re.Match[str], context: Context) -> Meant:
    return (_place(found[1], context),), 0


def _number(found: re.Match[str], context: Context) -> Meant:
    if found[1] and found[1] not in context.names:
        return None
    return (int(found[2]),), 0


def _place(word: str, context: Context) -> int:
    lower = " ".join(word.lower().split())
    if lower in ("last", "final"):
        return context.leaves
    if lower in ("last but one", "penultimate"):
        return context.leaves - 1
    return int(lower) if lower.isdecimal() else _ordinal_number(lower)


def _ordinal_number(word: str) -> int:
    lower = word.lower()
    return int(lower[:-2]) if lower[0].isdecimal() else _ORDINALS[lower]


_FORMS: tuple[tuple[re.Pattern[str], Callable[[re.Match[str], Context], Meant]], ...] = (
    (_OUTER, _outer),
    (_ORDINAL_SHEETS, _several_sheets),
    (_NUMBERED_SHEETS, _several_sheets),
    (_ORDINAL_SHEET, _ordinal_sheet),
    (_ENDS, _ends),
    (_CONJUGATE, _conjugate),
    (_REST, _rest),
    (_SO_MANY, _so_many),
    (_HOW_MANY, _how_many),
    (_ORDINAL, _ordinal),
    (_NUMBER, _number),
)
