"""Whose hand may stand under an entry: who writes the book, and who else works on it."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from copydesk.ledger.standing import Standing


def known_hands(standing: Standing) -> tuple[str, ...]:
    """The book's hands in its order, then the artists and the binder, who may record though they write nothing."""
    hands = [hand.id for hand in standing.book.hands]
    others = {*standing.book.workshop.others, *(plan.artist for plan in standing.plans)} - {"", *hands}
    return (*hands, *sorted(others))
