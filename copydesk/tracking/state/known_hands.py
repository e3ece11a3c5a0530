"""Who may record in a book: its hands, its artists, its binder, its readers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import UnknownNameError

if TYPE_CHECKING:
    from copydesk.tracking.state.book_state import BookState


def known_hands(state: BookState) -> tuple[str, ...]:
    """The book's hands in its order, then artists, binder and readers, who may record though they write nothing."""
    hands = [hand.id for hand in state.book.hands]
    others = {*state.book.others, *(plan.artist for plan in state.plans)} - {"", *hands}
    return (*hands, *sorted(others))


def known_hand(state: BookState, hand: str) -> str:
    """The hand of this name.

    Raises:
        UnknownNameError: where the book has none, and nobody of that name decorates, binds or reads it.
    """
    known = known_hands(state)
    if hand not in known:
        raise UnknownNameError(f"there is no hand {hand!r} in this book; its hands are {', '.join(known)}")
    return hand
