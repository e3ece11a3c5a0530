"""How many pages a text takes from some page on, and what is left of the last of them."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import DoesNotFitError

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Set

    from copydesk.book.casting.line_budget import Budgeter
    from copydesk.book.layout.page_frame import Cursor, Frame


MOST_PAGES = 400_000
"""No book has more; a text that does not end by then is laid out on a page that hardly takes any."""


class Filled(NamedTuple):
    """Pages the text takes from where it was begun, text lines on the last of them, and room for lines there."""

    pages: int = 0
    lines: int = 0
    room: int = 0

    @property
    def left(self) -> int:
        """Lines left blank on the last page."""
        return max(self.room - self.lines, 0)


def fill(
    budgeter: Budgeter,
    start: Cursor,
    first: int,
    frames: Mapping[int, Frame],
    usual: Frame,
    hand_of: Callable[[int], str],
    fixed: Set[str] = frozenset(),
    agreed: Mapping[int, float] | None = None,
) -> Filled:
    """Cast the text from ``start`` through pages of their own number, until it ends.

    Args:
        budgeter: the text, its measures and its spaces.
        start: where the text goes on.
        first: the index of the page it goes on on.
        frames: pages whose lines are not as usual, by index.
        usual: the lines of all others.
        hand_of: who writes the page at an index.
        fixed: spaces that have their place on some skin already.
        agreed: letters to a line agreed on for some pages, by index.

    Raises:
        DoesNotFitError: where the text does not come to an end.
    """
    cursor, index, total = start, first, budgeter.copy.pieces
    lines = room = 0
    while cursor.piece < total or cursor.waiting:
        if index - first >= MOST_PAGES:
            raise DoesNotFitError(
                f"the text takes more than {MOST_PAGES} pages laid out so; choose a larger page or more lines"
            )
        frame = frames.get(index, usual)
        caster = budgeter.caster(hand_of(index), agreed.get(index) if agreed else None)
        cast = caster.page(cursor, frame, recto=index % 2 == 0, limit=total, fixed=fixed)
        cursor, lines, room = cast.end, cast.lines, cast.room
        index += 1
    return Filled(index - first, lines, room)
