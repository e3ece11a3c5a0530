"""What two desks recorded that cannot both be true, for a person to decide.

A contradiction loses nothing: both entries stay in the ledger, and the sentence says which of them counts. Whoever
records a page or moves a sheet notes the newest entry on it they knew of (``seen``). That is how work done again on
purpose is told apart from work done by two people who did not know of each other.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from copydesk.tracking.ledger.entry_kinds import SHEET_PLACES
from copydesk.tracking.ledger.leaf_history import new_leaves
from copydesk.tracking.log.leaf_text import describe_leaf

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.book.plan import Book
    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.ledger.ledger import Ledger, Subject


class Contradiction(NamedTuple):
    """A sentence on what contradicts itself, which says what to undo; and the entries it names."""

    sentence: str
    entries: tuple[str, ...]

    def __str__(self) -> str:
        """The sentence."""
        return self.sentence


def contradictions(ledger: Ledger, book: Book | None = None) -> tuple[Contradiction, ...]:
    """All that contradicts itself in a ledger; pages and leaves are called as ``book`` counts them."""
    found = (each for kind in _OF for name in ledger.about(kind) for each in _OF[kind](ledger, name, book))
    return (*found, *_leaves(ledger, book))


def contradictions_about(ledger: Ledger, subject: Subject, book: Book | None = None) -> tuple[Contradiction, ...]:
    """The same for one thing only: a page or a sheet; for any leaf, all leaves."""
    kind, name = subject
    if kind == "leaf":
        return tuple(_leaves(ledger, book))
    return tuple(_OF[kind](ledger, name, book)) if kind in _OF else ()


def _knew(ledger: Ledger, after: Entry, before: Entry) -> bool:
    """Whether whoever made ``after`` knew of ``before``, by what it notes; False where it notes nothing."""
    seen = ledger.find(after.text("seen"))
    return seen is not None and _place(seen) >= _place(before)


def _place(entry: Entry) -> tuple[int, str, str]:
    """Its place in the ledger's order."""
    return (entry.tick, entry.desk, entry.entry)


def _page(ledger: Ledger, name: str, book: Book | None) -> Iterator[Contradiction]:
    entries = ledger.live("page", name)
    written = [entry for entry in entries if entry.what == "written"]
    for before, after in pairwise(written):
        if before.desk != after.desk and _same_lines(before, after) and not _knew(ledger, after, before):
            yield Contradiction(
                f"{_named(after, book)} was recorded as written at {before.desk} by {before.hand} and again at "
                f"{after.desk} by {after.hand}; the later one counts: undo {after.entry} if it should "
                f"not, {before.entry} if it should",
                (after.entry, before.entry),
            )
    for entry in entries:
        if entry.what == "checked" and entry.text("seen"):
            yield from _check(ledger, entry, written, book)


def _named(entry: Entry, book: Book | None) -> str:
    return book.renamed(entry.page) if book is not None else entry.page


def _check(ledger: Ledger, check: Entry, written: list[Entry], book: Book | None) -> Iterator[Contradiction]:
    """Checks of writing that was taken back since, or that the checker did not know of.

    Writing recorded after a check cancels the check, so nothing contradicts it then.
    """
    if any(_place(entry) > _place(check) for entry in written):
        return
    checked = f"{_named(check, book)} was checked at {check.desk} by {check.hand}"
    seen = check.text("seen")
    if ledger.is_void(seen):
        taker = _taker(ledger, seen)
        yield Contradiction(
            f"{checked}, and the writing that was checked has been taken back; undo {check.entry}, or let the writing "
            f"stand again: undo {taker}",
            (check.entry, taker),
        )
    elif written and written[-1].desk != check.desk and not _knew(ledger, check, written[-1]):
        last = written[-1]
        yield Contradiction(
            f"{checked}, who did not know that it had been recorded as written at {last.desk} by {last.hand}; the "
            f"check counts: undo {check.entry} if it should not, and record it again if it should",
            (check.entry,),
        )


def _taker(ledger: Ledger, name: str) -> str:
    """The entry that took another back."""
    takers = (entry for entry in ledger.live("entry", name) if entry.what == "voided")
    return next((entry.entry for entry in takers), name)


def _same_lines(before: Entry, after: Entry) -> bool:
    first, last = after.number("from_line") or 1, after.number("to_line") or 1
    ended = before.number("to_line") or 1
    if before.number("line_from_word") is not None and (after.number("from_word") or 0) >= (
        before.number("to_word") or 0
    ):
        ended -= 1  # the other hand may go on in the line this one stopped within
    return first <= ended and last >= (before.number("from_line") or 1)


def _sheet(ledger: Ledger, name: str, _book: Book | None) -> Iterator[Contradiction]:
    moved = [entry for entry in ledger.live("sheet", name) if entry.what in SHEET_PLACES]
    for before, after in pairwise(moved):
        unknown = not _knew(ledger, after, before) if after.text("seen") else before.what == after.what
        kept = before.what == after.what and (before.what in ("desk", "drying") or _who(before) == _who(after))
        if unknown and not kept and before.desk != after.desk:
            yield Contradiction(
                f"sheet {name} was taken by {_who(before)} at {before.desk} and by {_who(after)} at {after.desk}; the "
                f"later one counts: undo {after.entry} if it should not, {before.entry} if it should",
                (after.entry, before.entry),
            )


def _who(entry: Entry) -> str:
    return entry.text("who") or entry.hand


_OF = {"page": _page, "sheet": _sheet}


def _leaves(ledger: Ledger, book: Book | None) -> Iterator[Contradiction]:
    """New leaves that desks not knowing of each other gave the same name; only the first is in the book."""
    given: dict[str, Entry] = {}
    for entry in ledger.live_of("leaf"):
        for name in new_leaves(entry):
            before = given.setdefault(name, entry)
            if before is not entry:
                first, later = describe_leaf(before, book), describe_leaf(entry, book)
                yield Contradiction(
                    f"{first} at {before.desk}, and {later} at {entry.desk}, under "
                    f"one name, {name}; only the first counts: undo {entry.entry} and record it again",
                    (entry.entry,),
                )
