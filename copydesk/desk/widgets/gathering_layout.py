"""Where each leaf of an open gathering stands on the screen, and how roomy its cells are. No Textual here."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.structure.gathering import HalfState
from copydesk.desk.widgets.page_cell import CellForm
from copydesk.desk.wording.gathering_words import GONE_WORDS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.structure.gathering import Gathering, Half
    from copydesk.book.structure.page import Surface
    from copydesk.desk.widgets.page_cell import CellNeeds
    from copydesk.tracking.state.book_state import BookState


MARGIN = 2
"""Cells at the left for the letter of the side; each slot begins with one more for the marks of cursor and sheet."""

FOLD = 2
"""Cells the fold takes: a mark of the leaf before it may stand in the first, the fold stands in the second."""

_EDGES = MARGIN + FOLD + 1
_STRIP = 2


class Slot(NamedTuple):
    """One half of a sheet: where it begins (its mark; the cell stands one further), and the cells it takes in all.

    ``leaf`` is None where no leaf stands; ``gone`` is then the word for that. ``label`` stands in the row of numbers.
    """

    leaf: int | None
    label: str
    left: int
    width: int
    sheet: int
    form: CellForm
    recto: Surface
    gone: str = ""


class GatheringLayout(NamedTuple):
    """An open gathering: its slots, the column of its fold, its form (of its cells), the cells it takes."""

    slots: tuple[Slot, ...]
    fold: int
    form: CellForm
    width: int

    @property
    def side_rows(self) -> int:
        """Rows of one side of its leaves."""
        return max(self.form, CellForm.NARROW).rows if self.form is not CellForm.STRIP else CellForm.NARROW.rows

    @property
    def height(self) -> int:
        """All its rows: heading, rectos, numbers, versos, and the row under them."""
        return 2 * self.side_rows + 3

    @property
    def whole(self) -> bool:
        """Whether every leaf stands in a full cell, so that it is drawn alike wherever the cursor is."""
        return all(slot.form is not CellForm.STRIP for slot in self.slots if slot.leaf is not None)


class _Cells(NamedTuple):
    """Which leaves (by their place among those that stand) have full cells, how wide these are, how wide a strip."""

    first: int
    last: int
    width: int
    strip: int

    def pitch(self, at: int) -> int:
        """The cells a leaf takes with its mark."""
        return self.width + 1 if self.first <= at < self.last else self.strip


def lay_out(
    state: BookState, gathering: Gathering, width: int, needs: CellNeeds, cursor: int | None
) -> GatheringLayout:
    """Lay a gathering out in ``width`` cells; ``cursor`` is the leaf under the cursor, None where that is elsewhere."""
    halves = [half for half in gathering.halves if half.stands or half.state in GONE_WORDS]
    leaves = [half for half in halves if half.stands]
    digits = max((len(_label(state, half)) for half in leaves), default=1)
    stub = 2 + min(digits, 4)
    room = width - _EDGES - stub * (len(halves) - len(leaves))
    fold = sum(half.stands for half in gathering.halves[: gathering.fold])
    at = next((at for at, half in enumerate(leaves) if state.collation.number_of(half.id) == cursor), 0)
    cells = _share(room, len(leaves), needs, at, fold)
    form = needs.form(cells.width)
    slots, fold_column, end = _slots(state, gathering, halves, cells, form, stub)
    return GatheringLayout(tuple(slots), fold_column, form, end)


def _share(room: int, leaves: int, needs: CellNeeds, at: int, fold: int) -> _Cells:
    """Share the room among the leaves: full cells for all, else for the cursor's half or as many as fit round it."""
    if not leaves:
        return _Cells(0, 0, needs.narrow, _STRIP)
    width = room // leaves - 1
    if width >= needs.narrow:
        return _Cells(0, leaves, min(width, needs.most(needs.form(width))), _STRIP)
    strip = _STRIP if leaves * _STRIP + needs.narrow + 1 - _STRIP <= room else 1
    count = (room - leaves * strip) // (needs.narrow + 1 - strip)
    first, last = (0, fold) if at < fold else (fold, leaves)
    count = min(max(count, 1), last - first)
    start = min(max(at - count // 2, first), last - count)
    width = (room - strip * (leaves - count)) // count - 1
    return _Cells(start, start + count, max(min(width, needs.most(needs.form(width))), 1), strip)


def _slots(
    state: BookState, gathering: Gathering, halves: Sequence[Half], cells: _Cells, form: CellForm, stub: int
) -> tuple[list[Slot], int, int]:
    before_fold = {half.id for half in gathering.halves[: gathering.fold]}
    slots: list[Slot] = []
    left, fold_column, at = MARGIN, -1, 0
    for half in halves:
        if fold_column < 0 and half.id not in before_fold:
            fold_column, left = left + 1, left + FOLD
        if half.stands:
            full = cells.first <= at < cells.last
            leaf = state.collation.number_of(half.id)
            width = cells.pitch(at)
            label = _number_label(state, gathering, half, width, form) if full else ""
            slots.append(Slot(leaf, label, left, width, half.sheet, form if full else CellForm.STRIP, half.recto))
            at += 1
        else:
            width, mate = stub, gathering.mate(half)
            label = f"={_label(state, mate)}" if mate is not None and mate.stands else ""
            gone = GONE_WORDS[half.state]
            slots.append(Slot(None, label[: stub - 1], left, width, half.sheet, form, half.recto, gone))
        left += width
    if fold_column < 0:
        fold_column, left = left + 1, left + FOLD
    return slots, fold_column, left + 1


def _label(state: BookState, half: Half) -> str:
    leaf = state.collation.number_of(half.id)
    return state.book.number_of_leaf(leaf) if leaf is not None else ""


def _number_label(state: BookState, gathering: Gathering, half: Half, pitch: int, form: CellForm) -> str:
    """A leaf's number, how it is held where that is unusual, its sheet where there is room, and a mark for a flaw."""
    leaf = state.collation.number_of(half.id) or 0
    number = state.book.number_of_leaf(leaf)
    if len(number) >= pitch:
        number = str(leaf)
    flawed = " ○" if state.flaws.get(leaf) else ""
    mate = gathering.mate(half)
    words: tuple[str, ...] = ()
    if not half.folded:
        words = (" tipped", " tip")
    elif mate is not None and mate.state is HalfState.STUB:
        words = (" single", " lone")
    elif form is CellForm.WIDE:
        words = (f"  sheet {half.sheet}",)
    fitting = (f"{number}{word}{flawed}" for word in (*words, ""))
    return next((label for label in fitting if len(label) < pitch), f"{number}{flawed.strip()}"[:pitch])
