"""Recording changes to leaves and sheets. Each change is first tried on the collation, so an impossible one is refused.

An entry names the new leaves itself, by names never given before, so that taking one back renames no other.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import InvalidValueError, NotAllowedError
from copydesk.book.layout.flaws import flaw_problem
from copydesk.book.plan import Flaw
from copydesk.book.structure import leaf_additions as adding
from copydesk.book.structure import leaf_changes as mending
from copydesk.book.structure.leaf_ids import next_addition, next_replacement, start_of
from copydesk.book.structure.page import LeafId, Surface
from copydesk.book.structure.sheets import find_sheet
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.ledger.leaf_history import new_leaves

if TYPE_CHECKING:
    from collections.abc import Mapping

    from copydesk.tracking.state.book_state import BookState


def cancel_leaf(state: BookState, leaf: int, note: str = "") -> Act:
    """Cut a leaf away; its stub stays.

    Raises:
        CopydeskError: where there is no such leaf, or no other is left in the book.
    """
    half = _leaf_to_lose(state, leaf)
    mending.cancel(state.collation, half)
    return _act("cancelled", half, number=leaf, note=note)


def lose_leaf(state: BookState, leaf: int, note: str = "") -> Act:
    """Count a leaf as gone.

    Raises:
        CopydeskError: as for ``cancel_leaf``.
    """
    half = _leaf_to_lose(state, leaf)
    mending.want(state.collation, half)
    return _act("wanting", half, number=leaf, note=note)


def replace_leaf(state: BookState, leaf: int, note: str = "") -> Act:
    """Cut a leaf away and tip a blank one in at its place, the same surface up.

    Raises:
        CopydeskError: where there is no such leaf.
    """
    half = state.collation.half(leaf).id
    new = next_replacement(half, _given(state))
    mending.replace(state.collation, half, new)
    return _act("replaced", half, number=leaf, new=[new], note=note)


def add_leaf(
    state: BookState,
    leaf: int,
    *,
    before: bool = False,
    tipped: bool = False,
    recto: Surface | None = None,
    note: str = "",
) -> Act:
    """Add a blank leaf after leaf ``leaf``.

    Args:
        state: the book as it stands.
        leaf: the number of the leaf it follows.
        before: whether it goes before that leaf instead, in the same gathering.
        tipped: whether it is pasted in, or else hooked round the fold by a stub of its own.
        recto: the surface its recto shows; as like faces like at its front where None.
        note: anything to be remembered.

    Raises:
        CopydeskError: where there is no such leaf.
    """
    collation = state.collation
    half, number = collation.half(leaf).id, leaf
    if before:
        number -= 1
        gathering, _ = collation.find(half)
        first = gathering.leaves[0].id == half
        half = start_of(gathering.number) if first else collation.half(number).id
    new = next_addition(half, _given(state))
    changed = adding.add_after(collation, half, tipped=tipped, recto=recto, new_id=new)
    place, at = changed.find(new)
    shown = place.halves[at].recto.value
    return _act("added-after", half, number=number or None, new=[new], tipped=tipped, recto=shown, note=note)


def replace_sheet(state: BookState, sheet: str, note: str = "") -> Act:
    """Change a whole sheet (``3.2``) for a blank one, the same surface outward.

    Raises:
        CopydeskError: where there is no such sheet, or it is no longer whole.
    """
    collation, found = state.collation, find_sheet(state.collation, sheet)
    halves = collation.gathering(found.gathering).sheet(found.sheet)
    given = _given(state)
    new = [_renewed(half.id, half.conjugate, given, stands=half.stands) for half in halves]
    mending.replace_sheet(collation, found.gathering, found.sheet, (new[0], new[-1]))
    leaf = next(half.id for half in halves if half.stands)
    return _act("replaced", leaf, number=collation.number_of(leaf), sheet=found.name, new=new, note=note)


def _renewed(half: LeafId, conjugate: LeafId | None, given: set[str], *, stands: bool) -> LeafId:
    """A name for the half that takes the place of ``half``, a leaf or the stub of its conjugate."""
    return next_replacement(half, given) if stands else LeafId(f"{next_replacement(conjugate or half, given)}s")


def add_sheet(state: BookState, sheet: str, outward: Surface | None = None, note: str = "") -> Act:
    """Lay a blank sheet just inside ``sheet`` (``3.2``), or round the whole gathering (``3.0``).

    Raises:
        CopydeskError: where there is no such sheet, or it is a leaf tipped in.
    """
    gathering, _, number = sheet.partition(".")
    collation = state.collation
    if number == "0" and gathering.isdecimal():
        within, after = 0, start_of(collation.gathering(int(gathering)).number)
    else:
        found = find_sheet(collation, sheet)
        within, after = found.sheet, collation.gathering(found.gathering).sheet(found.sheet)[0].id
    changed = adding.add_sheet(collation, int(gathering), within, outward)
    old, given = collation.gathering(int(gathering)).ids, _given(state)
    front, back = (half for half in changed.gathering(int(gathering)).halves if half.id not in old)
    first = next_addition(front.id, given)
    new = [first, next_addition(back.id, given | {first})]
    leaf, shown = collation.number_of(after), front.recto.value
    return _act("added-inside", after, number=leaf, sheet=sheet, new=new, outward=shown, note=note)


def add_gathering(state: BookState, leaves: int, outward: Surface | None = None, note: str = "") -> Act:
    """Add a gathering of ``leaves`` leaves at the end, like the book's others.

    Raises:
        InvalidValueError: where that is no number of leaves a gathering can have.
    """
    if not 1 <= leaves <= 40:
        raise InvalidValueError(f"a gathering cannot have {leaves} leaves; give a number from 1 to 40")
    plan = state.book.gatherings
    about = start_of(len(state.collation.gatherings) + 1)
    surface = outward or Surface(plan.outside)
    return _act("added-gathering", about, leaves=leaves, outward=surface.value, habit=plan.habit, note=note)


def note_flaw(state: BookState, leaf: int, sizes: Mapping[str, float | None], note: str = "") -> Act:
    """Note a flaw of a leaf: ``from_head``, ``from_fold``, ``width`` and ``height`` in mm, as seen on the recto.

    Raises:
        CopydeskError: where there is no such leaf, a size is not given, or the flaw would lie beyond the leaf.
    """
    half = state.collation.half(leaf)
    given = [sizes.get(name) for name in ("from_head", "from_fold", "width", "height")]
    amounts = [each for each in given if each is not None]
    if len(amounts) < 4:
        raise InvalidValueError(
            f"a flaw of {state.book.leaf_named(leaf)} needs four lengths: from the head edge, from the fold, its "
            "width and its height, as seen on the recto; give them all"
        )
    flaw = Flaw(leaf, *amounts)
    problem = flaw_problem(state.layout.width, state.layout.height, flaw, state.book.unit)
    if problem:
        raise InvalidValueError(problem)
    from_head, from_fold, width, height = map(float, amounts)
    return _act(
        "flaw", half.id, number=leaf, from_head=from_head, from_fold=from_fold, width=width, height=height, note=note
    )


def _leaf_to_lose(state: BookState, leaf: int) -> LeafId:
    half = state.collation.half(leaf)
    if state.collation.leaves == 1:
        named = state.book.leaf_named(leaf)
        raise NotAllowedError(f"{named} is the only one the book has left; replace it, or add another before")
    return half.id


def _given(state: BookState) -> set[str]:
    """Every name a leaf bears or bore, those of additions since taken back too."""
    names = {half for gathering in state.collation.gatherings for half in gathering.ids}
    for entry in state.ledger:
        if "new" in entry.facts:
            names.update(new_leaves(entry))
    return names


def _act(what: str, about: LeafId, **facts: object) -> Act:
    kept = {name: value for name, value in facts.items() if value is not None and value != "" and value is not False}
    return Act(what, about, "", kept)
