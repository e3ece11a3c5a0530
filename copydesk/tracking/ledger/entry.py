"""An entry of the ledger: something that happened, when, at which desk, by which hand, where. Never changed.

An entry's kind is its ``what``; ``entry_kinds`` says what each kind is about and which facts it carries. A kind this
program does not know (written by a newer one) is kept as it is and changes no state.
"""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import DamagedLedgerError
from copydesk.book.structure.page import SkinPage
from copydesk.tracking.ledger.entry_kinds import HIGHEST_FIGURE, KINDS, mistyped_fact

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

TOGETHER = "together"
"""The fact that is the same in all entries recorded in one go, whatever their kinds."""


KNEW = "knew"
"""The fact that names the newest entries known where an entry was made, with spaces between; or ``NONE_SEEN``."""

COPY = "copy"
"""The fact that says in which copy of the book's folder an entry was made."""


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
            CopydeskError: where it is not about a page.
        """
        return SkinPage.parse(self.about)

    def number(self, name: str) -> int | None:
        """A whole number among the facts, or None; a figure that nothing in a book can have is none."""
        value = self.facts.get(name)
        return value if type(value) is int and -HIGHEST_FIGURE <= value <= HIGHEST_FIGURE else None

    def amount(self, name: str) -> float | None:
        """A number among the facts, or None; a figure that nothing in a book can have is none."""
        value = self.facts.get(name)
        return float(value) if type(value) in (int, float) and -HIGHEST_FIGURE <= value <= HIGHEST_FIGURE else None  # type: ignore[operator, arg-type]

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
            CopydeskError: where it has no identity or no tick.
        """
        tick, entry = document.get("tick"), document.get("entry")
        if type(tick) is not int or not isinstance(entry, str) or not entry:
            raise DamagedLedgerError("an entry has no usable tick or entry; run copydesk audit")
        facts = {**document}
        for name in _OWN:
            del facts[name]
        at, hand, desk, what, about, page = [
            facts.pop(name) if isinstance(facts.get(name), str) else "" for name in _TEXTS
        ]
        return cls(entry, tick, at, hand, desk, what, about, page, facts)  # type: ignore[arg-type]


def wrong_in(document: Mapping[str, object]) -> str:
    """What is wrong with an entry that was made elsewhere, for a sentence; empty where nothing is.

    Kinds and facts that this program does not know pass: a newer one may have written them.
    """
    for name in _TEXTS:
        if not isinstance(document.get(name, ""), str):
            return f"its {name!r} is {document[name]!r}, and must be text"
    if not document.get("what"):
        return "it does not say what happened"
    try:
        datetime.fromisoformat(str(document.get("at", "")))
    except ValueError:
        return f"its time {document.get('at')!r} cannot be read"
    return mistyped_fact(str(document["what"]), document)
