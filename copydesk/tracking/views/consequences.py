"""What an entry has made of the rest of the book: how the book stood before, held against how it stands now."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, given
from copydesk.book.common.phrases import count_of
from copydesk.book.common.sanitize import sanitize
from copydesk.tracking.state.plan_conflicts import plan_conflicts
from copydesk.tracking.views.space_homes import Home, space_changes, space_homes

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from copydesk.book.structure.collation import Collation
    from copydesk.tracking.ledger.flaws_found import Flaws
    from copydesk.tracking.state.book_state import BookState


ALSO = given("also", Cell.TEXTS, "what followed elsewhere, as sentences")
"""The key of the JSON that tells them."""


class Standing(NamedTuple):
    """What of the book is looked at again after an entry or another plan.

    The home of every space that has one, what the plan says otherwise than the skin, the leaves, their flaws, and the
    lines of text without room.
    """

    homes: Mapping[str, Home]
    conflicts: tuple[str, ...]
    collation: Collation
    flaws: Flaws
    lines_without_room: int


def standing(state: BookState) -> Standing:
    """The book as it stands before an entry."""
    without = state.budget.lines_without_room
    return Standing(space_homes(state), plan_conflicts(state), state.collation, state.flaws, without)


def consequences(before: Standing, state: BookState) -> list[str]:
    """What is otherwise than ``before`` elsewhere than where the entry was made, as sentences."""
    return [
        *conflict_sentences(state, before.conflicts),
        *(sanitize(said) for said in space_changes(before.homes, state)),
    ]


def conflict_sentences(state: BookState, known: Sequence[str] = ()) -> list[str]:
    """What the plan says otherwise than the skin, as sentences, but for what was ``known``."""
    return [f"Plan and skin differ: {said}." for said in plan_conflicts(state) if said not in known]


def in_short(sentences: Sequence[str], most: int = 2) -> str:
    """The first of these sentences for a narrow line, and how many more there are."""
    more = len(sentences) - most
    return " ".join([*sentences[:most], *([f"And {count_of(more, 'more thing')}; see log."] if more > 0 else [])])
