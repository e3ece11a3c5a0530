"""The gatherings as planned, and as they stand after what happened to leaves and sheets."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import CopydeskError, UnknownNameError
from copydesk.book.structure import leaf_additions as adding
from copydesk.book.structure import leaf_changes as mending
from copydesk.book.structure.collation import Collation
from copydesk.book.structure.leaf_ids import gathering_of, place_of, replaced, start_of
from copydesk.book.structure.page import LeafId, Page, SkinPage, Surface

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from copydesk.book.plan import Book, GatheringPlan, LeafException
    from copydesk.tracking.ledger.entry import Entry


def planned_collation(book: Book, pages_needed: Callable[[], int]) -> Collation:
    """The gatherings as planned: by formula, by number, or as many as the text needs (at least one).

    Args:
        book: the plan.
        pages_needed: counts the pages the text takes; called only where neither formula nor number is given.

    Raises:
        CopydeskError: where the plan names a leaf the book does not have.
    """
    plan = book.gatherings
    outside = Surface(plan.outside)
    if plan.formula is not None:
        from copydesk.book.formula.collation_formula import parse

        collation = parse(plan.formula).collation(outside, plan.habit)
    else:
        sheets = plan.sheets or 4
        count = plan.count or max(-(-(pages_needed() + 2 * _leaves_less(plan)) // (4 * sheets)), 1)
        collation = Collation.regular(count, sheets, outside, plan.habit)
    ids = {number: collation.half(number).id for number in range(1, collation.leaves + 1)}
    for exception in plan.exceptions:
        if exception.leaf not in ids:
            raise UnknownNameError(
                f"there is no leaf {exception.leaf} to be {exception.what}; the book has {len(ids)} leaves"
            )
        collation = _except(collation, ids[exception.leaf], exception)
    return collation


def _leaves_less(plan: GatheringPlan) -> int:
    """How many leaves fewer stand than in regular gatherings, by what is planned of single ones."""
    gone = sum(each.what in ("singleton", "cancelled", "wanting") for each in plan.exceptions)
    return gone - sum(each.what == "added after" for each in plan.exceptions)


def _except(collation: Collation, leaf: LeafId, exception: LeafException) -> Collation:
    surface = Surface(exception.surface) if exception.surface is not None else None
    if exception.what == "added after":
        return adding.add_after(collation, leaf, recto=surface)
    changed = _CHANGES[exception.what](collation, leaf)
    if surface is not None and exception.what == "singleton":
        changed = mending.turn(changed, leaf, surface)
    return changed


_CHANGES: dict[str, Callable[[Collation, LeafId], Collation]] = {
    "singleton": mending.make_single,
    "cancelled": mending.cancel,
    "wanting": mending.want,
    "replaced": mending.replace,
}


def collation_now(planned: Collation, entries: Iterable[Entry]) -> Collation:
    """The gatherings after the entries about leaves, oldest first; one that no longer applies is passed over."""
    collation = planned
    for entry in entries:
        step = _STEPS.get(entry.what)
        if step is None:
            continue
        try:
            collation = step(collation, entry)
        except (CopydeskError, ValueError):  # a surface nobody knows, from another program
            continue
    return collation


def new_leaves(entry: Entry) -> list[LeafId]:
    """The ids an entry gives the leaves that came with it."""
    given = entry.facts.get("new")
    return [LeafId(str(each)) for each in given] if isinstance(given, list) else []


def _replaced(collation: Collation, entry: Entry) -> Collation:
    """A leaf for a leaf, tipped in; or, where the entry names its sheet, a sheet for a sheet."""
    about = _there(collation, entry)
    if not entry.text("sheet"):
        return mending.replace(collation, about, _first_new(entry))
    gathering, at = collation.find(about)
    return mending.replace_sheet(collation, gathering.number, gathering.halves[at].sheet, _both_new(entry))


def _added_after(collation: Collation, entry: Entry) -> Collation:
    tipped = entry.facts.get("tipped") is True
    recto = _surface(entry, "recto")
    return adding.add_after(collation, _there(collation, entry), tipped=tipped, recto=recto, new_id=_first_new(entry))


def _added_inside(collation: Collation, entry: Entry) -> Collation:
    """A sheet just inside the sheet of the leaf named; round the whole gathering where its beginning is named."""
    number, within = gathering_of(entry.about), 0
    if entry.about != start_of(number):
        gathering, at = collation.find(_there(collation, entry))
        within = gathering.halves[at].sheet
    return adding.add_sheet(collation, number, within, _surface(entry, "outward"), _both_new(entry))


def _added_gathering(collation: Collation, entry: Entry) -> Collation:
    if gathering_of(entry.about) != len(collation.gatherings) + 1:
        raise UnknownNameError(f"gathering {gathering_of(entry.about)} is not the next one")
    leaves = entry.number("leaves") or 0
    outside = _surface(entry, "outward") or Surface.HAIR
    return adding.add_gathering(collation, leaves, outside, "same" if entry.text("habit") == "same" else "alternate")


_STEPS: dict[str, Callable[[Collation, Entry], Collation]] = {
    "cancelled": lambda collation, entry: mending.cancel(collation, LeafId(entry.about)),
    "wanting": lambda collation, entry: mending.want(collation, LeafId(entry.about)),
    "replaced": _replaced,
    "added-after": _added_after,
    "added-inside": _added_inside,
    "added-gathering": _added_gathering,
}


def _there(collation: Collation, entry: Entry) -> LeafId:
    """The leaf an entry is about; where its coming was since taken back, the one it replaced or came after."""
    number = gathering_of(entry.about)
    ids = collation.gathering(number).ids | {start_of(number)}
    found = (name for name in (entry.about, replaced(entry.about), place_of(entry.about)) if name in ids)
    return LeafId(next(found, entry.about))


def _surface(entry: Entry, name: str) -> Surface | None:
    return Surface(entry.text(name)) if entry.text(name) else None


def _first_new(entry: Entry) -> LeafId | None:
    return next(iter(new_leaves(entry)), None)


def _both_new(entry: Entry) -> tuple[LeafId, LeafId] | None:
    new = new_leaves(entry)
    return (new[0], new[1]) if len(new) == 2 else None


def page_in_its_place(collation: Collation, skin: SkinPage) -> Page | None:
    """The page on a planned surface of skin today, or that of the leaf that replaced it; None where none does."""
    page = collation.page_of(skin)
    if page is not None:
        return page
    first = replaced(skin.leaf_id)  # a leaf, or its whole gathering, that was added may have been taken back since
    leaves = (half.id for gathering in collation.gatherings for half in gathering.leaves)
    newer = next((leaf for leaf in leaves if replaced(leaf) == first), None)
    return None if newer is None else collation.page_of(SkinPage(newer, skin.side))
