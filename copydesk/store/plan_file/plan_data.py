"""A plan as plain data, and plans from plain data or typed answers: keys and rules are those of ``book.yaml``."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from copydesk.book.common.errors import BadPlanError, Problem
from copydesk.store.plan_file.book_file import plan_of_tree
from copydesk.store.plan_file.plan_text import plan_values
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
        BadPlanError: with every mistake in them.
    """
    return plan_of_tree(_tree(data, name, DEEPEST), name).finish()


def book_from_answers(answers: Mapping[str, str]) -> Book:
    """A book from answers as people type them.

    Args:
        answers: texts by key, dotted as in ``page.width`` or ``hands.A.name``; a number stands for an item of a
            list, as in ``divisions.1.title``. The rules are those of ``book.yaml``.

    Raises:
        BadPlanError: with every answer that cannot be.
    """
    tree = _tree_of_answers({tuple(key.split(".")): text for key, text in answers.items()})
    return plan_of_tree(tree, "").finish()


def _tree_of_answers(answers: Mapping[tuple[str, ...], str]) -> Tree:
    if () in answers:
        return Scalar(answers[()], False, 0, 0)
    below: dict[str, dict[tuple[str, ...], str]] = {}
    for (first, *rest), text in answers.items():
        below.setdefault(first, {})[tuple(rest)] = text
    if below and all(name.isdecimal() for name in below):
        return Items(tuple(_tree_of_answers(below[name]) for name in sorted(below, key=int)), 0, 0)
    return Entries(tuple((Scalar(name, False, 0, 0), _tree_of_answers(part)) for name, part in below.items()), 0, 0)


def _tree(value: object, name: str, levels: int) -> Tree:
    """Data as the reader of plans takes them: every scalar as the text that would stand there."""
    if not levels:
        raise BadPlanError(Problem(name, 0, 0, "values are nested too deeply; take the brackets out"))
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
