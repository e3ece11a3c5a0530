"""What was agreed on during the work for pages to come: closer or wider writing, or more or fewer lines to rule.

Both are entries about the book. For each page the newest entry counts; once that is taken
back, the one before it counts again.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import InvalidValueError, UnknownNameError
from copydesk.book.structure.page import SkinPage

if TYPE_CHECKING:
    from collections.abc import Mapping

    from copydesk.book.structure.collation import Collation
    from copydesk.book.structure.page import Page
    from copydesk.tracking.ledger.ledger import Ledger


AGREED, RULING = "agreed", "ruling"
"""What the two entries are about, so that each is found without looking at the other."""

MOST_LINES = 200
"""No page has more lines; the same bound as in the plan."""


def letters_agreed(ledger: Ledger, collation: Collation) -> Mapping[int, float]:
    """Letters a line agreed on, by the index of the page today."""
    found: dict[int, float] = {}
    for entry in ledger.live("book", AGREED):
        letters = entry.amount("letters")
        pages = [_page(collation, entry.text(name)) for name in ("from_skin", "to_skin")]
        if letters and letters > 0 and pages[0] is not None and pages[1] is not None:
            found.update(dict.fromkeys(range(pages[0].index, pages[1].index + 1), letters))
    return found


def agreed_lines(ledger: Ledger) -> int | None:
    """Written lines a column for pages not yet ruled, where another number was agreed on."""
    entries = ledger.live("book", RULING)
    lines = entries[-1].number("lines") if entries else None
    return lines if lines is not None and 1 <= lines <= MOST_LINES else None


def _page(collation: Collation, skin: str) -> Page | None:
    try:
        return collation.page_of(SkinPage.parse(skin))
    except (InvalidValueError, UnknownNameError):
        return None
