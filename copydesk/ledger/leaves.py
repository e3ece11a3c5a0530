"""The gatherings as planned and as they stand after what happened to leaves; flaws of the skin, page by page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book import adding, mending
from copydesk.book.book import Flaw
from copydesk.book.collation import Collation
from copydesk.book.page import LeafId, Page, Side, Surface
from copydesk.book.refusal import Refused

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from copydesk.book.book import Book, LeafException
    from copydesk.book.layout import PageLayout
    from copydesk.ledger.entry import Entry


def planned_collation(book: Book, pages_needed: Callable[[], int]) -> Collation:
    """The gatherings as planned: by formula, by number, or as many as the text needs (at least one)."""
    plan = book.gatherings
    outside = Surface(plan.outside)
    if plan.formula is not None:
        from copydesk.book.formula import parse

        collation = parse(plan.formula).collation(outside, plan.habit)
    else:
        sheets = plan.sheets or 4
        count = plan.count or max(-(-pages_needed() // (4 * sheets)), 1)
        collation = Collation.regular(count, sheets, outside, plan.habit)
    ids = {number: collation.half(number).id for number in range(1, collation.leaves + 1)}
    for exception in plan.exceptions:
        if exception.leaf not in ids:
            raise Refused(f"there is no leaf {exception.leaf} to be {exception.what}; the book has {len(ids)} leaves")
        collation = _except(collation, ids[exception.leaf], exception)
    return collation


def _except(collation: Collation, leaf: LeafId, exception: LeafException) -> Collation:
    changed = _APPLY[exception.what](collation, leaf)
    if exception.surface is not None and exception.what == "singleton":
        changed = mending.turn(changed, leaf, Surface(exception.surface))
    return changed


_APPLY: dict[str, Callable[[Collation, LeafId], Collation]] = {
    "singleton": mending.make_single,
    "cancelled": mending.cancel,
    "wanting": mending.want,
    "replaced": mending.replace,
    "added after": adding.add_after,
    "added-after": adding.add_after,
}


def collation_now(planned: Collation, entries: Iterable[Entry]) -> Collation:
    """The gatherings after the entries about leaves, oldest first; one that no longer applies is passed over."""
    collation = planned
    for entry in entries:
        step = _APPLY.get(entry.what)
        if step is None:
            continue
        try:
            collation = step(collation, LeafId(entry.about))
        except Refused:
            continue
    return collation


Lost = dict[int, tuple[tuple[int, int, float], ...]]


def flaws_now(
    book: Book, layout: PageLayout, planned: Collation, collation: Collation, entries: Iterable[Entry]
) -> Lost:
    """Lines lost or shortened by flaws, by page index: (column, line, share of the measure left).

    A flaw is told as seen on the recto; on the verso it stands in the mirrored place.
    """
    by_leaf: dict[int, list[Flaw]] = {}
    for leaf, flaw in _all_flaws(book, planned, collation, entries):
        by_leaf.setdefault(leaf, []).append(flaw)
    if not by_leaf:
        return {}
    from copydesk.book.flaws import shares_left

    found = {
        Page(leaf, side).index: shares_left(layout, flaws, side) for leaf, flaws in by_leaf.items() for side in Side
    }
    return {index: lost for index, lost in found.items() if lost}


def _all_flaws(
    book: Book, planned: Collation, collation: Collation, entries: Iterable[Entry]
) -> list[tuple[int, Flaw]]:
    """Flaws with the number their leaf bears today: those of the book file, by planned numbers, and those found."""
    in_book = [flaw for flaw in book.flaws if 1 <= flaw.leaf <= planned.leaves]
    today = ((collation.number_of(planned.half(flaw.leaf).id), flaw) for flaw in in_book)
    flaws = [(leaf, flaw) for leaf, flaw in today if leaf is not None]
    for entry in entries:
        leaf = collation.number_of(LeafId(entry.about))
        if entry.what == "flaw" and leaf is not None:
            sizes = [entry.amount(name) or 0.0 for name in ("from_head", "from_fold", "width", "height")]
            flaws.append((leaf, Flaw(leaf, *sizes)))
    return flaws
