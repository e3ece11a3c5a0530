"""The one owner of standard output: results, for people or as one JSON document."""

from __future__ import annotations

import re
import sys
from contextlib import contextmanager
from typing import TYPE_CHECKING, TypeVar

from copydesk.book.common.sanitize import sanitize
from copydesk.book.common.text_table import laid_out

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from copydesk.book.columns import Report
    from copydesk.book.plan import Book

T = TypeVar("T")


def say(*lines: str) -> None:
    """Print lines for a person; whatever they hold is made harmless first."""
    for line in lines:
        print(_drawable(sanitize(_unaligned(line) if _in_sentences else line)))


def _drawable(line: str) -> str:
    """The line; where the terminal lacks what pictures are drawn with, plain characters stand for it."""
    try:
        line.encode(sys.stdout.encoding or "utf-8")
    except UnicodeEncodeError:
        from copydesk.papers.drawing.box_picture import PLAIN

        return line.translate(PLAIN)
    return line


def prompt(asks: str) -> str | None:
    """Ask for a line and give it; None where no more come."""
    try:
        return input(sanitize(asks))
    except EOFError:
        print()
        return None


def give_json(value: object) -> None:
    """Print one JSON document; what a terminal would obey, or would not show, stands in it as its code."""
    import json

    plain_utf8 = (sys.stdout.encoding or "").lower().replace("-", "") == "utf8"
    for line in json.dumps(value, ensure_ascii=not plain_utf8, indent=1).split("\n"):
        print(line if sanitize(line) == line else "".join(map(_coded, line)))


def _coded(character: str) -> str:
    """A character of a JSON text; its code where it is not for showing."""
    import json

    if sanitize(character) == character:
        return character
    return "\\u007f" if character == "\x7f" else json.dumps(character)[1:-1]


def give_text(text: str) -> None:
    """Print a text of several lines as it is, each made harmless."""
    say(*text.splitlines())


def give_bytes(data: bytes) -> None:
    """Write a file's content to standard output."""
    sys.stdout.flush()
    sys.stdout.buffer.write(data)


def table(heads: Sequence[str], rows: Iterable[Sequence[object]]) -> None:
    """Print rows in columns, figures to the right; as sentences where those are asked for."""
    if _in_sentences:
        say(*(row_sentence(heads, row) for row in rows))
        return
    for row in laid_out(heads, rows):
        print(row)


def table_of(report: Report[T], rows: Iterable[T], book: Book) -> None:
    """Print rows in the columns of their report."""
    table(report.headings(), (report.cells(row, book) for row in rows))


@contextmanager
def in_sentences() -> Iterator[None]:
    """While this lasts nothing is aligned: a row of a table is a sentence, a colon stands after what begins a line."""
    global _in_sentences  # noqa: PLW0603 - one program speaks to one terminal
    before, _in_sentences = _in_sentences, True
    try:
        yield
    finally:
        _in_sentences = before


_in_sentences = False


def row_sentence(heads: Sequence[str], row: Sequence[object]) -> str:
    """A row of a table as a sentence: each head with its cell, in the order of the columns, empty ones left out."""
    told = ((head, str(cell)) for head, cell in zip(heads, row, strict=True) if str(cell))
    return ", ".join(f"{head} {cell}".strip() for head, cell in told) + "."


def _unaligned(line: str) -> str:
    head, *rest = re.split(r" {2,}", line.strip())
    return f"{head}: {', '.join(rest)}" if rest else head
