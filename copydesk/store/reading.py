"""Everything a person wrote for a book, read together: the plan, the exemplar, the hands' samples."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.exemplar import Exemplar, read_exemplar
from copydesk.book.refusal import Refused
from copydesk.store.book_file import read_book_with_places, read_text
from copydesk.store.book_folder import BOOK_FILE
from copydesk.store.text_file import decode, read_bytes

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from copydesk.book.book import Book
    from copydesk.store.book_folder import BookFolder

_LARGEST_SAMPLE = 4_000_000


class Written(NamedTuple):
    """The plan, the exemplar (None where only counts are known), and the text of each hand's sample by hand."""

    book: Book
    exemplar: Exemplar | None
    samples: Mapping[str, str]


def read_all(folder: BookFolder) -> Written:
    """Read a book folder's plan, exemplar and samples.

    Raises:
        Refused: with every mistake, each with its place.
    """
    book, places = read_book_with_places(folder.named)
    if book.exemplar.text is None:
        return Written(book, None, _samples(folder, book))
    text = read_text(folder.named, book)
    exemplar = read_exemplar(text) if not book.exemplar.text.endswith(".xml") else _from_tei(text, folder, book)
    from copydesk.store.text_rules import check_against_text

    counts = [division.paragraphs for division in exemplar.divisions]
    problems = check_against_text(book, places, counts, len(exemplar.words))
    if problems:
        raise Refused(*problems)
    return Written(book, exemplar, _samples(folder, book))


def _from_tei(text: str, folder: BookFolder, book: Book) -> Exemplar:
    from copydesk.store.tei_exemplar import read_tei

    return read_exemplar(read_tei(text, folder.name(book.exemplar.text or "")))


def _samples(folder: BookFolder, book: Book) -> dict[str, str]:
    found = {}
    for hand in book.hands:
        if hand.sample is not None:
            name = folder.name(hand.sample)
            found[hand.id] = decode(read_bytes(folder.path(hand.sample), name, _LARGEST_SAMPLE), name)
    return found


def stamp(folder: BookFolder, book: Book) -> tuple[tuple[str, int, int], ...]:
    """What tells that one of the files was changed: name, time of change in ns, size; missing files as zeros."""
    return tuple(_stamps(folder, book))


def _stamps(folder: BookFolder, book: Book) -> Iterator[tuple[str, int, int]]:
    names = [BOOK_FILE, book.exemplar.text, *(hand.sample for hand in book.hands)]
    for name in filter(None, names):
        try:
            found = (folder.root / name).stat()
        except OSError:
            yield name, 0, 0
        else:
            yield name, found.st_mtime_ns, found.st_size
