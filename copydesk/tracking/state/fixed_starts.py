"""What is settled on each page that holds its beginning, for the line budget."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.casting.line_breaking import line_end
from copydesk.book.casting.line_budget import Pin

if TYPE_CHECKING:
    from copydesk.book.text.copy_text import CopyText
    from copydesk.tracking.ledger.page_record import PageRecord
    from copydesk.tracking.state.book_state import BookState


def pins_now(state: BookState) -> dict[int, Pin]:
    """The pages that are begun or held, by index, each with what is settled on it."""
    pairs = ((index, pin_of(state, record)) for index, record in state.recorded())
    return {index: pin for index, pin in pairs if pin is not None}


def pin_of(state: BookState, record: PageRecord) -> Pin | None:
    """What is settled on one page; None where it begins wherever the text brings it."""
    begins = record.begins if record.begins is not None else record.held
    if begins is None:
        return None
    start = state.copy.piece(begins)
    if record.ends is None or not record.stints:
        return Pin(start, ruled=record.placements is not None)
    piece, lines = resume(state.copy, record, state.letters_of(record.pen))
    return Pin(start, piece, lines, record.whole, record.pen)


class Resume(NamedTuple):
    """The piece from which the rest of a page is cast, and the text lines of the page passed over before it."""

    piece: int
    lines: int


def resume(copy: CopyText, record: PageRecord, letters: float) -> Resume:
    """Where the casting of a page begun goes on for a hand of so many ``letters`` to a line.

    A line that was stopped within is cast from its beginning, so that what is left of it is filled; where this hand
    has room for nothing more in it, the text goes on in the next.
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
    """Whether a line that begins at ``begins`` has room for a piece after ``ends``, or the next begins a new line."""
    return line_end(copy, begins, letters * copy.mean * copy.grain, min(ends + 1, copy.pieces)) > ends
