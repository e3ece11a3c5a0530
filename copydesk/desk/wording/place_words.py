"""Where a page's text begins and ends, in words: those of the text, or places of it where only its counts are known."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.text.counted_places import first_place, last_place

if TYPE_CHECKING:
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount


class PlaceQuestion(NamedTuple):
    """What a person is asked for, and what the plan would answer."""

    label: str
    hint: str


def end_asked(state: BookState, account: PageAccount) -> PlaceQuestion:
    """How to ask where the text of a page really ended."""
    if state.exemplar is not None:
        return PlaceQuestion("Last words written", account.last_words)
    return PlaceQuestion("Where its text ended, by the count", ends_at(state, account))


def beginning_asked(state: BookState, account: PageAccount) -> PlaceQuestion:
    """How to ask where a page really began."""
    if state.exemplar is not None:
        return PlaceQuestion("First words, if it did not begin as planned", account.first_words)
    return PlaceQuestion("Where it began by the count, if not as planned", starts_at(state, account.from_word))


def beginning_settled(state: BookState, account: PageAccount) -> PlaceQuestion:
    """How to ask where a page must begin."""
    if state.exemplar is not None:
        return PlaceQuestion(f"{account.label} must begin with these words of the exemplar", account.first_words)
    return PlaceQuestion(f"{account.label} must begin at this place of the count", starts_at(state, account.from_word))


def starts_at(state: BookState, word: int) -> str:
    """The place of a counted text at which a word stands."""
    return first_place(state.copy, state.book.divisions, word)


def ends_at(state: BookState, account: PageAccount) -> str:
    """The place of a counted text at which a page ends."""
    return last_place(state.copy, state.book.divisions, account.to_word)
