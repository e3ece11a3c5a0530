"""Flaws of the skin: those the plan names and those that came to light since, and the lines they take today.

What is written keeps its place: a flaw that came to light after lines were written takes nothing from those lines,
only from the ones below them and from the other side of the leaf.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.plan import Flaw
from copydesk.book.structure.page import LeafId, Page, Side

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping, Sequence

    from copydesk.book.layout.page_frame import Placement
    from copydesk.book.layout.page_layout import PageLayout
    from copydesk.book.plan import Book
    from copydesk.book.structure.collation import Collation
    from copydesk.tracking.ledger.entry import Entry

    Place = tuple[int, int]
    Lost = tuple[tuple[int, int, float], ...]


SIZES = ("from_head", "from_fold", "width", "height")
"""The facts of a flaw, in mm as seen on the recto."""


class FoundFlaw(NamedTuple):
    """A flaw of a leaf as numbered today, and the tick of the entry that noted it: 0 where the plan names it."""

    flaw: Flaw
    since: int


Flaws = dict[int, tuple[FoundFlaw, ...]]
"""The flaws of each leaf that has any, by its number today, oldest first."""


def flaws_found(book: Book, planned: Collation, collation: Collation, entries: Iterable[Entry]) -> Flaws:
    """Every flaw on a leaf that is in the book today, by the leaf's number today; sizes in mm.

    Args:
        book: the plan, which numbers leaves as planned.
        planned: the gatherings as planned.
        collation: the gatherings today.
        entries: the entries about leaves, oldest first.
    """
    found: Flaws = {}
    for flaw in book.flaws:
        if 1 <= flaw.leaf <= planned.leaves:
            _note(found, collation, planned.half(flaw.leaf).id, flaw, 0)
    for entry in entries:
        if entry.what == "flaw":
            sizes = [entry.amount(name) or 0.0 for name in SIZES]
            _note(found, collation, LeafId(entry.about), Flaw(0, *sizes), entry.tick)
    return found


def _note(found: Flaws, collation: Collation, leaf_id: LeafId, flaw: Flaw, since: int) -> None:
    leaf = collation.number_of(leaf_id)
    if leaf is not None:
        today = FoundFlaw(Flaw(leaf, flaw.from_head, flaw.from_fold, flaw.width, flaw.height), since)
        found[leaf] = (*found.get(leaf, ()), today)


class WrittenOnPage(NamedTuple):
    """What of a page's record matters to its flaws: the spaces fixed on it, and text lines written before a tick."""

    fixed: tuple[Placement, ...]
    before: Callable[[int], int]


def lines_lost(
    layout: PageLayout, flaws: Flaws, written_on: Callable[[int], WrittenOnPage], *, both_sides: bool = False
) -> dict[int, Lost]:
    """Lines lost or shortened, by page index: column, line, share of the measure left.

    Args:
        layout: the page as laid out.
        flaws: what :func:`flaws_found` gives.
        written_on: gives, for a page index, what is fixed and written on that page.
        both_sides: whether a line goes on beyond a hole.
    """
    lost = {
        Page(leaf, side).index: _on_page(layout, found, side, written_on(Page(leaf, side).index), both_sides=both_sides)
        for leaf, found in flaws.items()
        for side in Side
    }
    return {index: lines for index, lines in lost.items() if lines}


def _on_page(
    layout: PageLayout, found: Sequence[FoundFlaw], side: Side, written: WrittenOnPage, *, both_sides: bool
) -> Lost:
    from copydesk.book.layout.flaws import shares_left

    shares = shares_left(layout, [each.flaw for each in found], side, both_sides=both_sides)
    kept = _kept(layout, found, side, written)
    if not any(kept.values()):
        return shares
    lines: list[tuple[int, int, float]] = []
    for column, line, _ in shares:
        felt = [each.flaw for each in found if (column, line) not in kept[each]]
        left = shares_left(layout, felt, side, both_sides=both_sides)
        lines += [each for each in left if each[:2] == (column, line)]
    return tuple(lines)


def _kept(
    layout: PageLayout, found: Sequence[FoundFlaw], side: Side, written: WrittenOnPage
) -> Mapping[FoundFlaw, frozenset[Place]]:
    """For each flaw, the lines that were written before it came to light."""
    from copydesk.book.layout.flaws import shares_left

    open_places = _open_places(layout, written.fixed)
    kept: dict[FoundFlaw, frozenset[Place]] = {}
    for each in found:
        kept[each] = frozenset(open_places[: written.before(each.since)])
        gone = {(column, line) for column, line, share in shares_left(layout, [each.flaw], side) if share == 0.0}
        gone -= kept[each]
        open_places = [place for place in open_places if place not in gone]
    return kept


def _open_places(layout: PageLayout, fixed: Iterable[Placement]) -> list[Place]:
    """Column and line of every line of a page that no space takes whole, in reading order."""
    taken = {
        (column, line)
        for space in fixed
        if space.share == 0.0
        for column in ((space.column,) if space.column else range(1, layout.columns + 1))
        for line in range(space.from_line, space.from_line + space.lines)
    }
    places = ((column, line) for column in range(1, layout.columns + 1) for line in range(1, layout.lines + 1))
    return [place for place in places if place not in taken]
