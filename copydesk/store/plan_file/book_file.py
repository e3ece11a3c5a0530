"""``book.yaml`` to a ``Book``: every mistake in it listed, each with its place and what to do."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from copydesk.book.common.errors import BadPlanError, CopydeskError, Problem
from copydesk.book.plan import Book, GatheringPlan, Hand
from copydesk.store.files.book_folder import BOOK_FILE, BookFolder
from copydesk.store.files.text_file import decode, read_bytes, shown
from copydesk.store.plan_file import book_rules
from copydesk.store.plan_file.keys import BOOK
from copydesk.store.plan_file.reading import Reading, ValuePlaces
from copydesk.store.plan_file.yaml_places import Entries, read_tree

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path

    from copydesk.store.plan_file.yaml_places import Tree


LARGEST = 2_000_000
"""Bytes of ``book.yaml``; ten thousand spaces take two thirds of it."""
MOST_LISTED = 200
"""Mistakes listed one by one; where there are more, their number is given."""


def read_book(folder: Path) -> Book:
    """The book that a folder's ``book.yaml`` describes.

    Raises:
        BadPlanError: with every mistake in it, sorted by place; or where there is no such folder or file.
    """
    return read_book_with_places(folder)[0]


def read_book_with_places(folder: Path) -> tuple[Book, ValuePlaces]:
    """The book of a folder, and where each of its values stands.

    Raises:
        BadPlanError: as for ``read_book``.
    """
    plan = read_plan(BookFolder.at(folder))
    return plan.finish(), ValuePlaces(plan.reading.file, plan.reading.places)


class Plan(NamedTuple):
    """A plan as read: its reading, which holds the mistakes, and the values from which the book is made."""

    reading: Reading
    values: Mapping[str, Any]

    def finish(self) -> Book:
        """The book.

        Raises:
            BadPlanError: with every mistake the reading holds, sorted by place.
        """
        if self.reading.problems:
            raise BadPlanError(*self.problems())
        return assemble(self.values)

    def problems(self) -> list[Problem]:
        """The mistakes the reading holds, sorted by place; where there are very many, how many more there are."""
        listed = sorted(set(self.reading.problems))
        if len(listed) <= MOST_LISTED:
            return listed
        more = f"there are {len(listed) - MOST_LISTED} mistakes more; mend these first"
        return [*listed[:MOST_LISTED], Problem(self.reading.file, 0, 0, more)]


def read_plan(home: BookFolder, text: str | None = None) -> Plan:
    """The plan of a folder, mistakes and all; ``text`` is what ``book.yaml`` is to say, where it is not written yet.

    Raises:
        BadPlanError: where ``book.yaml`` cannot be read at all.
    """
    name = home.name(BOOK_FILE)
    plan = parse_plan(decode(read_bytes(home.path(BOOK_FILE), name, LARGEST), name) if text is None else text, name)
    _check_files(plan.reading, home)
    return plan


def parse_plan(text: str, name: str) -> Plan:
    """The plan a text describes, checked as far as can be without its folder.

    Args:
        text: the whole of ``book.yaml``.
        name: what a person knows the file by.

    Raises:
        BadPlanError: where it is not YAML that can be read.
    """
    tree, found = read_tree(text, name)
    return plan_of_tree(tree or Entries((), 0, 0), name, found)


def plan_of_tree(tree: Tree, name: str, found: Iterable[Problem] = ()) -> Plan:
    """The plan that a tree of values describes, checked as far as can be without its folder.

    Args:
        tree: the values with their places, whatever they were read from.
        name: what a person knows their source by.
        found: what was wrong with the source itself.
    """
    reading = Reading(name, BOOK)
    reading.problems += found
    values = reading.read(BOOK, tree, ())
    book_rules.check(reading)
    return Plan(reading, values if isinstance(values, dict) else {})


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
                reading.reject(path, f"names {shown(named)}, and there is no such file in the folder; put it there")
        except CopydeskError as error:
            reading.reject(path, error.problems[0].what)
        except OSError:
            reading.reject(path, f"names {shown(named)}, which cannot be looked at; look at its rights")
