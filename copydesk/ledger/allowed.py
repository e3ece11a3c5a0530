"""Differences allowed besides those of book.yaml, as a person gives them in a word: ``accents``, ``u/v=no``."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.comparing.allow import Allowances
from copydesk.ledger.as_written import allowed_here

if TYPE_CHECKING:
    from collections.abc import Iterable

    from copydesk.book.book import Book

_ANSWERS = {"yes": True, "true": True, "no": False, "false": False}


def allowed_too(book: Book, rules: Iterable[str]) -> Allowances:
    """The workshop's allowances with more: a key of ``allow:``, a key ``=no``, or two spellings ``one=other``.

    Raises:
        Refused: for rules that cannot be used.
    """
    given = allowed_here(book)
    spellings = _groups(given.pop("spellings", ()))
    for rule in rules:
        name, equals, value = rule.partition("=")
        if equals and value.casefold() not in _ANSWERS:
            spellings.append((name, value))
        else:
            given[name] = _ANSWERS.get(value.casefold(), True)
    return Allowances.from_mapping({**given, "spellings": spellings}, "--allow")


def _groups(given: object) -> list[object]:
    """Groups of spellings, however book.yaml has them."""
    if isinstance(given, dict):
        return list(given.items())
    return list(given) if isinstance(given, list | tuple) else []
