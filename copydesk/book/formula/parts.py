"""What a collation formula says, gathering by gathering."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable


Pairs = tuple[tuple[int, int], ...]
"""Which leaves of a gathering are one sheet, by their places in it, the front one first."""


class Misread(Exception):  # noqa: N818 - people see a place and a sentence, never this name
    """Something in a formula cannot be read: the index where it stands, and what is wrong and what to do."""

    def __init__(self, at: int, what: str) -> None:
        super().__init__(what)
        self.at = at
        self.what = what


class Name(NamedTuple):
    """What a gathering is called, in which series of names, and which of them it is (0 where it stands alone).

    Series: ``number``, ``roman`` and ``letters`` (``ROMAN`` and ``LETTERS`` for capitals), ``sign``.
    """

    text: str
    series: str
    number: int


MIRRORED = -1
"""Stands for the second place of a sheet of which only the first is said: as far from the end of the gathering."""


class Added(NamedTuple):
    """Leaves added after a place of the gathering as planned (0: before the first).

    ``inserted`` is a leaf put in later, without a stub round the fold. ``back`` makes it whole sheets: the place
    after which their second leaves come.
    """

    after: int
    times: int = 1
    inserted: bool = False
    back: int | None = None

    @property
    def leaves(self) -> int:
        """How many leaves they come to."""
        return self.times if self.back is None else 2 * self.times


@dataclass(frozen=True, slots=True)
class FormulaGathering:
    """One gathering: how many leaves it was planned with, and what is otherwise, by planned places from 1.

    ``pairs`` is None where the sheets follow from the number of leaves; ``notes`` are words kept as they are.
    """

    name: Name
    planned: int
    wanting: tuple[int, ...] = ()
    cancelled: tuple[int, ...] = ()
    replaced: tuple[int, ...] = ()
    single: tuple[int, ...] = ()
    added: tuple[Added, ...] = ()
    pairs: Pairs | None = None
    notes: tuple[str, ...] = ()
    doubtful: bool = False

    @property
    def leaves(self) -> int:
        """How many leaves stand."""
        added = sum(addition.leaves for addition in self.added)
        return self.planned - len(self.wanting) - len(self.cancelled) + added

    @property
    def plain(self) -> bool:
        """Whether there is nothing to remark on."""
        remarks = (self.wanting, self.cancelled, self.replaced, self.single, self.added, self.notes)
        return not any(remarks) and self.pairs is None


def in_order(additions: Iterable[Added]) -> tuple[Added, ...]:
    """Additions by their places, those alike made one."""
    counts: Counter[Added] = Counter()
    for addition in additions:
        counts[addition._replace(times=1)] += addition.times
    ordered = sorted(counts, key=lambda one: (one.after, one.inserted, -1 if one.back is None else one.back))
    return tuple(one._replace(times=counts[one]) for one in ordered)


class Break(NamedTuple):
    """Something said between gatherings: after how many, the leaves stated there, whether a booklet ends."""

    after: int
    running: int | None
    boundary: bool


def regular_pairs(leaves: int, single: tuple[int, ...] = ()) -> Pairs:
    """The sheets of a gathering some leaves of which are single.

    In an even gathering the leaf that would be one sheet with a single one is single too (N. R. Ker, Catalogue
    of Manuscripts containing Anglo-Saxon, 1957, p. xxii, b); in an odd one the middle of the rest.
    """
    parted = {*single, *((leaves + 1 - place for place in single) if leaves % 2 == 0 else ())}
    rest = [place for place in range(1, leaves + 1) if place not in parted]
    return tuple(zip(rest[: len(rest) // 2], reversed(rest), strict=False))
