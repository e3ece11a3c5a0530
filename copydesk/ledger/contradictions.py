"""What two desks recorded that cannot both be so, for a person to settle."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from copydesk.ledger.leaf_telling import tell_leaf
from copydesk.ledger.leaves import new_leaves
from copydesk.ledger.space_record import SHEET_PLACES

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.ledger.entry import Entry
    from copydesk.ledger.ledger import Ledger


def contradictions(ledger: Ledger) -> tuple[str, ...]:
    """Sentences on what contradicts itself: lines written twice, a sheet taken by two, leaves added under one name."""
    return (*_pages(ledger), *_sheets(ledger), *_leaves(ledger))


def _pages(ledger: Ledger) -> Iterator[str]:
    for name in ledger.about("page"):
        written = [entry for entry in ledger.live("page", name) if entry.what == "written"]
        for before, after in pairwise(written):
            if before.desk != after.desk and _same_lines(before, after):
                yield (
                    f"{after.page} was recorded as written at {before.desk} by {before.hand} and again at {after.desk} "
                    f"by {after.hand}; the later one counts: undo {after.entry} if it should not"
                )


def _same_lines(before: Entry, after: Entry) -> bool:
    first, last = after.number("from_line") or 1, after.number("to_line") or 1
    ended = before.number("to_line") or 1
    if before.number("line_from_word") is not None and (after.number("from_word") or 0) >= (
        before.number("to_word") or 0
    ):
        ended -= 1  # the other hand may go on in the line this one stopped within
    return first <= ended and last >= (before.number("from_line") or 1)


def _sheets(ledger: Ledger) -> Iterator[str]:
    for name in ledger.about("sheet"):
        moved = [entry for entry in ledger.live("sheet", name) if entry.what in SHEET_PLACES]
        for before, after in pairwise(moved):
            taken_twice = before.what == after.what not in ("desk", "drying")
            if taken_twice and before.desk != after.desk and _who(before) != _who(after):
                yield (
                    f"sheet {name} was taken by {_who(before)} at {before.desk} and by {_who(after)} at {after.desk}; "
                    f"the later one counts: undo {after.entry} if it should not"
                )


def _who(entry: Entry) -> str:
    return entry.text("who") or entry.hand


def _leaves(ledger: Ledger) -> Iterator[str]:
    """New leaves that desks not knowing of each other gave the same name; only the first is in the book."""
    given: dict[str, Entry] = {}
    for entry in ledger.live_of("leaf"):
        for name in new_leaves(entry):
            before = given.setdefault(name, entry)
            if before is not entry:
                yield (
                    f"{tell_leaf(before)} at {before.desk}, and {tell_leaf(entry)} at {entry.desk}, under one name, "
                    f"{name}; only the first counts: undo {entry.entry} and record it again"
                )
