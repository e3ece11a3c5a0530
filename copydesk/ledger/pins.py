"""What is settled on each page that holds its beginning, for the line budget."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.budget import Pin
from copydesk.ledger.half_line import resume

if TYPE_CHECKING:
    from copydesk.ledger.page_record import PageRecord
    from copydesk.ledger.standing import Standing


def pins_now(standing: Standing) -> dict[int, Pin]:
    """The pages that are begun or held, by index, each with what is settled on it."""
    pairs = ((index, pin_of(standing, record)) for index, record in standing.recorded())
    return {index: pin for index, pin in pairs if pin is not None}


def pin_of(standing: Standing, record: PageRecord) -> Pin | None:
    """What is settled on one page; None where it begins wherever the text brings it."""
    begins = record.begins if record.begins is not None else record.held
    if begins is None:
        return None
    start = standing.copy.piece(begins)
    if record.ends is None or not record.stints:
        return Pin(start, ruled=record.placements is not None)
    piece, lines = resume(standing.copy, record, standing.letters_of(record.pen))
    return Pin(start, piece, lines, record.whole, record.pen)
