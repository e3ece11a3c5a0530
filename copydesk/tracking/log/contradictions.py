"""What was recorded in two places that cannot both be true, for a person to decide.

A contradiction loses nothing: both entries stay in the ledger, and the sentence says which of them counts. Every entry
notes what was known where it was made. That is how work done again on purpose is told apart from work done by two
people who did not know of each other, even where two copies of a book have one desk name. Entries of older programs
note only the newest entry on the same page or sheet (``seen``); for them, two desks must have different names.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.layout.space_stages import STAGES
from copydesk.book.structure.leaf_ids import replaced
from copydesk.book.structure.page import LeafId, SkinPage
from copydesk.tracking.ledger.agreements import AGREED, RULING
from copydesk.tracking.ledger.entry import COPY, KNEW
from copydesk.tracking.ledger.entry_kinds import KINDS, SHEET_PLACES
from copydesk.tracking.ledger.leaf_history import new_leaves
from copydesk.tracking.log.leaf_text import describe_leaf

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

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
    """The same for one thing only: a page, sheet or space; for any leaf, all leaves and what was written on them."""
    kind, name = subject
    if kind == "leaf":
        return tuple(_leaves(ledger, book))
    found = _OF[kind](ledger, name, book) if kind in _OF else ()
    if kind != "page":
        return tuple(found)
    return (*found, *_lost_pages(ledger, [SkinPage.parse(name).leaf_id], book))


def _unaware(ledger: Ledger, after: Entry, before: Entry) -> bool:
    """Whether ``after`` was made by somebody who did not know of ``before``; False where neither says."""
    if KNEW in after.facts and KNEW in before.facts:
        return not ledger.knew(after, before)
    if before.desk == after.desk or not _tells_seen(after):
        return False
    seen = ledger.find(after.text("seen"))
    return seen is None or _place(seen) < _place(before)


def _tells_seen(entry: Entry) -> bool:
    """Whether an entry of an older program tells what was known of the same thing: all writing does, or may."""
    return entry.what == "written" or bool(entry.text("seen"))


def _place(entry: Entry) -> tuple[int, str, str]:
    """Its place in the ledger's order."""
    return (entry.tick, entry.desk, entry.entry)


def _at(entry: Entry, other: Entry) -> str:
    """The desk; with the copy of the book where ``other`` was made at a desk of the same name in another copy."""
    copy = entry.text(COPY)
    apart = entry.desk == other.desk and copy and copy != other.text(COPY)
    return f"{entry.desk} (copy {copy})" if apart else entry.desk


def _by(entry: Entry, other: Entry) -> str:
    return f"at {_at(entry, other)} by {entry.hand}"


def _choice(after: Entry, before: Entry) -> str:
    """Which of two counts, and what to undo."""
    return (
        f"the later one counts now: to keep it undo {before.entry}, to have the earlier one instead undo {after.entry}"
    )


def _unaware_pairs(ledger: Ledger, entries: Sequence[Entry]) -> Iterator[tuple[Entry, Entry]]:
    """Entries in order, each with every older one that its maker did not know of, the newest first."""
    for at, after in enumerate(entries):
        older = reversed(entries[:at]) if KNEW in after.facts else entries[max(at - 1, 0) : at]
        yield from ((before, after) for before in older if _unaware(ledger, after, before))


def _page(ledger: Ledger, name: str, book: Book | None) -> Iterator[Contradiction]:
    entries = ledger.live("page", name)
    written = [entry for entry in entries if entry.what == "written"]
    told: set[str] = set()
    for before, after in _unaware_pairs(ledger, written):
        if after.entry not in told and _same_lines(before, after):
            told.add(after.entry)
            yield Contradiction(
                f"{_named(after, book)} was recorded as written {_by(before, after)} and again {_by(after, before)}; "
                f"{_choice(after, before)}",
                (after.entry, before.entry),
            )
    for entry in entries:
        if entry.what == "checked" and entry.text("seen"):
            yield from _check(ledger, entry, written, book)
    for what, facts in _ONCE.items():
        same = [entry for entry in entries if entry.what == what]
        yield from _told_otherwise(ledger, same, facts, lambda entry: f"{_named(entry, book)} was", KINDS[what].says)


_ONCE: Mapping[str, tuple[str, ...]] = {
    "ruled": ("placements", "lines"),
    "held": ("from_word",),
    "transcribed": ("text",),
}
"""What is so once on a page, whoever records it, and the facts in which two records of it may differ."""


def _told_otherwise(
    ledger: Ledger, entries: Sequence[Entry], facts: Iterable[str], named: Callable[[Entry], str], says: str
) -> Iterator[Contradiction]:
    """Two records of one thing that differ in these facts."""
    for before, after in _unaware_pairs(ledger, entries):
        if any(before.facts.get(name) != after.facts.get(name) for name in facts):
            yield Contradiction(
                f"{named(after)} {says} {_by(before, after)} and otherwise {_by(after, before)}; "
                f"{_choice(after, before)}",
                (after.entry, before.entry),
            )


def _named(entry: Entry, book: Book | None) -> str:
    return book.renamed(entry.page) if book is not None else entry.page


def _check(ledger: Ledger, check: Entry, written: list[Entry], book: Book | None) -> Iterator[Contradiction]:
    """Checks of writing that was taken back since, or that the checker did not know of.

    Writing recorded after a check cancels the check, so nothing contradicts it then.
    """
    if any(_place(entry) > _place(check) for entry in written):
        return
    seen = check.text("seen")
    if ledger.is_void(seen):
        taker = _taker(ledger, seen)
        yield Contradiction(
            f"{_named(check, book)} was checked at {check.desk} by {check.hand}, and the writing that was checked has "
            f"been taken back; undo {check.entry}, or let the writing stand again: undo {taker}",
            (check.entry, taker),
        )
    elif written and _unaware(ledger, check, written[-1]):
        last = written[-1]
        yield Contradiction(
            f"{_named(check, book)} was checked {_by(check, last)}, who did not know that it had been recorded as "
            f"written {_by(last, check)}; the check counts now: undo {check.entry} to have the page checked again, "
            "or record the check again if it holds",
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
        old = KNEW not in after.facts and not after.text("seen")
        unknown = (before.what == after.what and before.desk != after.desk) if old else _unaware(ledger, after, before)
        kept = before.what == after.what and (before.what in ("desk", "drying") or _who(before) == _who(after))
        if unknown and not kept:
            yield Contradiction(
                f"sheet {name} was taken by {_who(before)} at {_at(before, after)} and by {_who(after)} at "
                f"{_at(after, before)}; {_choice(after, before)}",
                (after.entry, before.entry),
            )
    cut = [entry for entry in ledger.live("sheet", name) if entry.what == "cut"]
    yield from _told_otherwise(ledger, cut, ("batch", "skin"), lambda _: f"sheet {name} was", KINDS["cut"].says)


def _who(entry: Entry) -> str:
    return entry.text("who") or entry.hand


def _space(ledger: Ledger, name: str, _book: Book | None) -> Iterator[Contradiction]:
    """Work in one space, or a change of it, by two who did not know of each other; different stages agree."""
    for before, after in _unaware_pairs(ledger, ledger.live("space", name)):
        same = before.what == after.what
        stages = before.what in STAGES and after.what in STAGES
        agree = not same if stages else same and _deed(before) == _deed(after)
        if not agree:
            said = [KINDS[entry.what].says for entry in (before, after)]
            yield Contradiction(
                f"space {name} was {said[0]} {_by(before, after)} and {said[1]} {_by(after, before)}; "
                f"{_choice(after, before)}",
                (after.entry, before.entry),
            )


_BESIDES = {KNEW, COPY, "together", "remark", "note", "seen", "was"}


def _deed(entry: Entry) -> Mapping[str, object]:
    """The facts of an entry that say what was done."""
    return {name: value for name, value in entry.facts.items() if name not in _BESIDES}


def _text(ledger: Ledger, name: str, _book: Book | None) -> Iterator[Contradiction]:
    """Changes on purpose of the same words."""
    for before, after in _unaware_pairs(ledger, ledger.live("text", name)):
        first, last = [(entry.number("from_word") or 0, entry.number("to_word") or 0) for entry in (before, after)]
        overlap = max(first[0], last[0]) < min(first[1], last[1]) or first == last
        if overlap and _deed(before) != _deed(after):
            yield Contradiction(
                f"words {max(first[0], last[0])} to {min(first[1], last[1])} of the exemplar were changed on purpose "
                f"{_by(before, after)} and otherwise {_by(after, before)}: undo {after.entry} or {before.entry}",
                (after.entry, before.entry),
            )


def _agreement(ledger: Ledger, name: str, _book: Book | None) -> Iterator[Contradiction]:
    """Two agreements on the pages to come."""
    agreed = {AGREED: "the letters on a line were", RULING: "the lines of pages not yet ruled were"}.get(name)
    for before, after in _unaware_pairs(ledger, ledger.live("book", name)) if agreed else ():
        if _deed(before) != _deed(after):
            yield Contradiction(
                f"{agreed} agreed {_by(before, after)} and otherwise {_by(after, before)}; {_choice(after, before)}",
                (after.entry, before.entry),
            )


_OF = {"page": _page, "sheet": _sheet, "space": _space, "text": _text, "book": _agreement}


def _leaves(ledger: Ledger, book: Book | None) -> Iterator[Contradiction]:
    yield from _leaf_names(ledger, book)
    losses = _losses(ledger)
    for leaf, entries in losses.items():
        for before, after in _unaware_pairs(ledger, entries):
            if (before.what, before.text("sheet")) != (after.what, after.text("sheet")):
                first, later = describe_leaf(before, book), describe_leaf(after, book)
                yield Contradiction(
                    f"{first}, {_by(before, after)}, and {later}, {_by(after, before)}: one leaf of skin, {leaf}; "
                    f"undo {after.entry} or {before.entry}",
                    (after.entry, before.entry),
                )
    yield from _lost_pages(ledger, losses, book)


def _leaf_names(ledger: Ledger, book: Book | None) -> Iterator[Contradiction]:
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


def _losses(ledger: Ledger) -> dict[LeafId, list[Entry]]:
    """What took leaves out of the book: cancelled, replaced, wanting; by the leaf, oldest first."""
    lost: dict[LeafId, list[Entry]] = {}
    for entry in ledger.live_of("leaf"):
        if entry.what in ("cancelled", "replaced", "wanting"):
            first = {LeafId(entry.about)}
            for leaf in first | ({replaced(new) for new in new_leaves(entry)} if entry.text("sheet") else set()):
                lost.setdefault(leaf, []).append(entry)
    return lost


def _lost_pages(ledger: Ledger, leaves: Iterable[LeafId], book: Book | None) -> Iterator[Contradiction]:
    """Work on pages of leaves that were taken out of the book by somebody who did not know of it, or unknown to it."""
    losses = _losses(ledger)
    for leaf in leaves:
        for loss in losses.get(leaf, ()):
            for side in "rv":
                yield from _lost_page(ledger, loss, f"{leaf}:{side}", book)


def _lost_page(ledger: Ledger, loss: Entry, page: str, book: Book | None) -> Iterator[Contradiction]:
    done = [
        entry
        for entry in ledger.live("page", page)
        if _unaware(ledger, *((entry, loss) if _place(entry) > _place(loss) else (loss, entry)))
    ]
    done = [entry for entry in done if entry.what in ("ruled", "begun", "written", "checked")]
    if done:
        last = done[-1]
        yield Contradiction(
            f"{_named(last, book)} was {KINDS[last.what].says} {_by(last, loss)}, and its leaf taken out of the book "
            f"{_by(loss, last)} ({describe_leaf(loss, book)}), neither knowing of the other; the page counts as gone: "
            f"undo {loss.entry} if the leaf stands, {last.entry} if it does not",
            (loss.entry, last.entry),
        )
