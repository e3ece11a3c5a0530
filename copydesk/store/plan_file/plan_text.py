"""A book as the text of a ``book.yaml``, each part under a line that says what it is; read back it is the same book."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import MISSING, fields
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from copydesk.store.plan_file.keys import BOOK, GATHERINGS, HAND, LEAF, MARGINS
from copydesk.store.plan_file.scalars import ValueKind
from copydesk.store.plan_file.sections import ByName, ListOf, Section

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.book.plan import Book


WIDEST = 110
"""Columns that a value in brackets may reach; a longer one takes a line for each key."""
_READ_OTHERWISE = frozenset(["yes", "no", "on", "off", "true", "false", "null", "y", "n"])
_PLAIN_MARKS = frozenset(" _-./'")


class AsWritten(str):
    """A value put down as people wrote it: a length with its unit, a range of numbers."""

    __slots__ = ()


EXAMPLES: Mapping[str, str] = {
    "skins": "skins: {width: 700, height: 500, trim: 5, spoilage: 0.1, days: {soak: 1, lime: 9, stretch: 5}}",
    "spaces": (
        "spaces:\n"
        "  - {id: gate, kind: miniature, at: {division: 1}, lines: 10, across: column, subject: a gate in snow}\n"
        "  - {id: first, kind: initial, at: {division: 1, paragraph: 1}, lines: 4}\n"
        "  - {id: vine, kind: border, at: {page: 1r}}"
    ),
    "passes": "passes: [text, {name: rubrics, ink: red ochre}, {name: capitals, ink: red ochre}]",
    "flyleaves": "flyleaves: {front: 2, back: 2}",
    "flaws": "flaws:\n  - {leaf: 1, from_head: 120, from_fold: 60, width: 15, height: 9}",
    "changes": 'changes:\n  - {from_word: 0, to_word: 0, write: "words put before the first", why: asked for}',
    "readings": "readings: {ways: [silently, aloud by two], by: not a writer, readers: [Joan, Wat]}",
    "never_scraped": "never_scraped:\n  - {words: the owner's name, why: it is written in gold}",
    "workshop": "workshop: {weekdays: [mon, tue, wed, thu, fri], drying_days: 1}",
}
"""Parts that a new book may want later, as they are written."""


def plan_text(book: Book, *, examples: bool = False) -> str:
    """The text of a ``book.yaml`` that reads as ``book``.

    Args:
        book: the book; what is as usual is left out.
        examples: whether parts it does not have are shown behind ``#``, to be filled in later.
    """
    lines = ["# Lengths are millimetres unless they say otherwise. What stands after a # is for people.", ""]
    values = plan_values(book)
    for key in BOOK.keys:
        if key.name in values:
            lines += [f"# {key.help}", *_entry(key.name, values[key.name], 0), ""]
        elif examples and key.name in EXAMPLES:
            lines += [f"# {key.help}:", *(f"# {line}" for line in EXAMPLES[key.name].splitlines()), ""]
    return "\n".join(lines)


def plan_values(book: Book, *, usual: bool = False) -> dict[str, object]:
    """What stands under each top key, as plain dicts, lists and scalars; usual values only where ``usual``."""
    values = _section(BOOK, book, usual, leave_out=("hands", "gatherings"))
    values["hands"] = {hand.id: _section(HAND, hand, usual) for hand in book.hands}
    gatherings = _section(GATHERINGS, book.gatherings, usual)
    if book.gatherings.formula is not None:
        gatherings.pop("sheets", None)
    if gatherings:
        values["gatherings"] = gatherings
    if book.gatherings.exceptions:
        values["leaves"] = [_section(LEAF, leaf, usual) for leaf in book.gatherings.exceptions]
    return values


def key_lines(name: object, value: object, indent: int = 0) -> list[str]:
    """A key and its value as lines of ``book.yaml``."""
    return list(_entry(name, value, indent))


def item_lines(item: object, indent: int) -> list[str]:
    """An item of a list as lines of ``book.yaml``."""
    return list(_item(item, indent))


def _section(section: Section, made: object, whole: bool, leave_out: tuple[str, ...] = ()) -> dict[str, object]:
    usual = _usual(made)
    if section is MARGINS:
        canon = getattr(made, "canon", None) is not None
        leave_out, whole = (("inner", "head", "outer", "foot"), False) if canon else (("canon",), True)
    found: dict[str, object] = {}
    for key in section.keys:
        if key.name in leave_out or key.name not in usual:
            continue
        value = getattr(made, key.name)
        if key.needed or value != usual[key.name] or (whole and value is not None):
            found[key.name] = _value(key.holds, value, whole)
    return found


def _usual(made: Any) -> Mapping[str, object]:
    """The usual value of every part of a book or of one of its values; None where it has none."""
    if isinstance(made, tuple):
        return dict.fromkeys(made._fields) | made._field_defaults  # type: ignore[attr-defined, no-any-return]
    usual = ((field, field.default_factory) for field in fields(made))
    return {field.name: make() if make is not MISSING else field.default for field, make in usual}


def _value(holds: object, value: Any, whole: bool) -> object:
    if isinstance(holds, Section):
        return _section(holds, value, whole)
    if isinstance(holds, ListOf):
        return [_value(holds.sort, item, whole) for item in value]
    if isinstance(holds, ByName):
        return {name: _value(holds.sort, item, whole) for name, item in value.items()}
    return holds.write(value) if isinstance(holds, ValueKind) else value


def _entry(name: object, value: object, indent: int) -> Iterator[str]:
    """A key and its value: on one line where they fit, else each of its parts on lines of its own."""
    whole = f"{' ' * indent}{_scalar(name)}: {flow(value)}"
    if isinstance(value, Mapping) and (len(whole) > WIDEST or name == "hands"):
        yield f"{' ' * indent}{_scalar(name)}:"
        for part_name, part in value.items():
            yield from _entry(part_name, part, indent + 2)
    elif isinstance(value, list | tuple) and any(isinstance(item, Mapping) for item in value):
        yield f"{' ' * indent}{_scalar(name)}:"
        for item in value:
            yield from _item(item, indent + 2)
    else:
        yield whole


def _item(item: object, indent: int) -> Iterator[str]:
    whole = f"{' ' * indent}- {flow(item)}"
    if isinstance(item, Mapping) and len(whole) > WIDEST:
        mark = "- "
        for name, part in item.items():
            first, *rest = _entry(name, part, indent + 2)
            yield f"{' ' * indent}{mark}{first.lstrip(' ')}"
            yield from rest
            mark = "  "
    else:
        yield whole


def flow(value: object) -> str:
    """A value on one line, in brackets where it has parts."""
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{_scalar(name)}: {flow(part)}" for name, part in value.items()) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(map(flow, value)) + "]"
    if value is None:
        return ""
    return _scalar(value)


def _scalar(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return format(Decimal(repr(value)), "f").removesuffix(".0")
    if isinstance(value, date):
        return value.isoformat()
    text = str(value)
    if isinstance(value, AsWritten):
        return text
    plain = text[:1].isalpha() and text.isascii() and all(mark.isalnum() or mark in _PLAIN_MARKS for mark in text)
    if text[-1:] in "rv" and text[:-1].isdecimal() and text.isascii():
        return text
    if plain and not text.endswith(" ") and text.lower() not in _READ_OTHERWISE:
        return text
    quoted = json.dumps(text, ensure_ascii=False)
    return "".join(mark if mark.isprintable() else f"\\U{ord(mark):08X}" for mark in quoted)
