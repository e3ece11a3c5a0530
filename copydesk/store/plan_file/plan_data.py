"""A plan as plain data, with the keys of ``book.yaml``, and such data read as a plan by the same rules."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from copydesk.book.common.errors import Problem, Refused
from copydesk.store.plan_file import book_rules
from copydesk.store.plan_file.book_file import Plan
from copydesk.store.plan_file.keys import BOOK
from copydesk.store.plan_file.plan_text import plan_values
from copydesk.store.plan_file.sections import Reading
from copydesk.store.plan_file.yaml_places import DEEPEST, Entries, Items, Scalar

if TYPE_CHECKING:
    from copydesk.book.plan import Book
    from copydesk.store.plan_file.yaml_places import Tree


def plan_as_data(book: Book) -> dict[str, Any]:
    """The plan as JSON can hold it: dicts, lists, texts, numbers; days as texts; what is as usual is left out."""
    return {name: _plain(value) for name, value in plan_values(book).items()}


def _plain(value: object) -> object:
    if isinstance(value, Mapping):
        return {str(name): _plain(part) for name, part in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(part) for part in value]
    return value.isoformat() if isinstance(value, date) else value


def book_from_data(data: Mapping[str, Any], name: str) -> Book:
    """The book that plain data describe.

    Args:
        data: what ``plan_as_data`` gives, or what another program wrote with the keys of ``book.yaml``.
        name: what a person knows the data by.

    Raises:
        Refused: with every mistake in them.
    """
    reading = Reading(name)
    values = reading.read(BOOK, _tree(data, name, DEEPEST), ())
    book_rules.check(reading)
    return Plan(reading, values if isinstance(values, dict) else {}).finish()


def _tree(value: object, name: str, levels: int) -> Tree:
    """Data as the reader of plans takes them: every scalar as the text that would stand there."""
    if not levels:
        raise Refused(Problem(name, 0, 0, "values are nested too deeply; take the brackets out"))
    if isinstance(value, Mapping):
        pairs = ((Scalar(str(key), False, 0, 0), _tree(part, name, levels - 1)) for key, part in value.items())
        return Entries(tuple(pairs), 0, 0)
    if isinstance(value, list):
        return Items(tuple(_tree(part, name, levels - 1) for part in value), 0, 0)
    if isinstance(value, str):
        return Scalar(value, True, 0, 0)
    return Scalar(_unquoted(value), False, 0, 0)


def _unquoted(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return format(Decimal(repr(value)), "f").removesuffix(".0")
