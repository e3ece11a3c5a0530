"""A pen that stopped within a line: with which word that line begins, and where the casting takes the text up again.

The scribe gives the last words written and says that the line is not full. With which word the line began nobody
says; it is worked out from the hand's set when the stop is recorded, and kept in the entry. Cast again from that
word, the rest of the line is right to within a word or two, and the lines after it follow.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.breaking import line_end

if TYPE_CHECKING:
    from copydesk.book.copytext import CopyText
    from copydesk.ledger.page_record import PageRecord, Stint
    from copydesk.ledger.standing import Standing


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


def line_begins(standing: Standing, index: int, stint: Stint) -> int:
    """The word the last line of ``stint`` begins with, for a line that is not full, by the hand's usual set."""
    from copydesk.ledger.page_lines import lines_of_stint

    lines = lines_of_stint(standing, index, stint)
    return standing.copy.word(lines[-1].start) if lines else stint.from_word


def _room_for_more(copy: CopyText, begins: int, ends: int, letters: float) -> bool:
    """Whether a line that begins at ``begins`` has room for a piece after ``ends``, or the next begins a new line."""
    return line_end(copy, begins, letters * copy.mean * copy.grain, min(ends + 1, copy.pieces)) > ends
