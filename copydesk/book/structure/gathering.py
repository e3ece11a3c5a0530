"""One gathering: sheets folded together, seen as halves of skin in the order they are read.

A gathering of n sheets has 2n leaves: leaf i is one sheet with leaf 2n+1-i (N. R. Ker, Catalogue of
Manuscripts containing Anglo-Saxon, 1957, p. xxii). Sheet k, counted from the outermost, lies open with
(2n+1-k)v and k r on its outer side, k v and (2n+1-k)r on its inner side.

What a real gathering suffers is carried in the same row of halves: the stub that holds a single leaf, a leaf
cut away whose stub stays, a leaf that is gone, a leaf tipped in. Every folded half keeps its place, so the
half at place j from the front is always joined to the one at place j from the back.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Literal, NamedTuple

from copydesk.book.structure.page import LeafId, Surface

Habit = Literal["alternate", "same"]
"""``alternate``: like faces like at every opening; ``same``: every sheet lies with the same surface out."""

KINDS = {
    1: "bifolium",
    2: "binion",
    3: "ternion",
    4: "quaternion",
    5: "quinion",
    6: "senion",
    7: "septenion",
    8: "octonion",
}
"""What a gathering of so many sheets is called (Zs. Urbach, Bulletin du Musée Hongrois 100, 2004, p. 93)."""


class HalfState(StrEnum):
    """What there is at one half of a sheet."""

    LEAF = "leaf"
    STUB = "stub"  # the short half that holds a single leaf round the fold
    CANCELLED = "cancelled"  # cut away; its stub stays
    WANTING = "wanting"  # gone
    TAKEN_OUT = "taken out"  # the whole sheet was changed for another before sewing; nothing of it is left


class Held(StrEnum):
    """How a half is held in its gathering."""

    FOLDED = "folded"  # through the fold, with its conjugate or a stub
    TIPPED = "tipped in"  # pasted along its inner edge to what stands before it


class SheetSide(StrEnum):
    """The two sides of a sheet that lies open."""

    OUTER = "outer"
    INNER = "inner"


class Lies(StrEnum):
    """Which half of an open sheet a page fills, as the scribe sees that side."""

    LEFT = "left"
    RIGHT = "right"


class Half(NamedTuple):
    """One half of a sheet: a leaf, or what is left of one.

    ``sheet`` is the number of its sheet in the gathering: as planned counted from the outermost, those that
    came later numbered on, so that a sheet keeps its number. ``recto`` is the surface its recto shows.
    ``conjugate`` is the half it is one piece with, be that a leaf, a stub or the place of a leaf now gone.
    """

    id: LeafId
    sheet: int
    recto: Surface
    conjugate: LeafId | None
    state: HalfState = HalfState.LEAF
    held: Held = Held.FOLDED

    @property
    def stands(self) -> bool:
        """Whether there is a leaf here to write on."""
        return self.state is HalfState.LEAF

    @property
    def folded(self) -> bool:
        """Whether it goes through the fold."""
        return self.held is Held.FOLDED


class Gathering(NamedTuple):
    """A gathering: its number in the book (from 1), its halves in reading order, and its name where it has one."""

    number: int
    halves: tuple[Half, ...]
    name: str = ""

    @property
    def leaves(self) -> tuple[Half, ...]:
        """The leaves that stand, in reading order."""
        return tuple(half for half in self.halves if half.state is HalfState.LEAF)

    @property
    def fold(self) -> int:
        """How many halves come before the fold (a leaf tipped in at the middle is held by what stands before it)."""
        folded = [index for index, half in enumerate(self.halves) if half.held is Held.FOLDED]
        return folded[len(folded) // 2] if folded else len(self.halves)

    def find(self, leaf_id: LeafId) -> int | None:
        """The index of the half called ``leaf_id``, or None."""
        return next((index for index, half in enumerate(self.halves) if half.id == leaf_id), None)

    def mate(self, half: Half) -> Half | None:
        """The half that ``half`` is one piece of skin with, whatever stands there; None for a leaf tipped in."""
        return next((other for other in self.halves if other.id == half.conjugate), None)

    def sheet(self, number: int) -> tuple[Half, ...]:
        """The halves of sheet ``number``, in reading order; empty where there is no such sheet."""
        return tuple(half for half in self.halves if half.sheet == number)

    def sheet_numbers(self) -> tuple[int, ...]:
        """The numbers of the sheets of which a leaf stands, rising."""
        return tuple(sorted({half.sheet for half in self.halves if half.stands}))

    @property
    def next_sheet(self) -> int:
        """The number the next sheet or single leaf put in gets."""
        return max((half.sheet for half in self.halves), default=0) + 1

    @property
    def ids(self) -> set[str]:
        """The ids of all halves, those of leaves now gone too."""
        return {half.id for half in self.halves}

    def depths(self) -> tuple[float, ...]:
        """How deep each half lies: 0 outermost; a leaf tipped in lies half a step inside or outside its neighbour."""
        folds = sum(half.folded for half in self.halves)
        depths: list[float] = []
        before = 0
        for half in self.halves:
            if half.folded:
                depths.append(min(before, folds - 1 - before))
                before += 1
            else:
                depths.append(min(before, folds - before) - 0.5)
        return tuple(depths)


def outward(sheet: int, outside: Surface, habit: Habit) -> Surface:
    """The surface sheet ``sheet`` (1 outermost) turns outward in a gathering begun with ``outside``.

    Source: C. R. Gregory, "Les cahiers des manuscrits grecs", CRAI 1885, p. 261, for like facing like.
    """
    return outside if habit == "same" or sheet % 2 else outside.other


def regular_gathering(
    number: int, leaves: int, outside: Surface = Surface.HAIR, habit: Habit = "alternate", name: str = ""
) -> Gathering:
    """A gathering of ``leaves`` leaves as first planned; with an odd number the middle leaf is single, on a stub."""
    sheets = leaves // 2
    front: list[Half] = []
    back: list[Half] = []
    for sheet in range(1, sheets + 1):
        surface = outward(sheet, outside, habit)
        first, last = LeafId(f"{number}.{sheet}"), LeafId(f"{number}.{leaves + 1 - sheet}")
        front.append(Half(first, sheet, surface, last))
        back.append(Half(last, sheet, surface.other, first))
    if leaves % 2:
        front += single(LeafId(f"{number}.{sheets + 1}"), sheets + 1, outward(sheets + 1, outside, habit))
    return Gathering(number, (*front, *reversed(back)), name)


def single(leaf_id: LeafId, sheet: int, recto: Surface) -> tuple[Half, Half]:
    """A single leaf and the stub that holds it round the fold."""
    stub = LeafId(f"{leaf_id}s")
    return Half(leaf_id, sheet, recto, stub), Half(stub, sheet, recto.other, leaf_id, HalfState.STUB)
