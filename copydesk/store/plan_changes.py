"""The lines of ``book.yaml`` that would turn a plan into another, for people to write in: the file is theirs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.store.fields import BOOK
from copydesk.store.plan_text import key_lines, plan_values
from copydesk.store.sections import Section

if TYPE_CHECKING:
    from copydesk.book.book import Book


def changed_lines(before: Book, after: Book) -> str:
    """The top keys whose values differ, each whole, as they would stand in the file; empty where none does."""
    old, new = plan_values(before), plan_values(after)
    lines: list[str] = []
    for key in BOOK.keys:
        was, would_be = old.get(key.name), new.get(key.name)
        if was != would_be:
            made = getattr(after, key.name, None)
            lines += key_lines(key.name, _spelt_out(key.holds, was, would_be, made))
    return "\n".join(lines)


def _spelt_out(holds: object, was: object, would_be: object, made: object) -> object:
    """The new value with what became as usual said all the same, where the old one said otherwise."""
    if not isinstance(holds, Section):
        return would_be if would_be is not None else made
    said = would_be if isinstance(would_be, dict) else {}
    before = was if isinstance(was, dict) else {}
    values = {
        key.name: said.get(key.name, getattr(made, key.name, None) if key.name in before else None)
        for key in holds.keys
    }
    return {name: value for name, value in values.items() if value is not None}
