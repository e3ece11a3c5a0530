"""What a plan says of its text and its pages, held against those that there are.

The generators give the path of each value that points at nothing, and what is wrong with it; they serve a plan
that is still being read as well as a book that has been read.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.checks import NeverScraped
from copydesk.book.common.phrases import count_of
from copydesk.book.flow import Flow
from copydesk.book.plan import Change, Contents, RunningTitles, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.book.text.anchors import uncounted_paragraph, unnoted
from copydesk.book.text.word_search import bare, word_places

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from copydesk.book.common.errors import Problem
    from copydesk.book.plan import Anchor, Book, Flaw, LeafException
    from copydesk.book.text.exemplar import Exemplar
    from copydesk.store.plan_file.reading import Path, Reading, ValuePlaces

    Found = Iterator[tuple[Path, str]]


def only(count: int, noun: str, of: str = "", plural: str = "") -> str:
    """The sentence for a number beyond ``count``: ``noun`` as for one, ``of`` what these belong to."""
    return f"is beyond what there is: {count_of(count, noun, plural)}{of}; write a smaller number"


def check_against_text(reading: Reading, exemplar: Exemplar) -> None:
    """Note the divisions, paragraphs, words and places of the exemplar a plan speaks of that its text does not have."""
    divisions, words = [part.paragraphs for part in exemplar.divisions], len(exemplar.words)
    flow = reading.value(Flow, "flow") or Flow()
    reading.reject_all(starts_beyond(flow.starts, len(divisions)))
    reading.reject_all(titles_beyond(reading, len(divisions)))
    reading.reject_all(spaces_beyond_divisions(reading.items(SpacePlan, "spaces"), divisions))
    reading.reject_all(spaces_beyond_words(reading.items(SpacePlan, "spaces"), words))
    reading.reject_all(spaces_at_no_place(reading.items(SpacePlan, "spaces"), exemplar))
    reading.reject_all(changes_beyond(reading.items(Change, "changes"), words))
    reading.reject_all(unscraped_beyond_text(reading.items(NeverScraped, "never_scraped"), exemplar))


def check_against_pages(book: Book, places: ValuePlaces, leaves: int, gatherings: int) -> list[Problem]:
    """Pages, leaves and gatherings that a book speaks of and, its text cast off, does not have; by place.

    Args:
        book: the book as read.
        places: where its values stand.
        leaves: how many leaves it has, flyleaves apart.
        gatherings: how many gatherings it has.
    """
    found = [
        *spaces_beyond_leaves(enumerate(book.spaces), leaves),
        *unscraped_beyond_leaves(enumerate(book.never_scraped), leaves),
        *leaves_beyond("flaws", enumerate(book.flaws), leaves),
        *leaves_beyond("leaves", enumerate(book.gatherings.exceptions), leaves),
        *hands_beyond(((hand.id, hand.gatherings) for hand in book.hands), gatherings),
    ]
    return sorted(places.problem(path, what) for path, what in found)


def titles_beyond(reading: Reading, divisions: int) -> Found:
    """Divisions named for their running titles or in the list of contents that the text does not have."""
    titles, contents = reading.value(RunningTitles, "titles"), reading.value(Contents, "contents")
    for number in titles.words if titles is not None else ():
        if number > divisions:
            yield ("titles", "words", str(number)), _divisions(divisions)
    for at, number in enumerate(contents.divisions if contents is not None else ()):
        if number > divisions:
            yield ("contents", "divisions", at), _divisions(divisions)


def starts_beyond(numbers: Iterable[int], divisions: int) -> Found:
    """Divisions that are to begin somewhere, and are not there."""
    return ((("flow", "starts", str(number)), _divisions(divisions)) for number in numbers if number > divisions)


def spaces_beyond_divisions(spaces: Iterable[tuple[int, SpacePlan]], divisions: Sequence[int | None]) -> Found:
    """Spaces tied to a division or a paragraph that is not there; None for paragraphs nobody has counted."""
    for at, space in spaces:
        path, anchor = ("spaces", at, "at"), space.at
        if anchor.division is None:
            continue
        if anchor.division > len(divisions):
            yield (*path, "division"), _divisions(len(divisions))
        elif what := _paragraph(anchor, divisions[anchor.division - 1]):
            yield (*path, "paragraph"), what


def _paragraph(anchor: Anchor, paragraphs: int | None) -> str:
    if anchor.paragraph is None:
        return ""
    if paragraphs is None:
        return uncounted_paragraph(anchor)
    if anchor.paragraph <= paragraphs:
        return ""
    return only(paragraphs, "paragraph", f" in division {anchor.division}")


def spaces_beyond_words(spaces: Iterable[tuple[int, SpacePlan]], words: int) -> Found:
    """Spaces tied to a word that is not there."""
    for at, space in spaces:
        if space.at.word is not None and space.at.word >= words:
            yield ("spaces", at, "at", "word"), only(words, "word", " in the text, counted from 0")


def spaces_at_no_place(spaces: Iterable[tuple[int, SpacePlan]], exemplar: Exemplar | None) -> Found:
    """Spaces tied to a place of the exemplar that the text does not note; None where nobody has typed it."""
    for at, space in spaces:
        if space.at.exemplar is None:
            continue
        what = unnoted(space.at.exemplar, exemplar)
        if what:
            yield ("spaces", at, "at", "exemplar"), what


def changes_beyond(changes: Iterable[tuple[int, Change]], words: int) -> Found:
    """Changes of words that are not there; words may be added at the very end."""
    for at, change in changes:
        for key, word in (("from_word", change.from_word), ("to_word", change.to_word)):
            if word > words:
                yield ("changes", at, key), only(words, "word", " in the text")


def spaces_beyond_leaves(spaces: Iterable[tuple[int, SpacePlan]], leaves: int) -> Found:
    """Spaces on pages that are not there."""
    for at, space in spaces:
        if space.at.page is not None and Page.parse(space.at.page).leaf > leaves:
            what = f"is {space.at.page}, and the book has {count_of(leaves, 'leaf', 'leaves')}; name a page that it has"
            yield ("spaces", at, "at", "page"), what


def unscraped_beyond_text(entries: Iterable[tuple[int, NeverScraped]], exemplar: Exemplar) -> Found:
    """Words that may not be scraped and that the text does not have."""
    words = exemplar.words
    for at, entry in entries:
        path = ("never_scraped", at)
        for key, word, most in (("from_word", entry.from_word, len(words) - 1), ("to_word", entry.to_word, len(words))):
            if word is not None and word > most:
                yield (*path, key), only(len(words), "word", " in the text, counted from 0")
        if entry.words and not word_places(words, [bare(word) for word in entry.words.split()], 0, len(words)):
            yield (*path, "words"), f'is "{entry.words}", which does not stand in the text; write words that do'


def unscraped_beyond_leaves(entries: Iterable[tuple[int, NeverScraped]], leaves: int) -> Found:
    """Pages that may not be scraped and that the book does not have."""
    for at, entry in entries:
        if entry.page is not None and Page.parse(entry.page).leaf > leaves:
            what = f"is {entry.page}, and the book has {count_of(leaves, 'leaf', 'leaves')}; name a page that it has"
            yield ("never_scraped", at, "page"), what


def leaves_beyond(key: str, items: Iterable[tuple[int, Flaw | LeafException]], leaves: int) -> Found:
    """Leaves spoken of under ``key`` that are not there."""
    return (
        ((key, at, "leaf"), only(leaves, "leaf", " in the book", "leaves")) for at, item in items if item.leaf > leaves
    )


def hands_beyond(hands: Iterable[tuple[str, Sequence[int]]], gatherings: int) -> Found:
    """Hands meant for gatherings that are not there."""
    for name, numbers in hands:
        if numbers and max(numbers) > gatherings:
            yield ("hands", name, "gatherings"), only(gatherings, "gathering", " in the book")


def _divisions(count: int) -> str:
    return only(count, "division", " in the text")
