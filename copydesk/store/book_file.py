"""``book.yaml`` to a ``Book``: every mistake in it told together, each with its place and what to do."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from copydesk.book.book import Book, GatheringPlan, Hand
from copydesk.book.refusal import Refused
from copydesk.store import book_rules
from copydesk.store.book_folder import BOOK_FILE, BookFolder
from copydesk.store.exemplar_file import read_exemplar_file
from copydesk.store.fields import BOOK
from copydesk.store.sections import Reading, ValuePlaces
from copydesk.store.text_file import decode, read_bytes
from copydesk.store.yaml_places import Entries, read_tree

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

LARGEST = 4_000_000
"""Bytes of ``book.yaml``; ten thousand spaces take a third of it."""


def read_book(folder: Path) -> Book:
    """The book that a folder's ``book.yaml`` describes.

    Raises:
        Refused: with every mistake in it, sorted by place; or where there is no such folder or file.
    """
    return read_book_with_places(folder)[0]


def read_book_with_places(folder: Path) -> tuple[Book, ValuePlaces]:
    """The book of a folder, and where each of its values stands.

    Raises:
        Refused: as for ``read_book``.
    """
    home = BookFolder.at(folder)
    name = home.name(BOOK_FILE)
    text = decode(read_bytes(home.path(BOOK_FILE), name, LARGEST), name)
    reading, values = read_values(text, name)
    _check_files(reading, home)
    return finish(reading, values)


def read_values(text: str, name: str) -> tuple[Reading, Mapping[str, Any]]:
    """The values of a book's text, checked as far as can be without its folder; mistakes are in the reading.

    Args:
        text: the whole of ``book.yaml``.
        name: what a person knows the file by.

    Raises:
        Refused: where it is not YAML that can be read.
    """
    tree = read_tree(text, name)
    reading = Reading(name)
    if tree is None:
        tree = Entries((), 0, 0)
    values = reading.read(BOOK, tree, ())
    book_rules.check(reading)
    return reading, values if isinstance(values, dict) else {}


def finish(reading: Reading, values: Mapping[str, Any]) -> tuple[Book, ValuePlaces]:
    """The book of a reading.

    Raises:
        Refused: with every mistake the reading holds, sorted by place.
    """
    if reading.problems:
        raise Refused(*sorted(set(reading.problems)))
    return assemble(values), ValuePlaces(reading.file, reading.places)


def assemble(values: Mapping[str, Any]) -> Book:
    """A book of values that have been found right."""
    given = dict(values)
    hands = given.pop("hands")
    leaves = given.pop("leaves", ())
    gatherings = dict(given.pop("gatherings", {}))
    if "formula" in gatherings:
        gatherings["sheets"] = None
    return Book(
        hands=tuple(_hand(name, hand) for name, hand in hands.items()),
        gatherings=GatheringPlan(**gatherings, exceptions=leaves),
        **given,
    )


def _hand(name: str, given: Mapping[str, Any]) -> Hand:
    numbers: set[int] = set().union(*given.get("gatherings", ()))
    return Hand(name, **{**given, "gatherings": tuple(sorted(numbers))})


def _check_files(reading: Reading, home: BookFolder) -> None:
    """Every file that the book names lies in its folder."""
    hands = reading.value(dict, "hands") or {}
    for path in [("exemplar", "text"), *(("hands", str(name), "sample") for name in hands)]:
        named = reading.value(str, *path)
        if named is None:
            continue
        try:
            if not home.path(named).is_file():
                reading.say(path, f"names {named!r}, and there is no such file in the folder; put it there")
        except Refused as error:
            reading.say(path, error.problems[0].what)
        except OSError:
            reading.say(path, f"names {named!r}, which cannot be looked at; look at its rights")


def read_text(folder: Path, book: Book) -> str:
    """The text of a book's exemplar; empty where only counts are known.

    Raises:
        Refused: where the file is missing, cannot be read or is not UTF-8, with line and column.
    """
    if book.exemplar.text is None:
        return ""
    home = BookFolder.at(folder)
    return read_exemplar_file(home.path(book.exemplar.text), home.name(book.exemplar.text))[0]
