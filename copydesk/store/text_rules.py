"""What the book says of its text and its pages, held against those that there are."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.page import Page

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from copydesk.book.book import Book
    from copydesk.book.refusal import Problem
    from copydesk.store.sections import ValuePlaces


def only(count: int, what: str) -> str:
    """The sentence for a number beyond ``count``."""
    return f"is beyond what there is: {count} {what}; write a smaller number"


def check_against_text(book: Book, places: ValuePlaces, divisions: Sequence[int], words: int) -> list[Problem]:
    """Divisions, paragraphs and words that the text does not have.

    Args:
        book: the book as read.
        places: where its values stand.
        divisions: how many paragraphs each division has.
        words: how many words the text has.
    """
    found = [*_starts(book, places, divisions), *_anchors(book, places, divisions, words)]
    for at, change in enumerate(book.changes):
        for key, word in (("from_word", change.from_word), ("to_word", change.to_word)):
            if word > words:
                found.append(places.problem(("changes", at, key), only(words, "words in the text")))
    return sorted(found)


def _starts(book: Book, places: ValuePlaces, divisions: Sequence[int]) -> Iterator[Problem]:
    for number in book.flow.starts:
        if number > len(divisions):
            yield places.problem(("flow", "starts", str(number)), only(len(divisions), "divisions in the text"))


def _anchors(book: Book, places: ValuePlaces, divisions: Sequence[int], words: int) -> Iterator[Problem]:
    for index, space in enumerate(book.spaces):
        path, at = ("spaces", index, "at"), space.at
        if at.word is not None and at.word >= max(words, 1):
            yield places.problem((*path, "word"), only(words, "words in the text, counted from 0"))
        if at.division is None:
            continue
        if at.division > len(divisions):
            yield places.problem((*path, "division"), only(len(divisions), "divisions in the text"))
        elif at.paragraph is not None and at.paragraph > max(divisions[at.division - 1], 1):
            what = only(divisions[at.division - 1], f"paragraphs in division {at.division}")
            yield places.problem((*path, "paragraph"), what)


def check_against_pages(book: Book, places: ValuePlaces, leaves: int, gatherings: int) -> list[Problem]:
    """Pages, leaves and gatherings that the book does not have.

    Args:
        book: the book as read.
        places: where its values stand.
        leaves: how many leaves it has, counted as folios.
        gatherings: how many gatherings it has.
    """
    found: list[Problem] = []
    for at, space in enumerate(book.spaces):
        if space.at.page is not None and Page.parse(space.at.page).leaf > leaves:
            what = f"is {space.at.page}, and the book has {leaves} leaves; name a page that it has"
            found.append(places.problem(("spaces", at, "at", "page"), what))
    for at, flaw in enumerate(book.flaws):
        if flaw.leaf > leaves:
            found.append(places.problem(("flaws", at, "leaf"), only(leaves, "leaves in the book")))
    for at, leaf in enumerate(book.gatherings.exceptions):
        if leaf.leaf > leaves:
            found.append(places.problem(("leaves", at, "leaf"), only(leaves, "leaves in the book")))
    for hand in book.hands:
        if hand.gatherings and hand.gatherings[-1] > gatherings:
            what = only(gatherings, "gatherings in the book")
            found.append(places.problem(("hands", hand.id, "gatherings"), what))
    return sorted(found)
