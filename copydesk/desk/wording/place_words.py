"""Where a page's text begins and ends, in words: those of the text, or places of it where only its counts are known."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.text.counted_places import first_place, last_place

if TYPE_CHECKING:
    from copydesk.tracking.state.book_state import Standing
    from copydesk.tracking.views.page_view import PageAccount


class Asked(NamedTuple):
    """What a person is asked for, and what the plan would answer."""

    label: str
    hint: str


def end_asked(standing: Standing, account: PageAccount) -> Asked:
    """How to ask where the text of a page really ended."""
    if standing.exemplar is not None:
        return Asked("Last words written", account.last_words)
    return Asked("Where its text ended, by the count", ends_at(standing, account))


def beginning_asked(standing: Standing, account: PageAccount) -> Asked:
    """How to ask where a page really began."""
    if standing.exemplar is not None:
        return Asked("First words, if it did not begin as planned", account.first_words)
    return Asked("Where it began by the count, if not as planned", starts_at(standing, account.from_word))


def beginning_settled(standing: Standing, account: PageAccount) -> Asked:
    """How to ask where a page must begin."""
    if standing.exemplar is not None:
        return Asked(f"{account.label} must begin with these words of the exemplar", account.first_words)
    return Asked(f"{account.label} must begin at this place of the count", starts_at(standing, account.from_word))


def starts_at(standing: Standing, word: int) -> str:
    """The place of a counted text at which a word stands."""
    return first_place(standing.copy, standing.book.divisions, word)


def ends_at(standing: Standing, account: PageAccount) -> str:
    """The place of a counted text at which a page ends."""
    return last_place(standing.copy, standing.book.divisions, account.to_word)
