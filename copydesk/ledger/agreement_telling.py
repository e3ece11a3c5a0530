"""What was agreed on for pages to come, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.days import count_of

if TYPE_CHECKING:
    from copydesk.ledger.entry import Entry
    from copydesk.ledger.standing import Standing

AGREEMENTS = ("abbreviated", "ruling")


def tell_agreement(entry: Entry, standing: Standing | None) -> str:
    """As in ``33.1 letters a line from 2r to 3v, 24 words abbreviated, agreed on by A``."""
    by = f" by {entry.hand}" if entry.hand else ""
    if entry.what == "ruling":
        return f"{entry.number('lines') or '?'} lines a column on pages not yet ruled, settled{by}"
    first, last = entry.text("from_page"), entry.text("to_page")
    if standing is not None:
        first, last = standing.book.renamed(first), standing.book.renamed(last)
    where = f"on {first}" if first == last else f"from {first} to {last}"
    words = entry.number("words")
    abbreviated = f", {count_of(words, 'word')} abbreviated" if words else ""
    return f"{entry.amount('letters') or 0:.1f} letters a line {where}{abbreviated}, agreed on{by}"
