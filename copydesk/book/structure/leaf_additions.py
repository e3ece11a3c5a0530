"""What is added to a book: a single leaf, a sheet, a gathering; each gives the book as it then stands."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from copydesk.book.common.errors import UnknownNameError
from copydesk.book.structure.gathering import Gathering, Half, Held, regular_gathering, single
from copydesk.book.structure.leaf_changes import unused
from copydesk.book.structure.leaf_ids import gathering_of, is_planned, next_addition, start_of
from copydesk.book.structure.page import LeafId, Surface

if TYPE_CHECKING:
    from copydesk.book.structure.collation import Collation
    from copydesk.book.structure.gathering import Habit


def add_after(
    collation: Collation,
    leaf_id: LeafId,
    *,
    tipped: bool = False,
    recto: Surface | None = None,
    new_id: LeafId | None = None,
) -> Collation:
    """Add a single leaf after ``leaf_id`` (``3.0`` stands for the beginning of gathering 3).

    It is held by its own stub, hooked round the fold at the mirrored place, or tipped in. Its recto takes the
    surface the leaf before it shows, so that at least that opening keeps like to like; ``recto`` says otherwise.

    Raises:
        CopydeskError: where there is no such leaf.
    """
    gathering, at = _after(collation, leaf_id)
    new_id = unused(gathering, new_id or next_addition(leaf_id, gathering.ids))
    recto = recto or facing(gathering, at)
    halves = gathering.halves
    if tipped:
        new = Half(new_id, gathering.next_sheet, recto, None, held=Held.TIPPED)
        return collation.with_halves(gathering, (*halves[:at], new, *halves[at:]))
    return collation.with_halves(gathering, _hooked(halves, at, *single(new_id, gathering.next_sheet, recto)))


def add_sheet(
    collation: Collation,
    gathering_number: int,
    within: int = 0,
    outward: Surface | None = None,
    new_ids: tuple[LeafId, LeafId] | None = None,
) -> Collation:
    """Add a whole sheet just inside sheet ``within`` of a gathering; 0 lays it round the whole gathering.

    Its outer side takes the surface that faces it there, so that like faces like at its first leaf.

    Raises:
        CopydeskError: where there is no such sheet, or it is a leaf tipped in.
    """
    gathering = collation.gathering(gathering_number)
    halves = gathering.halves
    first, last = _inside(gathering, within)
    one, two = new_ids or _ids_for_sheet(gathering, first, last)
    surface = outward or facing(gathering, first)
    left = Half(unused(gathering, one), gathering.next_sheet, surface, two)
    right = Half(unused(gathering, two), gathering.next_sheet, surface.other, one)
    return collation.with_halves(gathering, (*halves[:first], left, *halves[first:last], right, *halves[last:]))


def add_gathering(
    collation: Collation, leaves: int, outside: Surface = Surface.HAIR, habit: Habit = "alternate"
) -> Collation:
    """Add a gathering of ``leaves`` leaves at the end of the book."""
    number = max((gathering.number for gathering in collation.gatherings), default=0) + 1
    new = regular_gathering(number, leaves, outside, habit)
    return replace(collation, gatherings=(*collation.gatherings, new))


def facing(gathering: Gathering, at: int) -> Surface:
    """The surface a recto put in at ``at`` needs to be like the verso it faces; at the front, to let its verso be like.

    Hair in a gathering where nothing stands.
    """
    for half in reversed(gathering.halves[:at]):
        if half.stands:
            return half.recto.other
    return next((half.recto.other for half in gathering.halves[at:] if half.stands), Surface.HAIR)


def sheet_around(gathering: Gathering, after: int, back: int) -> int | None:
    """The sheet just inside which a sheet lies that follows places ``after`` and ``back``; 0 is none, None unknown."""
    wanted = (LeafId(f"{gathering.number}.{after}"), LeafId(f"{gathering.number}.{back}"))
    folded = sorted({half.sheet for half in gathering.halves if half.folded})
    for sheet in (0, *folded):
        if tuple(_planned_before(gathering, at) for at in _inside(gathering, sheet)) == wanted:
            return sheet
    return None


def _after(collation: Collation, leaf_id: LeafId) -> tuple[Gathering, int]:
    """The gathering, and the index at which a leaf goes that follows ``leaf_id``."""
    if leaf_id == start_of(gathering_of(leaf_id)):
        return collation.gathering(gathering_of(leaf_id)), 0
    gathering, at = collation.find(leaf_id)
    if gathering.halves[at].stands:
        return gathering, at + 1
    return gathering, _past_tipped(gathering, at + 1)  # what replaced a leaf comes before what follows it


def _past_tipped(gathering: Gathering, at: int) -> int:
    while at < len(gathering.halves) and not gathering.halves[at].folded:
        at += 1
    return at


def _hooked(halves: tuple[Half, ...], at: int, leaf: Half, stub: Half) -> tuple[Half, ...]:
    """The halves with ``leaf`` put in at ``at`` and its stub at the mirrored place on the other side of the fold."""
    folded = [index for index, half in enumerate(halves) if half.folded]
    before = sum(index < at for index in folded)
    after = len(folded) - before
    mirror = folded[after] if after < len(folded) else len(halves)
    if before <= after:
        return (*halves[:at], leaf, *halves[at:mirror], stub, *halves[mirror:])
    return (*halves[:mirror], stub, *halves[mirror:at], leaf, *halves[at:])


def _inside(gathering: Gathering, sheet: int) -> tuple[int, int]:
    """The indices at which the two halves go of a sheet that lies just inside ``sheet``; 0 is round all."""
    if sheet == 0:
        return 0, len(gathering.halves)
    at = [index for index, half in enumerate(gathering.halves) if half.sheet == sheet and half.folded]
    if len(at) != 2:
        raise UnknownNameError(
            f"gathering {gathering.number} has no folded sheet {sheet}; name one it has, or 0 to go round all"
        )
    return _past_tipped(gathering, at[0] + 1), at[1]


def _ids_for_sheet(gathering: Gathering, first: int, last: int) -> tuple[LeafId, LeafId]:
    """Names for the halves of a sheet put in at these indices, each after the planned place it follows."""
    one = next_addition(_planned_before(gathering, first), gathering.ids)
    return one, next_addition(_planned_before(gathering, last), gathering.ids | {one})


def _planned_before(gathering: Gathering, at: int) -> LeafId:
    planned = (half.id for half in reversed(gathering.halves[:at]) if is_planned(half.id))
    return next(planned, start_of(gathering.number))
