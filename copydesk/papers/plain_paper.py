"""The same headings, paragraphs and tables as a plain text, for those who read papers on a screen or by ear."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING, Protocol

from copydesk.book.common.phrases import say_day
from copydesk.book.common.sanitize import plain

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from copydesk.papers.catalogue import PaperRequest


BOX, TICKED = "[ ]", "[x]"
"""What is to be ticked with the pen, and what was ticked already."""

BLANK = "________________"
"""Room for a word to be written in."""

WIDTH = 78
"""Letters to a line of the text."""

_LEAST = 4  # letters of a column, however small its share


class Writer(Protocol):
    """What a paper is written into, whatever it is made as."""

    def heading(self, text: str) -> None:
        """Write a heading."""

    def paragraph(self, text: str, *, strong: bool = False) -> None:
        """Write a paragraph."""

    def table(self, names: Sequence[str], rows: Sequence[Sequence[str]], shares: Sequence[float]) -> None:
        """Write a table: its columns' names, its rows, each column's share of the width."""


def in_either_form(order: PaperRequest, title: str, write: Callable[[Writer], None]) -> bytes:
    """What ``write`` writes, as PDF or as text, with the day below the title.

    Raises:
        UnknownNameError: where we print on no such paper.
    """
    today = say_day(order.job.clock().date())
    if order.form == "text":
        text = PlainPaper(title, today)
        write(text)
        return text.finish().encode()
    from copydesk.papers.drawing.flowing_text import FlowingPaper

    paper = FlowingPaper(title, order.paper, today)
    write(paper)
    return paper.finish()


class PlainPaper:
    """A plain text being written from the top down."""

    def __init__(self, title: str, note: str = "") -> None:
        """Begin with the title; ``note`` (a date, a name) stands below it."""
        self._lines = [*_wrapped(title, WIDTH), "=" * min(len(title), WIDTH), *([plain(note)] if note else [])]

    def heading(self, text: str) -> None:
        """Write a heading with a line below it."""
        self._lines += ["", *_wrapped(text, WIDTH), "-" * min(len(plain(text)), WIDTH)]

    def paragraph(self, text: str, *, strong: bool = False) -> None:
        """Write a paragraph; what is ``strong`` stands in from the edge."""
        indent = "    " if strong else ""
        self._lines += [f"{indent}{line}" for line in _wrapped(text, WIDTH - len(indent))]

    def table(self, names: Sequence[str], rows: Sequence[Sequence[str]], shares: Sequence[float]) -> None:
        """Write a table, its cells wrapped; columns without a name have no heading."""
        widths = [max(round((WIDTH - 2 * len(shares)) * share / sum(shares)), _LEAST) for share in shares]
        if any(names):
            self._lines += _row(names, widths)
        for row in rows:
            self._lines += _row(row, widths)

    def finish(self) -> str:
        """The whole text."""
        return "\n".join(line.rstrip() for line in self._lines) + "\n"


def _row(cells: Sequence[str], widths: Sequence[int]) -> Iterator[str]:
    """The lines of one row of a table."""
    parts = [_wrapped(cell, width) for cell, width in zip(cells, widths, strict=True)]
    for at in range(max(map(len, parts), default=0)):
        lines = (part[at] if at < len(part) else "" for part in parts)
        yield "  ".join(f"{line:{width}}" for line, width in zip(lines, widths, strict=True))


def _wrapped(text: str, width: int) -> list[str]:
    return textwrap.wrap(plain(text), width, break_on_hyphens=False) or [""]
