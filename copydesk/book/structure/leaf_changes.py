"""What happens to the leaves of a book: cut away, lost, replaced, parted, turned.

Each operation gives the book as it then stands. Ids never change and are never used again. An operation names
the new leaf itself, unless the caller names it (as a record kept in order does, so that taking back one entry
does not rename the leaves of later ones).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import AlreadyDoneError, InvalidValueError, NotAllowedError, UnknownNameError
from copydesk.book.structure.gathering import Gathering, Half, HalfState, Held, single
from copydesk.book.structure.leaf_ids import gathering_of, next_replacement, replaced
from copydesk.book.structure.page import LeafId, Surface

if TYPE_CHECKING:
    from collections.abc import Mapping

    from copydesk.book.structure.collation import Collation


def cancel(collation: Collation, leaf_id: LeafId) -> Collation:
    """Cut a leaf away; its stub stays and holds the leaf it was one sheet with.

    Raises:
        CopydeskError: where no such leaf stands.
    """
    return _stand_down(collation, leaf_id, HalfState.CANCELLED)


def want(collation: Collation, leaf_id: LeafId) -> Collation:
    """Count a leaf as gone.

    Raises:
        CopydeskError: where no such leaf stands.
    """
    return _stand_down(collation, leaf_id, HalfState.WANTING)


def replace(collation: Collation, leaf_id: LeafId, new_id: LeafId | None = None) -> Collation:
    """Cut a leaf away (where it still stands) and tip a new one in at its place, the same surface up.

    Raises:
        CopydeskError: where there is no such leaf, or another stands in its place already.
    """
    gathering, at = collation.find(leaf_id)
    old = gathering.halves[at]
    if old.state in (HalfState.STUB, HalfState.TAKEN_OUT):
        raise NotAllowedError(f"{leaf_id} is {_WHAT[old.state]}, so no leaf can take its place; add a leaf instead")
    if not old.stands and (newer := _standing_replacement(gathering, leaf_id)):
        raise AlreadyDoneError(f"leaf {leaf_id} has been replaced already; replace {newer} instead")
    new_id = unused(gathering, new_id or next_replacement(leaf_id, gathering.ids))
    gone = old._replace(state=HalfState.CANCELLED) if old.stands else old
    new = Half(new_id, gathering.next_sheet, old.recto, None, held=Held.TIPPED)
    return collation.with_halves(gathering, (*gathering.halves[:at], gone, new, *gathering.halves[at + 1 :]))


def replace_sheet(
    collation: Collation, gathering_number: int, sheet: int, new_ids: tuple[LeafId, LeafId] | None = None
) -> Collation:
    """Change a whole sheet for a fresh one before sewing, both its halves new, the same surface outward.

    Raises:
        CopydeskError: where there is no such sheet, or a leaf of it has been cut away or is wanting.
    """
    gathering = collation.gathering(gathering_number)
    left, right = _whole_sheet(gathering, sheet)
    one, two = new_ids or (_renewed(gathering, left), _renewed(gathering, right))
    number = gathering.next_sheet
    first = left._replace(id=unused(gathering, one), sheet=number, conjugate=two)
    last = right._replace(id=unused(gathering, two), sheet=number, conjugate=one)
    # The fresh sheet lies just inside the place of the old one, so that halves still pair from front and back.
    put_in = {
        left.id: (left._replace(state=HalfState.TAKEN_OUT), first),
        right.id: (last, right._replace(state=HalfState.TAKEN_OUT)),
    }
    return collation.with_halves(gathering, _exchanged(gathering, put_in))


def make_single(collation: Collation, leaf_id: LeafId) -> Collation:
    """Part a leaf from the one it is one sheet with: both stand as single leaves, each on its own stub.

    Raises:
        CopydeskError: where no such leaf stands or it is single already.
    """
    gathering, at = _standing(collation, leaf_id)
    mate = gathering.mate(gathering.halves[at])
    if mate is None or not mate.stands:
        raise AlreadyDoneError(f"leaf {leaf_id} is single already; name a leaf that is half of a sheet")
    front, back = sorted((gathering.halves[at], mate), key=gathering.halves.index)
    sheets = (front.sheet, gathering.next_sheet)
    keeps, parts = sheets if front.id == leaf_id else reversed(sheets)
    first, first_stub = single(front.id, keeps, front.recto)
    last, last_stub = single(back.id, parts, back.recto)
    put_in = {front.id: (first, last_stub), back.id: (last, first_stub)}
    return collation.with_halves(gathering, _exchanged(gathering, put_in))


def turn(collation: Collation, leaf_id: LeafId, recto: Surface) -> Collation:
    """Turn a single leaf so that its recto shows ``recto``.

    Raises:
        CopydeskError: where no such leaf stands, or it is half of a sheet and cannot turn alone.
    """
    gathering, at = _standing(collation, leaf_id)
    half = gathering.halves[at]
    mate = gathering.mate(half)
    if mate is not None and mate.stands:
        raise NotAllowedError(f"leaf {leaf_id} is one sheet with {mate.id}; only a single leaf can be turned by itself")
    put_in = {leaf_id: (half._replace(recto=recto),)}
    if mate is not None:
        put_in[mate.id] = (mate._replace(recto=recto.other),)
    return collation.with_halves(gathering, _exchanged(gathering, put_in))


def unused(gathering: Gathering, new_id: LeafId) -> LeafId:
    """``new_id`` itself, if a new half of ``gathering`` may be called so.

    Raises:
        CopydeskError: where it names another gathering or a half there has been.
    """
    if gathering_of(new_id) != gathering.number or new_id in gathering.ids:
        raise InvalidValueError(
            f"a new leaf of gathering {gathering.number} cannot be called {new_id}; give it an unused name"
        )
    return new_id


_WHAT = {
    HalfState.LEAF: "a leaf",
    HalfState.STUB: "a stub",
    HalfState.CANCELLED: "cut away",
    HalfState.WANTING: "wanting",
    HalfState.TAKEN_OUT: "taken out with its sheet",
}


def _standing(collation: Collation, leaf_id: LeafId) -> tuple[Gathering, int]:
    gathering, at = collation.find(leaf_id)
    if not gathering.halves[at].stands:
        raise NotAllowedError(f"leaf {leaf_id} is {_WHAT[gathering.halves[at].state]}; name a leaf that stands")
    return gathering, at


def _stand_down(collation: Collation, leaf_id: LeafId, state: HalfState) -> Collation:
    gathering, at = _standing(collation, leaf_id)
    put_in = {leaf_id: (gathering.halves[at]._replace(state=state),)}
    return collation.with_halves(gathering, _exchanged(gathering, put_in))


def _exchanged(gathering: Gathering, put_in: Mapping[LeafId, tuple[Half, ...]]) -> tuple[Half, ...]:
    """The halves in their order, some exchanged for one or more others."""
    return tuple(new for old in gathering.halves for new in put_in.get(old.id, (old,)))


def _standing_replacement(gathering: Gathering, leaf_id: LeafId) -> LeafId | None:
    first = replaced(leaf_id)
    return next((half.id for half in gathering.leaves if half.id != first and replaced(half.id) == first), None)


def _whole_sheet(gathering: Gathering, sheet: int) -> tuple[Half, Half]:
    halves = gathering.sheet(sheet)
    if not any(half.stands for half in halves):
        raise UnknownNameError(f"gathering {gathering.number} has no sheet {sheet} to replace; name one of its sheets")
    if len(halves) != 2 or any(half.state not in (HalfState.LEAF, HalfState.STUB) for half in halves):
        raise NotAllowedError(f"sheet {gathering.number}.{sheet} is no longer whole; replace its leaf instead")
    return halves[0], halves[1]


def _renewed(gathering: Gathering, half: Half) -> LeafId:
    """The id of the half that takes the place of ``half``, a leaf or the stub of one."""
    if half.state is HalfState.LEAF:
        return next_replacement(half.id, gathering.ids)
    return LeafId(f"{next_replacement(half.conjugate or half.id, gathering.ids)}s")
