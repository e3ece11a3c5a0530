"""The kinds of entries, declared once: what each is about, the facts it carries, the words for it."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING, NamedTuple, Self

from copydesk.book.common.errors import InvalidValueError, UnknownNameError
from copydesk.book.layout.space_stages import Stage

if TYPE_CHECKING:
    from collections.abc import Mapping


class _Worded(StrEnum):
    """A word kept in entries and files, with ``words`` for people."""

    words: str

    def __new__(cls, name: str, words: str) -> Self:
        """A row: the word, then the words for people."""
        member = str.__new__(cls, name)
        member._value_, member.words = name, words
        return member


class SpaceEnd(_Worded):
    """How work in a space may end other than stage by stage."""

    DONE = "done", "done"
    LEFT_EMPTY = "left-empty", "left empty on purpose"
    GIVEN_UP = "given-up", "given up"


class SheetPlace(_Worded):
    """Where a sheet can be, declared once."""

    DESK = "desk", "at the desk"
    DRYING = "drying", "drying"
    CHECKER = "checker", "with the checker"
    ARTIST = "artist", "with the artist"
    PRESS = "press", "in the press"


SPACE_ENDS: Mapping[str, SpaceEnd] = {end.value: end for end in SpaceEnd}
SHEET_PLACES: Mapping[str, SheetPlace] = {place.value: place for place in SheetPlace}

HIGHEST_FIGURE = 10**9
"""Words, lines, minutes, millimetres: no figure of a book comes near it."""

_TYPE_NAMES = {
    str: "text",
    int: "a whole number",
    float: "a number",
    bool: "yes or no",
    list: "a list",
    dict: "a table",
}


class EntryKind(NamedTuple):
    """What an entry of a kind is about, the facts it carries, and a word for it in a person's sentence."""

    about: str
    facts: Mapping[str, type]
    says: str


_NOTE: dict[str, type] = {"note": str}
_SPACE: dict[str, type] = {"on": str, "plan": dict, "remark": str, "note": str}  # on which skin; what was amiss
_SHEET: dict[str, type] = {"who": str, "seen": str, "remark": str, "note": str}  # seen: the move known before this one
_RULED: dict[str, type] = {"placements": list, "lines": int, "plan": dict, "minutes": float, "note": str}
_LEAF: dict[str, type] = {"number": int, "note": str}  # the leaf's number on the day, for people

KINDS: dict[str, EntryKind] = {
    "ruled": EntryKind("page", _RULED, "ruled"),
    "begun": EntryKind("page", {"from_word": int, **_RULED}, "begun"),
    "written": EntryKind(
        "page",
        {
            **dict.fromkeys(("from_line", "to_line", "from_word", "to_word", "line_from_word"), int),
            **_RULED,
            "whole": bool,
            "letters": float,
            "asked": float,  # letters a line asked of the hand there, and those it was thought to write
            "usual": float,
            "text": str,  # what tells whether its words in the exemplar are still the same
            "seen": str,
        },
        "written",
    ),
    "checked": EntryKind(
        "page",
        {"read": bool, "minutes": float, **dict.fromkeys(("how", "beside", "text", "note", "seen"), str)},
        "checked against the exemplar",  # how: one of the ways of reading; beside: who read aloud
    ),
    "read-to": EntryKind("page", {"line": int}, "read against the exemplar in part"),
    "fault": EntryKind(
        "page",
        {"number": int, "cause": str, **dict.fromkeys(("column", "line", "word"), int)}
        | dict.fromkeys(("kind", "stands", "should", "note"), str),
        "fault noted",
    ),
    "settled": EntryKind("page", {"fault": str, "remedy": str, "note": str}, "fault mended"),
    "held": EntryKind("page", {"from_word": int, "note": str}, "given its beginning"),
    "released": EntryKind("page", _NOTE, "no longer held to its beginning"),
    "transcribed": EntryKind("page", {"text": str}, "transcription kept"),
    "gone-over": EntryKind(
        "page",
        {"pass": str, "left": list, "items": int, "minutes": float, "remark": str, "note": str},  # left: words of those
        "gone over",
    ),
    **{stage.value: EntryKind("space", _SPACE, stage.recorded) for stage in Stage},
    **{end.value: EntryKind("space", _NOTE if end is SpaceEnd.GIVEN_UP else _SPACE, end.words) for end in SpaceEnd},
    "resized": EntryKind("space", {"lines": int, "was": int, "remark": str, "note": str}, "given another size"),
    "moved": EntryKind("space", {"anchor": dict, "to": str, "remark": str, "note": str}, "moved"),
    "added": EntryKind("space", {"plan": dict, "to": str, "remark": str, "note": str}, "added"),
    **{place.value: EntryKind("sheet", _SHEET, place.words) for place in SheetPlace},
    "walked": EntryKind("sheet", _NOTE, "found in its place"),
    "flyleaf-walked": EntryKind("flyleaf", _NOTE, "found in its place"),
    "cut": EntryKind("sheet", {"batch": str, "skin": int}, "cut from its skin"),
    "cancelled": EntryKind("leaf", _LEAF, "cancelled (its stub stays)"),
    "replaced": EntryKind("leaf", {**_LEAF, "sheet": str, "new": list}, "cancelled and replaced"),
    "wanting": EntryKind("leaf", _LEAF, "wanting"),
    "added-after": EntryKind("leaf", {**_LEAF, "new": list, "tipped": bool, "recto": str}, "followed by an added leaf"),
    "added-inside": EntryKind("leaf", {**_LEAF, "sheet": str, "new": list, "outward": str}, "given an added sheet"),
    "added-gathering": EntryKind("leaf", {"leaves": int, "outward": str, "habit": str, "note": str}, "added"),
    "flaw": EntryKind(
        "leaf", {**_LEAF, "from_head": float, "from_fold": float, "width": float, "height": float}, "found flawed"
    ),
    "at-desk": EntryKind("desk", {}, "sat down at the desk"),
    "handover": EntryKind(
        "page", {"to": str, "from": str, "line": int, "column": int, "word": int, "note": str}, "handed over"
    ),
    "stint-started": EntryKind("desk", {"rest_after": int, "ink": str, "pen": str, "pounce": str}, "began a stint"),
    "stint-paused": EntryKind("desk", {}, "rested"),
    "stint-stopped": EntryKind("desk", {"minutes": float}, "ended the stint"),
    "changed": EntryKind(
        "text", {"from_word": int, "to_word": int, "write": str, "why": str, "who": str}, "changed on purpose"
    ),
    "ruling": EntryKind("book", {"lines": int, "note": str}, "gave pages not yet ruled another number of lines"),
    "abbreviated": EntryKind(
        "book",
        {"from_page": str, "to_page": str, "from_skin": str, "to_skin": str, "words": int, "letters": float},
        "agreed to write closer",
    ),
    "bound": EntryKind("book", {"who": str, "note": str}, "sewn and bound"),
    "skins": EntryKind("skins", {"step": str, "skins": int, "since": str, "note": str}, "skins moved on"),
    "note": EntryKind("book", {"text": str}, "kept"),
    "voided": EntryKind("entry", {}, "taken back"),
}
"""Every kind of entry: what it is about, its facts and their types, and the words for it."""


def check_facts(what: str, facts: Mapping[str, object]) -> None:
    """See that a new entry's facts are those of its kind.

    Raises:
        CopydeskError: for an unknown kind or fact, or a fact of the wrong type.
    """
    kind = KINDS.get(what)
    if kind is None:
        raise UnknownNameError(f"{what!r} is not something the ledger records; it records {', '.join(KINDS)}")
    for name, value in facts.items():
        wanted = kind.facts.get(name)
        if wanted is None:
            raise UnknownNameError(f"an entry {what!r} has no {name!r}; it has {', '.join(kind.facts) or 'no facts'}")
        if not _fits(value, wanted):
            raise InvalidValueError(
                f"{name!r} of an entry {what!r} is {value!r}; it must be {_TYPE_NAMES.get(wanted, wanted)}"
            )


def mistyped_fact(what: str, facts: Mapping[str, object]) -> str:
    """What is wrong with the facts of an entry made elsewhere, for a sentence; empty where nothing is.

    Kinds and facts that this program does not know pass: a newer one may have written them.
    """
    known = KINDS[what].facts if what in KINDS else {}
    for name, value in facts.items():
        if name in known and not _fits(value, known[name]):
            return f"its {name!r} is {value!r}, and must be {_TYPE_NAMES.get(known[name], known[name])}"
    return ""


def _fits(value: object, wanted: type) -> bool:
    """Whether a value is of the type a fact has; a number is one that something in a book can have."""
    if isinstance(value, bool):
        return wanted is bool
    if isinstance(value, int | float) and not -HIGHEST_FIGURE <= value <= HIGHEST_FIGURE:
        return False
    return isinstance(value, wanted) or (wanted is float and isinstance(value, int))
