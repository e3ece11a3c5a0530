"""Rows in columns for people: each column as wide as what stands in it, figures to the right, thousands grouped."""

from __future__ import annotations

from typing import TYPE_CHECKING
from unicodedata import category, east_asian_width

from copydesk.book.common.phrases import grouped, with_marks
from copydesk.book.common.sanitize import sanitize

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence


def laid_out(heads: Sequence[str], rows: Iterable[Sequence[object]]) -> list[str]:
    """The heads and the rows as lines of text, two cells between columns."""
    cells = [[_shown(cell) for cell in row] for row in rows]
    widths = [max([width_of(head), *(width_of(row[at]) for row in cells)]) for at, head in enumerate(heads)]
    right = [all(_is_figure(row[at]) for row in cells) for at in range(len(heads))]
    return [
        "  ".join(
            " " * (width - width_of(cell)) + cell if to_right else cell + " " * (width - width_of(cell))
            for cell, width, to_right in zip(row, widths, right, strict=True)
        ).rstrip()
        for row in [list(heads), *cells]
    ]


def aligned(rows: Iterable[Sequence[object]]) -> list[str]:
    """The same without heads."""
    rows = list(rows)
    return laid_out([""] * len(rows[0]), rows)[1:] if rows else []


def width_of(text: str) -> int:
    """Terminal cells a text takes: wide letters two, combining marks none."""
    if text.isascii():
        return len(text)
    shown = (letter for letter in text if category(letter) not in ("Mn", "Me", "Cf"))
    return sum(2 if east_asian_width(letter) in "WF" else 1 for letter in shown)


def _shown(cell: object) -> str:
    if isinstance(cell, int) and not isinstance(cell, bool):
        return grouped(cell)
    return with_marks(str(cell)) if isinstance(cell, float) else sanitize(str(cell))


def _is_figure(cell: str) -> bool:
    return not cell or cell.lstrip("-").translate(_WITHIN_FIGURES).isdigit()


_WITHIN_FIGURES = {ord(mark): None for mark in ",./\u00a0"}
