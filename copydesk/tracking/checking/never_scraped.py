"""Words and places of a page that no knife may touch, as the book names them, and why."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.text.word_search import bare, word_places

if TYPE_CHECKING:
    from copydesk.book.checks import NeverScraped
    from copydesk.book.structure.page import Page
    from copydesk.tracking.ledger.page_record import Fault
    from copydesk.tracking.state.book_state import BookState


class WrittenPlace(NamedTuple):
    """A place on a page: its column and line, None where they are not known, and the exemplar's words there."""

    page: Page
    column: int | None
    line: int | None
    words: range


def place_of(page: Page, fault: Fault) -> WrittenPlace:
    """The place of a fault of a page, as it was noted."""
    words = range(0) if fault.word is None else range(fault.word, fault.word + max(len(fault.should.split()), 1))
    return WrittenPlace(page, fault.column, fault.line, words)


def unscraped_at(state: BookState, place: WrittenPlace) -> tuple[str, ...]:
    """Why a place may not be scraped, each reason in a few words; empty where it may.

    Where only a part of it is named, the whole place counts: a knife that is kept off needlessly does no harm.
    """
    found = (_reason(state, each, place) for each in state.book.never_scraped)
    return tuple(dict.fromkeys(reason for reason in found if reason))


def _reason(state: BookState, named: NeverScraped, place: WrittenPlace) -> str:
    if named.page is not None:
        here = named.page == str(place.page) and all(
            wanted is None or found is None or wanted == found
            for wanted, found in ((named.column, place.column), (named.line, place.line))
        )
        what = f"this {'line' if named.line else 'column' if named.column else 'page'}"
    elif named.words:
        here, what = _stands_in(state, named.words, place.words), f'"{named.words}"'
    else:
        first, last = named.from_word or 0, named.to_word or 0
        here = max(first, place.words.start) < min(last, place.words.stop)
        what = "this passage"
    return f"{what} may never be scraped{f': {named.why}' if named.why else ''}" if here else ""


def _stands_in(state: BookState, phrase: str, words: range) -> bool:
    """Whether any word of a phrase that stands in the exemplar is among these."""
    if state.exemplar is None or not words:
        return False
    wanted = [bare(word) for word in phrase.split()]
    first, last = max(words.start - len(wanted) + 1, 0), words.stop + len(wanted) - 1
    return bool(word_places(state.exemplar.words, wanted, first, last))
