"""What happened to a leaf, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import InvalidValueError
from copydesk.book.common.phrases import count_of
from copydesk.book.common.units import Unit, show_length, show_size
from copydesk.book.structure.leaf_ids import gathering_of, start_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.book.plan import Book
    from copydesk.tracking.ledger.entry import Entry


def describe_leaf(entry: Entry, book: Book | None = None) -> str:
    """What an entry about a leaf says: ``leaf 5 cancelled, its stub kept``; lengths in the book's unit."""
    if entry.what == "flaw":
        return _flaw(entry, book)
    words = _WORDS.get(entry.what)
    return words(entry, book) if words is not None else f"{leaf_name(entry, book)} {entry.what}"


def leaf_name(entry: Entry, book: Book | None = None) -> str:
    """The leaf an entry is about, by its number on the day, or by what it is called as a piece of skin."""
    number = entry.number("number")
    if number is not None and number > 0 and book is not None:
        return book.leaf_named(number)
    return f"leaf {number if number is not None else entry.about}"


def _replaced(entry: Entry, book: Book | None) -> str:
    sheet = entry.text("sheet")
    if sheet:
        return f"sheet {sheet} changed for a blank one"
    return f"{leaf_name(entry, book)} cancelled, a blank leaf tipped in at its place"


def _added_after(entry: Entry, book: Book | None) -> str:
    held = "tipped in" if entry.facts.get("tipped") is True else "hooked on a stub"
    shown = f", {entry.text('recto')} on its recto" if entry.text("recto") else ""
    start = _start(entry)
    where = f"before the first leaf of gathering {start}" if start else f"after {leaf_name(entry, book)}"
    return f"a leaf added {where}, {held}{shown}"


def _added_inside(entry: Entry, _book: Book | None) -> str:
    start = _start(entry)
    where = f"round gathering {start}" if start else f"inside sheet {entry.text('sheet')}"
    shown = f", {entry.text('outward')} outward" if entry.text("outward") else ""
    return f"a sheet added {where}{shown}"


def _added_gathering(entry: Entry, _book: Book | None) -> str:
    shown = f", {entry.text('outward')} outward" if entry.text("outward") else ""
    return f"gathering {_start(entry)} added, {count_of(entry.number('leaves') or 0, 'leaf', 'leaves')}{shown}"


def _flaw(entry: Entry, book: Book | None) -> str:
    unit: Unit = book.unit if book is not None else "mm"
    from_head, from_fold, width, height = (
        entry.amount(name) or 0.0 for name in ("from_head", "from_fold", "width", "height")
    )
    return (
        f"{leaf_name(entry, book)} flawed, {show_size(width, height, unit)}, "
        f"{show_length(from_head, unit)} from the head and {show_length(from_fold, unit)} from the fold"
    )


_WORDS: dict[str, Callable[[Entry, Book | None], str]] = {
    "cancelled": lambda entry, book: f"{leaf_name(entry, book)} cancelled, its stub kept",
    "wanting": lambda entry, book: f"{leaf_name(entry, book)} wanting",
    "replaced": _replaced,
    "added-after": _added_after,
    "added-inside": _added_inside,
    "added-gathering": _added_gathering,
}


def _start(entry: Entry) -> int | None:
    """The gathering whose beginning the entry names, or None."""
    try:
        number = gathering_of(entry.about)
    except InvalidValueError:
        return None
    return number if entry.about == start_of(number) else None
