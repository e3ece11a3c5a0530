"""Agreeing on closer writing for some pages, or on other lines for those not yet ruled: the entries for it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import Refused
from copydesk.book.structure.page import Page
from copydesk.tracking.ledger.agreements import AGREED, MOST_LINES, RULING
from copydesk.tracking.ledger.entry import Act

if TYPE_CHECKING:
    from copydesk.tracking.state.book_state import BookState


def agree_letters(state: BookState, first: int, last: int, letters: float, words: int = 0) -> Act:
    """Agree to put ``letters`` on a line from one page to another (indices), of which ``words`` words abbreviated.

    Raises:
        Refused: where that is no number of letters.
    """
    if not 1 <= letters <= 1000:
        raise Refused(f"{letters:g} letters cannot stand on a line; give a number from 1 to 1000")
    facts: dict[str, object] = {
        "from_page": str(Page.at(first)),
        "to_page": str(Page.at(last)),
        "from_skin": str(state.skin_at(first)),
        "to_skin": str(state.skin_at(last)),
        "letters": round(letters, 2),
    }
    if words:
        facts["words"] = words
    return Act("abbreviated", AGREED, "", facts)


def settle_lines(state: BookState, lines: int) -> Act:
    """Give the pages not yet ruled another number of written lines a column; the foot margin takes or gives the room.

    Raises:
        Refused: where that is no number of lines, or the foot margin has not so much room.
    """
    if not 1 <= lines <= MOST_LINES:
        raise Refused(f"a column cannot have {lines} lines; give a number from 1 to {MOST_LINES}")
    state.layout.with_lines(lines)
    return Act("ruling", RULING, "", {"lines": lines})
