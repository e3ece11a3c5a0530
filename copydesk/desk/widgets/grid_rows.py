"""Which gatherings lie open on a screen, and what each of its rows shows. No Textual here.

Those round the cursor lie open, as many as fit; the others take a line each, one above at the least and one below. The
open block stays as it is while the cursor is inside it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.desk.widgets.gathering_layout import GatheringLayout


CLOSED = -1
"""The row of a gathering that is shown in a line."""


class ShownRow(NamedTuple):
    """A row of the screen: the gathering (from 0), and which of its rows, or ``CLOSED``."""

    gathering: int
    row: int


class Hidden(NamedTuple):
    """A row that says how many gatherings have no room, above those shown and below them."""

    above: int
    below: int

    def __str__(self) -> str:
        counts = ((self.above, "above"), (self.below, "below"))
        return ", ".join(f"{count} more {where}" for count, where in counts if count)


Rows = list[ShownRow | Hidden | None]
"""The rows of a screen from above; None where one is blank."""


class GridRoom(NamedTuple):
    """So many gatherings on so many rows; ``layout_of`` tells how each is laid out where it lies open."""

    gatherings: int
    height: int
    layout_of: Callable[[int], GatheringLayout]

    def first_line(self, first: int, here: int | None) -> int:
        """The first gathering of a screen of lines that begins at ``first``, moved so far that ``here`` is on it."""
        if here is not None:
            first = max(min(first, here), here - self._lines + 1)
        return max(min(first, self.gatherings - self._lines), 0)

    @property
    def _lines(self) -> int:
        """Gatherings that fit as lines; where that is not all, a row is kept to say how many do not."""
        return self.height if self.gatherings <= self.height else max(self.height - 1, 1)

    def closed(self, first: int) -> Rows:
        """A line for every gathering from ``first`` on."""
        after = min(first + self._lines, self.gatherings)
        rows: Rows = [ShownRow(number, CLOSED) for number in range(first, after)]
        return [*rows, *self._hidden(first, after)][: self.height]

    def _hidden(self, first: int, after: int) -> Rows:
        """The row that says how many gatherings are not shown: those before ``first``, and those from ``after`` on."""
        return [Hidden(first, self.gatherings - after)] if first or after < self.gatherings else []

    def first_open(self, first: int, here: int) -> int:
        """The first of the open gatherings: as it was while ``here`` is among them, else so that it just comes in."""
        first = min(first, self.gatherings - 1)
        if first <= here <= self.last_open(first):
            return first
        if here < first:
            return here
        first = here
        while first > 0 and self.last_open(first - 1) >= here:
            first -= 1
        return first

    def last_open(self, first: int) -> int:
        """The last gathering that lies open together with those from ``first`` on; one always does."""
        used, last = (1 if first else 0), first
        for number in range(first, self.gatherings):
            used += self.layout_of(number).height + (1 if used else 0)
            if number > first and used + (number + 1 < self.gatherings) > self.height:
                break
            last = number
        return last

    def half_open(self, first: int, *, verso: bool) -> Rows:
        """Open gatherings from ``first`` on, the others in lines; ``verso`` tells which pages must be in view.

        A blank row parts open gatherings, and what stands above the first where there is room for one.
        """
        last = self.last_open(first)
        block: Rows = []
        for number in range(first, last + 1):
            block += [None] if block else []
            block += [ShownRow(number, row) for row in range(self.layout_of(number).height)]
        spare = self.height - len(block)
        if spare < 0:
            return self._cropped(block, first, verso=verso)
        above = min(first, 1, spare)
        below = min(self.gatherings - 1 - last, spare - above)
        above = min(first, max(spare - below - 1, above))
        hidden: Rows = []
        if self._hidden(first - above, last + 1 + below) and spare > above + (1 if self.gatherings - 1 > last else 0):
            below = min(below, spare - above - 1)
            hidden = self._hidden(first - above, last + 1 + below)
        spare -= above + below + len(hidden)
        blank: Rows = [None] if above and spare else []
        gap: Rows = [None] if below and spare > len(blank) else []
        over: Rows = [ShownRow(number, CLOSED) for number in range(first - above, first)]
        under: Rows = [ShownRow(number, CLOSED) for number in range(last + 1, last + 1 + below)]
        return [*over, *blank, *block, *gap, *under, *hidden]

    def _cropped(self, block: Rows, number: int, *, verso: bool) -> Rows:
        """The part of an open gathering with the cursor's page, where the screen is too low for all of it."""
        layout = self.layout_of(number)
        top = layout.height - self.height if verso else 0
        if verso and self.height < layout.side_rows + 2:
            top = layout.side_rows + 1
        return block[top : top + self.height]
