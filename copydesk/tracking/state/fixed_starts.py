"""What is fixed on each page whose beginning is fixed, for the line budget."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.casting.even_ends import chooses
from copydesk.book.casting.line_breaking import Lines, line_end
from copydesk.book.casting.line_budget import Pin

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.book.text.copy_text import CopyText
    from copydesk.tracking.ledger.page_record import PageRecord
    from copydesk.tracking.state.leaf_state import LeafState


def pins_now(state: LeafState, letters_of: Callable[[str], float]) -> dict[int, Pin]:
    """The pages that are begun or held, by index, each with what is fixed on it.

    Held as well is every page that is to hold what a page of the exemplar holds.

    Args:
        state: the leaves and their records.
        letters_of: the letters to a full line of a hand.
    """
    pairs = ((index, pin_of(state.copy, record, letters_of)) for index, record in state.recorded())
    planned = {index: Pin(state.copy.piece(word)) for index, word in state.page_starts.items()}
    return planned | {index: pin for index, pin in pairs if pin is not None}


def pin_of(copy: CopyText, record: PageRecord, letters_of: Callable[[str], float]) -> Pin | None:
    """What is fixed on one page; None where it begins wherever the text before it ends.

    Args:
        copy: the text laid out.
        record: what was recorded on the page.
        letters_of: the letters to a full line of a hand.
    """
    if record.start_word is None:
        return None
    start = copy.piece(record.start_word)
    if record.ends is None or not record.stints:
        return Pin(start)
    piece, lines = resume(copy, record, letters_of(record.pen))
    return Pin(start, max(piece, start), lines, record.whole, record.pen)


class Resume(NamedTuple):
    """The piece from which the rest of a page is cast, and the text lines of the page passed over before it."""

    piece: int
    lines: int


def resume(copy: CopyText, record: PageRecord, letters: float) -> Resume:
    """Where the casting of a page begun goes on for a hand of so many ``letters`` to a line.

    A line that was stopped within is cast from its beginning, so that what is left of it is filled; where this hand
    has room for nothing more in it, the text goes on in the next.

    Args:
        copy: the text laid out.
        record: a page with at least one stint.
        letters: letters to a full line of the hand that goes on.
    """
    ends = copy.piece(record.ends or 0)
    stint = record.within
    if stint is None or stint.line_from is None:
        return Resume(ends, record.written)
    begins = copy.piece(stint.line_from)
    if begins < ends < copy.pieces and _room_for_more(copy, begins, ends, letters):
        return Resume(begins, record.written)
    return Resume(ends, record.written + 1)


def _room_for_more(copy: CopyText, begins: int, ends: int, letters: float) -> bool:
    """Whether a line that begins at ``begins`` has room for a piece after ``ends``, or the next begins a new line.

    Where lines are chosen together, one that has come to its end or past it is full.
    """
    lines = Lines.as_needed(copy, letters * copy.mean * copy.grain)
    edge = lines.run_end(begins)
    if edge > ends and chooses(copy):
        return lines.line_end(begins, edge) > ends
    return line_end(copy, begins, lines.measure, min(ends + 1, copy.pieces)) > ends
