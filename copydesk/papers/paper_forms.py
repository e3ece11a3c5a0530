"""How every paper is made: written ones as PDF or text, drawn ones as PDF or SVG, either as lines of plain text."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING, Literal, NamedTuple, Protocol

from copydesk.book.common.phrases import say_day
from copydesk.book.common.sanitize import sanitize
from copydesk.papers.drawing.shapes import BLANK, BOX, TICKED, SmallDrawing

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence

    from copydesk.book.structure.gathering import SheetSide
    from copydesk.book.structure.page import Page
    from copydesk.book.structure.sheets import OpenSheet
    from copydesk.job import Job
    from copydesk.papers.drawing.shapes import Drawing


__all__ = [
    "BLANK",
    "BOX",
    "TICKED",
    "WIDTH",
    "Cell",
    "Form",
    "PaperRequest",
    "PlainPaper",
    "Writer",
    "drawn",
    "written",
]

Cell = str | SmallDrawing
"""What stands in a table: words, a box to tick, a blank to write in, or a small drawing."""

Form = Literal["pdf", "svg", "text"]
"""What a paper can be made as."""

WIDTH = 78
"""Letters to a line of the text."""

_LEAST = 4  # letters of a column, however small its share
_SHORT = 14  # letters of a cell that shares its line with others


class PaperRequest(NamedTuple):
    """A paper asked for: the book, its form, the printer's paper, and what of the book it is for.

    That is a page, or a loose sheet, or a ``side`` of it, where it is not the whole book. ``strips`` asks for lines to
    be cut apart.
    """

    job: Job
    form: Form
    page: Page | None = None
    paper: str = "A4"
    sheet: OpenSheet | None = None
    side: SheetSide | None = None
    strips: bool = False


class Writer(Protocol):
    """What a written paper is written into, whatever it is made as."""

    def heading(self, text: str) -> None:
        """Write a heading."""

    def subheading(self, text: str) -> None:
        """Write a heading of a lower rank."""

    def paragraph(self, text: str, *, strong: bool = False) -> None:
        """Write a paragraph."""

    def lead(self, text: str) -> None:
        """Write a paragraph that belongs to the heading above it and keeps with what follows."""

    def table(
        self,
        names: Sequence[str],
        rows: Sequence[Sequence[Cell]],
        shares: Sequence[float],
        alike: Sequence[Sequence[Cell]] = (),
    ) -> None:
        """Write a table: its columns' names, its rows, each column's share of the width where that is in letters.

        On paper each column is as wide as what stands in it needs. Tables with the same ``alike``, the rows of all of
        them, have the same columns.
        """


def written(order: PaperRequest, title: str, write: Callable[[Writer], None]) -> bytes:
    """What ``write`` writes, as PDF or as text, with the day below the title or at the foot of each sheet.

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


def drawn(order: PaperRequest, drawings: Callable[[], Sequence[Drawing]], lines: Callable[[], Iterable[str]]) -> bytes:
    """What is drawn, as PDF or SVG, or the same told in ``lines``; only what the form needs is worked out.

    Raises:
        UnknownNameError: where we print on no such paper.
    """
    if order.form == "text":
        return "\n".join([*lines(), ""]).encode()
    from copydesk.papers.drawing.tiling import drawing_file

    return drawing_file(drawings(), order.form, order.paper)


class PlainPaper:
    """A plain text being written from the top down, for those who read papers on a screen or by ear."""

    def __init__(self, title: str, note: str = "") -> None:
        """Begin with the title; ``note`` (a date, a name) stands below it."""
        self._lines = [*_wrapped(title, WIDTH), "=" * min(len(title), WIDTH), *([sanitize(note)] if note else [])]

    def heading(self, text: str) -> None:
        """Write a heading with a line below it."""
        blank = [""] if self._lines[-1] else []
        self._lines += [*blank, *_wrapped(text, WIDTH), "-" * min(len(sanitize(text)), WIDTH)]

    def subheading(self, text: str) -> None:
        """Write a heading of a lower rank, in from the edge."""
        self.paragraph(text, strong=True)

    def paragraph(self, text: str, *, strong: bool = False) -> None:
        """Write a paragraph; what is ``strong`` stands in from the edge."""
        indent = "    " if strong else ""
        self._lines += [f"{indent}{line}" for line in _wrapped(text, WIDTH - len(indent))]

    def lead(self, text: str) -> None:
        """Write a paragraph under a heading."""
        self.paragraph(text)

    def table(
        self,
        names: Sequence[str],
        rows: Sequence[Sequence[Cell]],
        shares: Sequence[float],
        alike: Sequence[Sequence[Cell]] = (),  # noqa: ARG002 - the shares make tables alike here
    ) -> None:
        """Write a table, its cells wrapped; columns without a name have no heading, those of drawings are left out.

        Where a column is too narrow for its own name there are too many for the width: then each row is written as
        an entry of several lines, its cells one under another.
        """
        drawn_at = {at for row in rows for at, cell in enumerate(row) if not isinstance(cell, str)}
        names, *said = (
            [each for at, each in enumerate(row) if isinstance(each, str) and at not in drawn_at]
            for row in (names, *rows)
        )
        shares = [share for at, share in enumerate(shares) if at not in drawn_at]
        widths = [max(round((WIDTH - 2 * len(shares)) * share / sum(shares)), _LEAST) for share in shares]
        if any(len(word) > width for name, width in zip(names, widths, strict=True) for word in name.split()):
            self._lines += (line for row in said for line in _entry(names, row))
            self._lines.append("")
            return
        for row in (names, *said) if any(names) else said:
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


def _entry(names: Sequence[str], row: Sequence[str]) -> Iterator[str]:
    """A row as an entry: its first cells, then a line for each other that holds something; short ones share one."""
    heads = next((at for at, name in enumerate(names) if name), 0) + 1
    told = [f"{name} {cell}" for name, cell in zip(names[heads:], row[heads:], strict=True) if cell]
    short = [each for each in told if len(each) <= _SHORT]
    yield ""
    yield from textwrap.wrap(sanitize(" ".join(row[:heads])), WIDTH, subsequent_indent="    ")
    for each in (*(each for each in told if each not in short), "   ".join(short)):
        yield from textwrap.wrap(sanitize(each), WIDTH, initial_indent="    ", subsequent_indent="      ")


def _wrapped(text: str, width: int) -> list[str]:
    return textwrap.wrap(sanitize(text), width, break_on_hyphens=False) or [""]
