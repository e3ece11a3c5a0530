"""A whole book as one JSON document, and such a document read back.

Its keys stand a line each, and so do the entries, so that two documents can be laid side by side::

    {"copydesk": "0.1.0",
    "schema": 1,
    "mark": "9f0c…",
    "plan": {"title": "…", …},
    "book_yaml": "…",
    "exemplar": "…",
    "samples": {"samples/b.txt": "…"},
    "entries": [
    {"entry": "…", "tick": 1, …},
    …
    ]}
"""

from __future__ import annotations

import json
from functools import partial
from typing import TYPE_CHECKING, Any

from copydesk.book.common.errors import BadFileError, Problem
from copydesk.store.files.text_file import bad_file, decode, read_bytes, shown
from copydesk.store.folder.new_book import encoded
from copydesk.store.folder.snapshot import Snapshot
from copydesk.store.journal.line_format import SCHEMA
from copydesk.store.plan_file.book_file import parse_plan
from copydesk.store.plan_file.plan_data import book_from_data, plan_as_data
from copydesk.store.plan_file.plan_text import plan_text

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from copydesk.book.plan import Book


LARGEST = 2_000_000_000
"""Bytes of a document."""
_SORTS: Mapping[str, tuple[tuple[type, ...], str]] = {
    "copydesk": ((str,), "a text: the version that wrote it"),
    "schema": ((int,), "a whole number: the form it is in"),
    "mark": ((str, type(None)), "a text or null: the mark its ledger bears"),
    "plan": ((dict,), "the plan, with the keys of book.yaml"),
    "book_yaml": ((str,), "a text: book.yaml as it was written"),
    "exemplar": ((str, type(None)), "a text or null: the exemplar"),
    "samples": ((dict,), "texts by the names of their files"),
    "entries": ((list,), "a list of entries"),
}
_NEEDED = ("copydesk", "schema", "exemplar", "samples", "entries")
_UNSEEN = (*range(0x7F, 0xA0), 0xAD, 0x61C, 0x180E, *range(0x200B, 0x2010), *range(0x2028, 0x202F), 0xFEFF)
_ESCAPED = {code: f"\\u{code:04x}" for code in (*_UNSEEN, *range(0x2060, 0x2070), *range(0xFFF9, 0xFFFC))}
"""Signs that a terminal obeys or that turn the line: in a document they can stand only within texts, as codes."""


def snapshot_as_json(whole: Snapshot, version: str) -> str:
    """The document that holds a whole book; ``version`` is the program's."""
    exemplar = whole.book.exemplar.text
    samples = {hand.sample for hand in whole.book.hands}
    parts = {
        "copydesk": version,
        "schema": whole.schema,
        "mark": whole.mark or None,
        "plan": plan_as_data(whole.book),
        "book_yaml": whole.plan,
        "exemplar": None if exemplar is None else whole.texts[exemplar],
        "samples": {name: text for name, text in whole.texts.items() if name in samples},
    }
    lines = [f"{_encode(name)}: {_encode(value)}" for name, value in parts.items()]
    entries = ",".join(f"\n{_encode(entry)}" for entry in whole.entries)
    return "{" + ",\n".join(lines) + f',\n"entries": [{entries}\n]}}\n'


def _encode(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False).translate(_ESCAPED)


def read_snapshot(path: Path, name: str) -> Snapshot:
    """The book in the document at ``path``, which a person knows by ``name``.

    Raises:
        BadFileError: where it cannot be read or is no such document, with what is wrong in it.
    """
    return snapshot_from_json(decode(read_bytes(path, name, LARGEST), name), name)


def snapshot_from_json(text: str, name: str) -> Snapshot:
    """The book that a document holds.

    Raises:
        BadFileError: where it is not JSON (with line and column) or no such document.
    """
    parts = _parsed(text, name)
    if not isinstance(parts, dict):
        raise bad_file(name, "is no book: it holds no keys with values; name a file that copydesk export wrote")
    _expect_parts(parts, name)
    written = parts.get("book_yaml")
    book = _book(parts, name)
    return Snapshot(
        plan=plan_text(book) if written is None else written,
        book=book,
        texts=_texts(book, parts["exemplar"], parts["samples"], name),
        mark=parts.get("mark") or "",
        schema=parts["schema"],
        entries=parts["entries"],
    )


def _parsed(text: str, name: str) -> object:
    """The document as plain data."""
    try:
        return json.loads(text, object_pairs_hook=partial(_once, name), parse_constant=partial(_no_number, name))
    except json.JSONDecodeError as error:
        what = f"this is not JSON ({error.msg[:1].lower()}{error.msg[1:]}); put it right, or export the book again"
        raise BadFileError(Problem(name, error.lineno, error.colno, what)) from None
    except RecursionError:
        raise bad_file(name, "values are nested too deeply; export the book again") from None
    except ValueError:
        raise bad_file(name, "holds a number of thousands of figures; export the book again") from None


def _once(name: str, pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """A dict of pairs, each key of which may stand there once."""
    found = dict(pairs)
    if len(found) < len(pairs):
        keys = [key for key, _ in pairs]
        twice = next(key for key in found if keys.count(key) > 1)
        raise bad_file(name, f"the key {shown(twice)} is given twice in one pair of braces; keep one")
    return found


def _no_number(name: str, word: str) -> object:
    raise bad_file(name, f"holds {word}, which is no number; write a number, or null")


def _expect_parts(parts: Mapping[str, Any], name: str) -> None:
    """See that the document has what it needs, and nothing this program would lose."""
    schema = parts.get("schema")
    if type(schema) is int and schema > SCHEMA:
        what = f"was written by a newer copydesk (its form is {schema}, this program knows {SCHEMA}); use the newer one"
        raise bad_file(name, what)
    said = [f"has no {key!r}; write {_SORTS[key][1]}" for key in _NEEDED if key not in parts]
    if "plan" not in parts and "book_yaml" not in parts:
        said.append(f"has no 'plan'; write {_SORTS['plan'][1]}")
    for key, value in parts.items():
        if key not in _SORTS:
            said.append(f"has the key {shown(key)}, which means nothing here; it may have {', '.join(_SORTS)}")
        elif not isinstance(value, _SORTS[key][0]) or isinstance(value, bool):
            said.append(f"has a {key!r} that cannot be; write {_SORTS[key][1]}")
    if said:
        raise bad_file(name, *said)


def _book(parts: Mapping[str, Any], name: str) -> Book:
    """The book of the plan, be it given as data, as people wrote it, or both ways alike."""
    if "book_yaml" not in parts:
        return book_from_data(parts["plan"], f"{name}, plan")
    encoded("book_yaml", parts["book_yaml"])
    book = parse_plan(parts["book_yaml"], f"{name}, book_yaml").finish()
    if "plan" in parts and book_from_data(parts["plan"], f"{name}, plan") != book:
        raise bad_file(name, "its plan and its book_yaml say different things; take out the one that is not meant")
    return book


def _texts(book: Book, exemplar: str | None, samples: Mapping[str, Any], name: str) -> dict[str, str]:
    """The texts by the names of their files."""
    said = [f"the sample {shown(file)} is no text; write one" for file in samples if type(samples[file]) is not str]
    named: Sequence[str | None] = [hand.sample for hand in book.hands]
    said += [f"no hand has the sample {shown(file)}; take it out" for file in samples if file not in named]
    texts: dict[str, str] = dict(samples)
    file = book.exemplar.text
    if file is not None and exemplar is not None:
        if texts.setdefault(file, exemplar) != exemplar:
            said.append(f"the exemplar and a sample are both called {shown(file)} and differ; give one another name")
    elif file != exemplar:
        said.append("the plan names an exemplar's file and there is no exemplar, or the other way; give both or none")
    if said:
        raise bad_file(name, *said)
    return texts
