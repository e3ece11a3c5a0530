"""From what a formula says to gatherings, and from gatherings as they stand back to what a formula says."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from copydesk.book.common.errors import DoesNotFitError
from copydesk.book.formula.folding import nest
from copydesk.book.formula.gathering_names import named
from copydesk.book.formula.parts import Added, Break, FormulaGathering, Name, Pairs, in_order, regular_pairs
from copydesk.book.structure.collation import Collation
from copydesk.book.structure.gathering import Gathering, Habit, Half, HalfState, regular_gathering
from copydesk.book.structure.leaf_additions import add_after, add_sheet, sheet_around
from copydesk.book.structure.leaf_changes import cancel, replace, want
from copydesk.book.structure.leaf_ids import is_planned, place_of, replaced
from copydesk.book.structure.page import LeafId, Surface

if TYPE_CHECKING:
    from collections.abc import Iterable


@dataclass(frozen=True, slots=True)
class ParsedFormula:
    """What a formula says: its gatherings, what stands between them, and the totals it states.

    ``stated`` is the extent the formula gives itself: flyleaves in front, leaves, flyleaves behind. ``format`` and
    ``signing`` are the statements printed books have there ("8°", "$4 signed"). ``flyleaves``, in front and behind,
    are those named beside the gatherings; no total counts them. ``remarks`` are the words that change no leaf. Two
    formulas that say the same are equal, whatever there is to warn of or to remark.
    """

    gatherings: tuple[FormulaGathering, ...]
    breaks: tuple[Break, ...] = ()
    stated: tuple[int, int, int] | None = None
    format: str = ""
    signing: str = ""
    flyleaves: tuple[int, int] = (0, 0)
    warnings: tuple[str, ...] = field(default=(), compare=False)
    remarks: tuple[str, ...] = field(default=(), compare=False)

    @property
    def leaves(self) -> int:
        """How many leaves stand."""
        return sum(gathering.leaves for gathering in self.gatherings)

    def collation(self, outside: Surface = Surface.HAIR, habit: Habit = "alternate") -> Collation:
        """The book it describes, each gathering begun with ``outside`` outward.

        Raises:
            CopydeskError: where sheets could not be folded so.
        """
        return build(self.gatherings, outside, habit)


def build(parts: Iterable[FormulaGathering], outside: Surface, habit: Habit) -> Collation:
    """The book a formula describes; its gatherings are numbered as they come.

    Raises:
        CopydeskError: where sheets could not be folded so.
    """
    return Collation(tuple(_gathering(part, number, outside, habit) for number, part in enumerate(parts, 1)))


def _gathering(part: FormulaGathering, number: int, outside: Surface, habit: Habit) -> Gathering:
    name = _kept_name(part.name, number)
    if part.pairs is None and not part.single:
        base = regular_gathering(number, part.planned, outside, habit, name)
    else:
        pairs = part.pairs if part.pairs is not None else regular_pairs(part.planned, part.single)
        base = nest(number, part.planned, pairs, outside, habit, name)
    return base if part.plain else _as_remarked(part, base)


def _as_remarked(part: FormulaGathering, base: Gathering) -> Gathering:
    book = Collation((base,))
    for places, change in ((part.wanting, want), (part.cancelled, cancel), (part.replaced, replace)):
        for place in places:
            book = change(book, LeafId(f"{base.number}.{place}"))
    for addition in part.added:
        book = _with_added(book, base.number, addition)
    return book.gatherings[0]


def _with_added(book: Collation, number: int, addition: Added) -> Collation:
    after = LeafId(f"{number}.{addition.after}")
    for _ in range(addition.times):
        gathering = book.gathering(number)
        if addition.back is None:
            book = add_after(book, after, tipped=addition.inserted)
            after = next(half.id for half in book.gathering(number).leaves if half.id not in gathering.ids)
        else:
            around = sheet_around(gathering, addition.after, addition.back)
            if around is None:
                where = f"after leaves {addition.after} and {addition.back}"
                raise DoesNotFitError(f"no sheet fits in {where}; it lies inside another sheet or round all")
            book = add_sheet(book, number, around)
    return book


def _kept_name(name: Name, number: int) -> str:
    """The name a gathering keeps: a letter or a sign, or a number other than its own; numerals only count."""
    if name.series.lower() == "letters" or not name.number:
        return name.text
    return "" if name.number == number else str(name.number)


def describe(collation: Collation) -> tuple[FormulaGathering, ...]:
    """What a formula says of a book as it stands today."""
    names = named(gathering.name or str(gathering.number) for gathering in collation.gatherings)
    return tuple(map(_described, names, collation.gatherings))


def _described(name: Name, gathering: Gathering) -> FormulaGathering:
    halves = gathering.halves
    planned = sum(is_planned(half.id) for half in halves)
    if len(halves) == planned and all(half.stands and half.folded for half in halves):
        return FormulaGathering(name, planned)
    states = {place: _state(gathering, LeafId(f"{gathering.number}.{place}")) for place in range(1, planned + 1)}
    places = {state: tuple(at for at, found in states.items() if found == state) for state in set(states.values())}
    pairs, single = _pairs(gathering, planned)
    return FormulaGathering(
        name,
        planned,
        wanting=places.get("wanting", ()),
        cancelled=places.get("cancelled", ()),
        replaced=places.get("replaced", ()),
        single=single,
        added=_added(gathering),
        pairs=pairs,
    )


def _state(gathering: Gathering, leaf_id: LeafId) -> str:
    """What is at a planned place today: ``leaf``, ``replaced``, ``cancelled`` or ``wanting``."""
    held = [half for half in gathering.halves if replaced(half.id) == leaf_id]
    if present := next((half for half in held if half.stands), None):
        return "leaf" if present.folded else "replaced"
    return "cancelled" if any(half.state is HalfState.CANCELLED for half in held) else "wanting"


def _pairs(gathering: Gathering, planned: int) -> tuple[Pairs | None, tuple[int, ...]]:
    """The sheets as planned, None where they follow from the single leaves; and the single leaves."""
    pairs: list[tuple[int, int]] = []
    single: list[int] = []
    for half in gathering.halves:
        mate = gathering.mate(half)
        if mate is None or half.state in _NO_LEAF or not is_planned(replaced(half.id)):
            continue
        if mate.state is HalfState.STUB:
            single.append(_place(half))
        else:
            pairs.append((_place(half), _place(mate)))
    found = tuple(pair for pair in pairs if pair[0] < pair[1])
    regular = found == regular_pairs(planned, tuple(single))
    return (None, tuple(single)) if regular else (found, ())


_NO_LEAF = (HalfState.STUB, HalfState.TAKEN_OUT)


def _added(gathering: Gathering) -> tuple[Added, ...]:
    """The leaves and sheets added since it was planned of which something stands, in reading order."""
    found: list[Added] = []
    for half in gathering.halves:
        if not half.stands or is_planned(replaced(half.id)):
            continue
        mate = gathering.mate(half)
        if mate is None or not mate.stands:
            found.append(Added(_place(half), inserted=not half.folded))
        elif gathering.halves.index(half) < gathering.halves.index(mate):
            found.append(Added(_place(half), back=_place(mate)))
    return in_order(found)


def _place(half: Half) -> int:
    return int(place_of(half.id).partition(".")[2])
