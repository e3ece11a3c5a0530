"""What the remarks on a gathering come to: each leaf by its place in the gathering as planned."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.formula.parts import MIRRORED, Added, FormulaGathering, Misread, Pairs, in_order

if TYPE_CHECKING:
    from copydesk.book.formula.parts import Name
    from copydesk.book.formula.remarks import Remarks


class Counted(NamedTuple):
    """A gathering as it was read: its leaves, those a raised + or - adds or takes, its sheets, its remarks."""

    planned: int
    plus: int
    minus: int
    pairs: Pairs | None
    doubtful: bool
    remarks: Remarks


def place_remarks(name: Name, counted: Counted) -> tuple[FormulaGathering, list[str]]:
    """The gathering that was meant, and what has to be said about it.

    Places with a plus sign are leaves of the gathering that results, and so are those with a minus sign beside
    them (St John's College, Oxford, MS 178); without any plus both count in the gathering as planned.

    Raises:
        Misread: where a remark speaks of a leaf the gathering cannot have.
    """
    remarks = counted.remarks
    if remarks.put_in and any(place > counted.planned for place in remarks.wanting):
        # "lacking tenth" of a six to which four were added: all places are leaves of the gathering that results
        remarks = replace(remarks, wanting={}, taken_out=remarks.wanting | remarks.taken_out)
    replaced = remarks.replaced | {at: remarks.put_in[at] for at in remarks.taken_out if at in remarks.put_in}
    put_in = sorted(remarks.put_in.keys() - replaced.keys())
    result = counted.planned + len(put_in)
    _within(name, result, {place: remarks.put_in[place] for place in put_in})
    taken = {_planned_place(put_in, place): at for place, at in remarks.taken_out.items() if place not in replaced}
    cancelled = {place: at for place, at in remarks.cancelled.items() if place not in replaced}
    wanting = {p: at for p, at in (remarks.wanting | taken).items() if p not in replaced and p not in cancelled}
    for places in (wanting, cancelled, replaced, remarks.single):
        _within(name, counted.planned, places)
    _within(name, counted.planned, {added.after: at for added, at in remarks.after if added.after})
    added = [Added(place - rank) for rank, place in enumerate(put_in, 1)]
    added += [_sheet(counted.planned, addition) for addition, _ in remarks.after]
    said: list[str] = []
    added += _unplaced_added(name, counted, sum(addition.leaves for addition in added), said)
    gone = {*wanting, *_unplaced_gone(name, counted, {*wanting, *cancelled}, said)}
    return FormulaGathering(
        name,
        counted.planned,
        wanting=tuple(sorted(gone)),
        cancelled=tuple(sorted(cancelled)),
        replaced=tuple(sorted(replaced)),
        single=tuple(sorted(remarks.single)),
        added=in_order(added),
        pairs=counted.pairs,
        notes=tuple(remarks.notes),
        doubtful=counted.doubtful,
    ), said


def _planned_place(put_in: list[int], place: int) -> int:
    """The planned place of leaf ``place`` of the gathering that results when ``put_in`` are put in."""
    return place - sum(added < place for added in put_in)


def _within(name: Name, leaves: int, places: dict[int, int]) -> None:
    for place, at in places.items():
        if not 1 <= place <= leaves:
            raise Misread(at, f"gathering {name.text} has no leaf {place}; its leaves go from 1 to {leaves}")


def _sheet(planned: int, added: Added) -> Added:
    """An addition with the place of a sheet's second leaf, where it is one, and the first before it."""
    if added.back is None:
        return added
    back = planned - added.after if added.back == MIRRORED else added.back
    return added._replace(after=min(added.after, back), back=max(added.after, back))


def _unplaced_added(name: Name, counted: Counted, placed: int, said: list[str]) -> list[Added]:
    if counted.plus == placed or not counted.plus:
        return []
    if counted.plus < placed:
        said.append(f"gathering {name.text} says {counted.plus} added but names {placed}; those named are counted")
        return []
    more = counted.plus - placed
    which = ("leaf", "was", "last is") if more == 1 else ("leaves", "were", f"last {more} are")
    said.append(
        f"it is not said which {which[0]} of gathering {name.text} {which[1]} added; the {which[2]} taken to be"
    )
    return [Added(counted.planned, more)]


def _unplaced_gone(name: Name, counted: Counted, placed: set[int], said: list[str]) -> list[int]:
    if counted.minus == len(placed) or not counted.minus:
        return []
    if counted.minus < len(placed):
        said.append(f"gathering {name.text} says {counted.minus} gone but names {len(placed)}; those named are counted")
        return []
    missing = counted.minus - len(placed)
    left = [place for place in range(1, counted.planned + 1) if place not in placed]
    which = ("leaf", "is", "last is") if missing == 1 else ("leaves", "are", f"last {missing} are")
    said.append(f"it is not said which {which[0]} of gathering {name.text} {which[1]} gone; the {which[2]} taken to be")
    return left[len(left) - missing :]
