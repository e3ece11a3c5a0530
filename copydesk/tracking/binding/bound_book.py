"""The book sewn and bound: by whom and when."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import AlreadyDoneError
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.ledger.timestamps import moment, say_at

if TYPE_CHECKING:
    from datetime import date

    from copydesk.tracking.state.book_state import BookState


BOUND = "bound"
"""The entry, and what it is about, so that it is found without looking at others."""


class Binding(NamedTuple):
    """Who bound the book, as recorded; the day, None where the entry has no time."""

    who: str
    day: date | None


def binding_of(state: BookState) -> Binding | None:
    """The binding on record; None while the book is not bound."""
    entries = state.ledger.live("book", BOUND)
    if not entries:
        return None
    at = moment(entries[-1].at)
    return Binding(entries[-1].text("who") or entries[-1].hand, at.date() if at is not None else None)


def bind_book(state: BookState, who: str = "", note: str = "") -> Act:
    """Record that the book is sewn and bound; by the binder the plan names where ``who`` is not said.

    Raises:
        AlreadyDoneError: where that is on record already.
    """
    entries = state.ledger.live("book", BOUND)
    if entries:
        raise AlreadyDoneError(
            f"the book was recorded as bound on {say_at(entries[-1].at)} already; take that back first if it is a slip"
        )
    told = {"who": who.strip() or state.book.workshop.binder, "note": note.strip()}
    return Act(BOUND, BOUND, "", {name: said for name, said in told.items() if said})
