"""What an entry has made of the rest of the book: how the book stood before, held against how it stands now."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, given
from copydesk.book.common.phrases import count_of
from copydesk.book.common.sanitize import sanitize
from copydesk.tracking.views.space_homes import Home, space_changes, space_homes

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from copydesk.tracking.state.book_state import BookState


ALSO = given("also", Cell.TEXTS, "what followed elsewhere, as sentences")
"""The key of the JSON that tells them."""


class Standing(NamedTuple):
    """What of the book is looked at again after an entry: the home of every space that has one."""

    homes: Mapping[str, Home]


def standing(state: BookState) -> Standing:
    """The book as it stands before an entry."""
    return Standing(space_homes(state))


def consequences(before: Standing, state: BookState) -> list[str]:
    """What is otherwise than ``before`` elsewhere than where the entry was made, as sentences."""
    return [sanitize(said) for said in space_changes(before.homes, state)]


def in_short(sentences: Sequence[str], most: int = 2) -> str:
    """The first of these sentences for a narrow line, and how many more there are."""
    more = len(sentences) - most
    return " ".join([*sentences[:most], *([f"And {count_of(more, 'more thing')}; see log."] if more > 0 else [])])
