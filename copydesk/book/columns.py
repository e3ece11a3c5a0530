"""Reports declared once: each column with its JSON key, its type, its meaning, its heading and how a cell is shown.

From one declaration follow the JSON of a verb, the CSV, the table on the terminal, the list at the desk and the
reference in ``copydesk help json``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from operator import attrgetter
from typing import TYPE_CHECKING, Any, Generic, TypeVar

from copydesk.book.common.text_table import laid_out

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable
    from datetime import date, datetime

    from copydesk.book.plan import Book
    from copydesk.book.structure.page import Page

T = TypeVar("T")

MISSING = object()
"""Stands for a value that a row does not have."""


class Cell(StrEnum):
    """What a value is in the JSON, in the words of the reference."""

    TEXT = "text"
    NUMBER = "number"
    YES_NO = "true or false"
    PAGE = "page, as 12r"
    DAY = "day, as 2027-03-31"
    MOMENT = "time, as 2027-03-31T09:00:00+01:00"
    TEXTS = "list of text"
    OBJECT = "object"
    ROWS = "list of objects"
    BY_NAME = "object by name"


@dataclass(frozen=True, slots=True)
class Column(Generic[T]):
    """One column of a report, or one key of an object.

    ``value`` gives what stands in the JSON: a function of the row, or the attributes that lead to it, joined by dots;
    where it is empty, the attribute called like the key. ``heading`` is the head of the column where people read it,
    empty where the column is not shown. ``shown`` gives the cell people read, from a row and the book (how it counts
    pages, its unit); where it is None, ``value`` does. ``of`` declares the objects inside. ``optional`` leaves the key
    out of the JSON where its value is None. ``csv`` gives another value for a spreadsheet.
    """

    key: str
    cell: Cell
    says: str
    value: Callable[[T], Any] | str = ""
    heading: str = ""
    shown: Callable[[T, Book], object] | None = None
    of: Report[Any] | None = None
    optional: bool = False
    csv: Callable[[T], object] | None = None

    def raw(self, row: T) -> Any:
        """What ``value`` gives of a row, objects inside not yet taken apart."""
        return self.value(row) if callable(self.value) else attrgetter(self.value or self.key)(row)

    def data(self, row: T) -> Any:
        """The value of one row for the JSON."""
        value = self.raw(row)
        if self.of is None or value is None or value is MISSING:
            return value
        if self.cell is Cell.ROWS:
            return [self.of.data(each) for each in value]
        if self.cell is Cell.BY_NAME:
            return {str(name): self.of.data(each) for name, each in value.items()}
        return self.of.data(value)

    def text(self, row: T, book: Book) -> object:
        """The cell people read; empty where nothing is known."""
        value = self.shown(row, book) if self.shown is not None else self.data(row)
        return "" if value is None else value


@dataclass(frozen=True, slots=True)
class Report(Generic[T]):
    """A list of rows, or one object: what it is called, what it holds, and its columns in the order of the JSON.

    ``last`` names columns that people read behind all others, as long texts are.
    """

    name: str
    says: str
    columns: tuple[Column[T], ...]
    rows: bool = True
    last: tuple[str, ...] = ()

    def data(self, row: T) -> dict[str, Any]:
        """One row, or the object, as plain data for other programs.

        Raises:
            KeyError: where a row that is plain data already has a key that is not declared.
        """
        if isinstance(row, Mapping) and (unknown := row.keys() - set(self.keys)):
            raise KeyError(f"{self.name}: no column is declared for {', '.join(sorted(unknown))}")
        pairs = ((column, column.data(row)) for column in self.columns)
        return {
            column.key: value
            for column, value in pairs
            if value is not MISSING and not (column.optional and value is None)
        }

    def all_data(self, rows: Iterable[T]) -> list[dict[str, Any]]:
        """Every row as plain data."""
        return [self.data(row) for row in rows]

    @property
    def keys(self) -> tuple[str, ...]:
        """The keys of the JSON, which are the heads of the CSV."""
        return tuple(column.key for column in self.columns)

    def csv_row(self, row: T) -> list[object]:
        """The values of one row in the order of ``keys``."""
        return [column.csv(row) if column.csv is not None else column.data(row) for column in self.columns]

    def without(self, *keys: str) -> Report[T]:
        """The same with these columns left out."""
        return replace(self, columns=tuple(column for column in self.columns if column.key not in keys))

    def only(self, *keys: str) -> Report[T]:
        """The same with these columns alone, in this order; one without a heading goes by its key."""
        columns = {column.key: column for column in self.columns}
        chosen = (columns[key] for key in keys)
        headed = (each if each.heading else replace(each, heading=each.key.replace("_", " ")) for each in chosen)
        return replace(self, columns=tuple(headed), last=())

    def headings(self) -> tuple[str, ...]:
        """The heads of the columns people read."""
        return tuple(column.heading for column in self._shown())

    def cells(self, row: T, book: Book) -> tuple[object, ...]:
        """The cells of one row that people read, in the order of ``headings``."""
        return tuple(column.text(row, book) for column in self._shown())

    def laid_out(self, rows: Iterable[T], book: Book) -> list[str]:
        """The heads and the rows as lines of text, a column under its head."""
        return laid_out(self.headings(), (self.cells(row, book) for row in rows))

    def _shown(self) -> list[Column[T]]:
        return sorted((column for column in self.columns if column.heading), key=lambda each: each.key in self.last)


def rows_of(name: str, says: str, *columns: Column[T], last: tuple[str, ...] = ()) -> Report[T]:
    """The report that is a list of rows with these columns."""
    return Report(name, says, columns, last=last)


def one_of(name: str, says: str, *columns: Column[T]) -> Report[T]:
    """The report that is one object with these keys."""
    return Report(name, says, columns, rows=False)


def given(key: str, cell: Cell, says: str, *, of: Report[Any] | None = None) -> Column[Mapping[str, Any]]:
    """A column whose value stands in the row under the column's own key; left out of the JSON where it is not there."""
    return Column(key, cell, says, lambda row: row.get(key, MISSING), of=of)


def iso(when: date | datetime | None) -> str | None:
    """A day or a time for the JSON; None where it is not known."""
    return when.isoformat() if when is not None else None


def page_or_none(page: Page | None) -> str | None:
    """A page for the JSON, as ``12r``; None where there is none."""
    return str(page) if page is not None else None
