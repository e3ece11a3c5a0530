"""The rows of an open gathering, and the single line of a closed one. No Textual here.

An open gathering shows its leaves as cards, recto above, number, verso below, with the fold between its halves. A bar
down both leaves of the cursor's sheet runs into a brace that names the sheet.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.structure.page import Page, Side
from copydesk.desk.widgets.page_cell import act_letter, cell_rows
from copydesk.desk.widgets.toned_lines import Piece, on, plain
from copydesk.desk.wording.cell_words import ACT_TONES, short_hands
from copydesk.desk.wording.gathering_words import irregularities, leaves_between, sheets_words, totals_words
from copydesk.tracking.views.gathering_progress import totals

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from copydesk.book.structure.collation import PagePlace
    from copydesk.book.structure.gathering import Gathering
    from copydesk.desk.widgets.gathering_layout import GatheringLayout, Slot
    from copydesk.desk.wording.cell_words import CellWords
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.gathering_progress import PageGlance


_SIGN_BELOW = {"stub": "┆", "cut": "╳"}
_ROOM_FOR_HANDS = 110


class Marks(NamedTuple):
    """What is marked: the place of the page under the cursor (None where it is in no gathering), the page ahead."""

    place: PagePlace | None
    ahead: int | None

    @property
    def cursor(self) -> int:
        """The index of the page under the cursor; -1 where there is none."""
        return self.place.page.index if self.place is not None else -1

    def within(self, gathering: Gathering) -> PagePlace | None:
        """The cursor's place, where that is in this gathering."""
        place = self.place
        return place if place is not None and place.gathering == gathering.number else None


class OpenGathering(NamedTuple):
    """A gathering to be drawn open; ``cells`` gives the words of a page, ``known`` are all hands of the book."""

    state: BookState
    gathering: Gathering
    layout: GatheringLayout
    cells: Callable[[int], CellWords]
    known: Sequence[str]

    def rows(self, marks: Marks, heading: list[Piece], width: int) -> list[list[Piece]]:
        """Its rows: heading, rectos, numbers, versos, and the brace or what is unlike a plain gathering."""
        return [
            heading,
            *self._side(Side.RECTO, marks),
            list(self._numbers(marks)),
            *self._side(Side.VERSO, marks),
            self._foot(marks, width),
        ]

    def _side(self, side: Side, marks: Marks) -> list[list[Piece]]:
        drawn = [self._cell(slot, side, marks) for slot in self.layout.slots]
        rows = []
        for row in range(self.layout.side_rows):
            first = (f"{side.value} " if row == 0 else "  ", "quiet")
            rows.append([first, *self._across([cell[row] for cell in drawn], side, marks)])
        return rows

    def _across(self, parts: Sequence[list[Piece]], side: Side | None, marks: Marks) -> Iterator[Piece]:
        """One row of all slots, with the marks of the cursor and its sheet, and the fold."""
        right, folded = " ", False
        for slot, pieces in zip(self.layout.slots, parts, strict=True):
            if not folded and slot.left > self.layout.fold:
                yield from self._fold(right)
                right, folded = " ", True
            if slot.width > 1:
                mark = self._mark(slot, side, marks)
                yield (mark if mark != " " else right, "here")
            yield from pieces
            at_cursor = side is not None and _index(slot, side) == marks.cursor
            right = "▌" if at_cursor else " "
        if not folded:
            yield from self._fold(right)
        else:
            yield (right, "here")

    def _fold(self, right: str) -> Iterator[Piece]:
        yield (right, "here")
        yield ("║", "soft")

    def _mark(self, slot: Slot, side: Side | None, marks: Marks) -> str:
        place = marks.within(self.gathering)
        if place is None or place.sheet != slot.sheet:
            return " "
        index = _index(slot, side) if side is not None else None
        if index is not None and index == marks.cursor:
            return "▐"
        beside = place.conjugate
        return "┃" if beside is not None and index == beside.index else "│"

    def _cell(self, slot: Slot, side: Side, marks: Marks) -> list[list[Piece]]:
        surface = slot.recto if side is Side.RECTO else slot.recto.other
        width = max(slot.width - 1, 1)
        if slot.leaf is None:
            return self._gone(slot, side, surface.value, width)
        index = Page(slot.leaf, side).index
        place = marks.within(self.gathering)
        ground = surface.value
        if index == marks.cursor:
            ground = "cursor"
        elif place is not None and place.conjugate is not None and place.conjugate.index == index:
            ground = "beside"
        rows = cell_rows(self.cells(index), slot.form, width, self.known, ahead=index == marks.ahead)
        rows += [[(" " * width, "")]] * (self.layout.side_rows - len(rows))
        return [list(on(ground, row)) for row in rows[: self.layout.side_rows]]

    def _gone(self, slot: Slot, side: Side, surface: str, width: int) -> list[list[Piece]]:
        """Half a sheet without a leaf: a strip of skin where something of it is left, with the word for it."""
        rows = self.layout.side_rows
        below = _SIGN_BELOW.get(slot.gone, " ") * rows
        signs = slot.gone.ljust(rows) if side is Side.RECTO else below
        tone = f"soft@{surface}" if slot.gone in _SIGN_BELOW else "quiet"
        return [[(signs[row], tone), (" " * (width - 1), "")] for row in range(rows)]

    def _numbers(self, marks: Marks) -> Iterator[Piece]:
        yield ("  ", "")
        labels: list[list[Piece]] = [[(_label(slot), "ink")] for slot in self.layout.slots]
        yield from self._across(labels, None, marks)

    def _foot(self, marks: Marks, width: int) -> list[Piece]:
        note = irregularities(self.state, self.gathering)
        place = marks.within(self.gathering)
        if place is None:
            cut = note if len(note) <= width - 4 else f"{note[: width - 5]}…"
            return [(f"   {cut}", "soft")] if note else []
        ends = [slot.left for slot in self.layout.slots if slot.sheet == place.sheet and slot.width > 1]
        if not ends:
            return []
        label = f"sheet {place.sheet}, {place.side} side, {place.surface}"
        said = brace(min(ends), max(ends), label, width)
        spare = width - len(said) - 4
        return [(said, "here"), *([(f"    {note}", "soft")] if note and len(note) <= spare else [])]


def _label(slot: Slot) -> str:
    room = slot.width - 1 if slot.width > 1 else 1
    return slot.label.ljust(room)[:room]


def _index(slot: Slot, side: Side) -> int | None:
    return Page(slot.leaf, side).index if slot.leaf is not None else None


def brace(first: int, last: int, label: str, width: int) -> str:
    """What joins the marks at two columns, with ``label`` in it, else after it, else before it."""
    if first == last:
        arm = f"└─ {label}"
        return " " * first + arm if first + len(arm) <= width else f"{label} ─┘".rjust(last + 1)
    if last - first >= len(label) + 5:
        return " " * first + f"└─ {label} {'─' * (last - first - len(label) - 4)}┘"
    joint = " " * first + f"└{'─' * (last - first - 1)}┘"
    if last + 2 + len(label) <= width:
        return f"{joint} {label}"
    if first > len(label):
        return f"{label} ".rjust(first) + joint.lstrip()
    return f"{joint} {label}"[:width]


def heading(state: BookState, gathering: Gathering, glances: Sequence[PageGlance], width: int) -> list[Piece]:
    """What stands above an open gathering, its totals at the right end."""
    found = totals(glances)
    leaves = leaves_between(state, gathering.number)
    right: list[Piece] = list(totals_words(found))
    if width >= _ROOM_FOR_HANDS:
        hands = short_hands(found.hands, found.hands, 16)
        right.append((f"{hands:<17}", "soft"))
    name: Piece = (f" Gathering {gathering.number}", "head")
    forms: tuple[list[Piece], ...] = (
        [name, (f"  {leaves}  {sheets_words(gathering)}", "soft")],
        [name, (f"  {leaves}", "soft")],
        [name],
    )
    room = width - len(plain(right))
    left = next((form for form in forms if len(plain(form)) < room), [name])
    return [*left, (" " * max(room - len(plain(left)), 1), ""), *right]


class ClosedLine(NamedTuple):
    """A closed gathering: its line, and the column of each of its pages' letters."""

    pieces: list[Piece]
    columns: dict[int, int]


def closed_line(
    state: BookState, gathering: Gathering, glances: Sequence[PageGlance], width: int, cursor: int
) -> ClosedLine:
    """A gathering in one line: a letter a page for its next act, a capital where a space waits; then its totals."""
    numbers = state.collation.leaf_numbers(gathering.number)
    leaves = leaves_between(state, gathering.number)
    start, gap = f" {gathering.number:>3}  {leaves:<7} ", " "
    right: list[Piece] = list(totals_words(totals(glances)))
    taken = len(start) + 3 * len(numbers) + 3
    if taken + len(plain(right)) > width:
        right = list(totals_words(totals(glances), short=True))
    if taken + len(plain(right)) > width:
        gap = ""
    pieces: list[Piece] = [(start, "soft")]
    columns: dict[int, int] = {}
    before = sum(half.stands for half in gathering.halves[: gathering.fold])
    at = len(start)
    for leaf, number in enumerate(numbers):
        if leaf == before:
            pieces.append((f"║{gap}", "soft"))
            at += 1 + len(gap)
        for side in (0, 1):
            index = number * 2 - 2 + side
            columns[at] = index
            pieces.append(_letter(glances[2 * leaf + side], at_cursor=index == cursor))
            at += 1
        pieces.append((gap, ""))
        at += len(gap)
    room = width - at - len(plain(right))
    return ClosedLine([*pieces, (" " * max(room, 1), ""), *right], columns)


def _letter(glance: PageGlance, *, at_cursor: bool) -> Piece:
    letter = act_letter(glance.act, waits=glance.spaces > 0)
    tone = ACT_TONES.get(glance.act, "quiet")
    return (letter, f"{tone}@cursor" if at_cursor else tone)
