"""An entry of the ledger: something that happened, when, at which desk, by which hand, where. Never changed.

An entry's kind is its ``what``. The table ``KINDS`` says what each kind is about and which facts it carries;
a kind this program does not know (written by a newer one) is kept as it is and changes no state.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import Refused
from copydesk.book.structure.page import SkinPage

if TYPE_CHECKING:
    from collections.abc import Mapping


NONE_SEEN = "none"
"""What stands for the entry known before, where none was."""


class Act(NamedTuple):
    """An entry to be made: its kind, what it is about, the page's label where it is about one, its facts."""

    what: str
    about: str
    page: str
    facts: Mapping[str, object]


SCHEMA = 1
"""The number of this form of entries; a ledger with a higher one is read, not written."""

_TYPE_NAMES = {str: "text", int: "a whole number", float: "a number", bool: "yes or no", list: "a list"}


TOGETHER = "together"
"""The fact that is the same in all entries recorded in one go, whatever their kinds."""


class EntryKind(NamedTuple):
    """What an entry of a kind is about, the facts it carries, and a word for it in a person's sentence."""

    about: str
    facts: Mapping[str, type]
    says: str


_NOTE: dict[str, type] = {"note": str}
_SPACE: dict[str, type] = {"on": str, "remark": str, "note": str}  # on which surface of skin; what was amiss
_SHEET: dict[str, type] = {"who": str, "seen": str, "remark": str, "note": str}  # seen: the move known before this one
_LEAF: dict[str, type] = {"number": int, "note": str}  # the leaf's number on the day, for people

KINDS: dict[str, EntryKind] = {
    "ruled": EntryKind("page", {"placements": list, "lines": int, "minutes": float, "note": str}, "ruled"),
    "begun": EntryKind(
        "page", {"from_word": int, "placements": list, "lines": int, "minutes": float, "note": str}, "begun"
    ),
    "written": EntryKind(
        "page",
        {
            "from_line": int,
            "to_line": int,
            "from_word": int,
            "to_word": int,
            "line_from_word": int,
            "whole": bool,
            "minutes": float,
            "note": str,
            "placements": list,
            "lines": int,
            "letters": float,
            "seen": str,
        },
        "written",
    ),
    "checked": EntryKind("page", {"minutes": float, "note": str, "seen": str}, "checked against the exemplar"),
    "read-to": EntryKind("page", {"line": int}, "read against the exemplar in part"),
    "fault": EntryKind(
        "page",
        {
            "kind": str,
            "cause": str,
            "column": int,
            "line": int,
            "word": int,
            "stands": str,
            "should": str,
            "note": str,
        },
        "fault noted",
    ),
    "settled": EntryKind("page", {"fault": str, "remedy": str, "note": str}, "fault settled"),
    "held": EntryKind("page", {"from_word": int, "note": str}, "given its beginning"),
    "released": EntryKind("page", _NOTE, "no longer held to its beginning"),
    "transcribed": EntryKind("page", {"text": str}, "transcription kept"),
    "drawn": EntryKind("space", _SPACE, "drawn"),
    "gilded": EntryKind("space", _SPACE, "gilded and burnished"),
    "coloured": EntryKind("space", _SPACE, "coloured"),
    "outlined": EntryKind("space", _SPACE, "outlined"),
    "done": EntryKind("space", _SPACE, "done"),
    "left-empty": EntryKind("space", _SPACE, "left empty on purpose"),
    "given-up": EntryKind("space", _NOTE, "given up"),
    "resized": EntryKind("space", {"lines": int, "was": int, "remark": str, "note": str}, "given another size"),
    "moved": EntryKind("space", {"anchor": dict, "to": str, "remark": str, "note": str}, "moved"),
    "added": EntryKind("space", {"plan": dict, "to": str, "remark": str, "note": str}, "added"),
    "desk": EntryKind("sheet", _SHEET, "at the desk"),
    "drying": EntryKind("sheet", _SHEET, "drying"),
    "checker": EntryKind("sheet", _SHEET, "with the checker"),
    "artist": EntryKind("sheet", _SHEET, "with the artist"),
    "press": EntryKind("sheet", _SHEET, "in the press"),
    "walked": EntryKind("sheet", _NOTE, "found in order"),
    "flyleaf-walked": EntryKind("flyleaf", _NOTE, "found in order"),
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
    "stint-started": EntryKind("desk", {"rest_after": int}, "began a stint"),
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
    "skins": EntryKind("skins", {"step": str, "skins": int, "since": str, "note": str}, "skins moved on"),
    "note": EntryKind("book", {"text": str}, "kept"),
    "voided": EntryKind("entry", {}, "taken back"),
}
"""Every kind of entry: what it is about, its facts and their types, and how it is told."""

_BOUND = 10**9
"""Words, lines, minutes, millimetres: no figure of a book comes near it."""

_OWN = ("entry", "tick")
_TEXTS = ("at", "hand", "desk", "what", "about", "page")


class Entry(NamedTuple):
    """One entry.

    ``entry`` is its identity; ``tick`` orders entries of all desks, whatever their clocks say; ``at`` is an ISO
    time with its zone. ``about`` names what it is about in its kind's terms: a page of skin (``3.5:r``), a
    sheet (``3.2``), a space, a leaf (``3.5``), an entry. ``page`` is the page's label on the day, for people.
    """

    entry: str
    tick: int
    at: str
    hand: str
    desk: str
    what: str
    about: str
    page: str
    facts: Mapping[str, object]

    @property
    def subject(self) -> tuple[str, str]:
        """What the entry is about: kind of thing and its name; unknown kinds, and no page, are nothing we know."""
        kind = KINDS.get(self.what)
        if kind is None or (kind.about == "page" and not self.about.endswith((":r", ":v"))):
            return ("unknown", self.about)
        return (kind.about, self.about)

    @property
    def skin(self) -> SkinPage:
        """The page of skin this entry is about.

        Raises:
            Refused: where it is not about a page.
        """
        return SkinPage.parse(self.about)

    def number(self, name: str) -> int | None:
        """A whole number among the facts, or None; a figure that nothing in a book can have is none."""
        value = self.facts.get(name)
        return value if type(value) is int and -_BOUND <= value <= _BOUND else None

    def amount(self, name: str) -> float | None:
        """A number among the facts, or None; a figure that nothing in a book can have is none."""
        value = self.facts.get(name)
        return float(value) if type(value) in (int, float) and -_BOUND <= value <= _BOUND else None  # type: ignore[operator, arg-type]

    def text(self, name: str) -> str:
        """A text among the facts, or the empty text."""
        value = self.facts.get(name)
        return value if isinstance(value, str) else ""

    def as_document(self) -> dict[str, object]:
        """As kept in the ledger."""
        document: dict[str, object] = {
            "entry": self.entry,
            "tick": self.tick,
            "at": self.at,
            "hand": self.hand,
            "desk": self.desk,
            "what": self.what,
            "about": self.about,
        }
        if self.page:
            document["page"] = self.page
        document.update(self.facts)
        return document

    @classmethod
    def from_document(cls, document: Mapping[str, object]) -> Entry:
        """Read what ``as_document`` gives; fields unknown to this program stay among the facts.

        A field of the wrong type stays there too, and counts as empty; an entry that so has no kind is kept and
        changes nothing.

        Raises:
            Refused: where it has no identity or no tick.
        """
        tick, entry = document.get("tick"), document.get("entry")
        if type(tick) is not int or not isinstance(entry, str) or not entry:
            raise Refused("an entry has no usable tick or entry; run copydesk audit")
        facts = {**document}
        for name in _OWN:
            del facts[name]
        at, hand, desk, what, about, page = [
            facts.pop(name) if isinstance(facts.get(name), str) else "" for name in _TEXTS
        ]
        return cls(entry, tick, at, hand, desk, what, about, page, facts)  # type: ignore[arg-type]


def check_facts(what: str, facts: Mapping[str, object]) -> None:
    """See that a new entry's facts are those of its kind.

    Raises:
        Refused: for an unknown kind or fact, or a fact of the wrong type.
    """
    kind = KINDS.get(what)
    if kind is None:
        raise Refused(f"{what!r} is not something the ledger records; it records {', '.join(KINDS)}")
    for name, value in facts.items():
        wanted = kind.facts.get(name)
        if wanted is None:
            raise Refused(f"an entry {what!r} has no {name!r}; it has {', '.join(kind.facts) or 'no facts'}")
        fits = isinstance(value, wanted) or (wanted is float and isinstance(value, int))
        if not fits or (isinstance(value, bool) and wanted is not bool):
            raise Refused(f"{name!r} of an entry {what!r} is {value!r}; it must be {_TYPE_NAMES.get(wanted, wanted)}")
