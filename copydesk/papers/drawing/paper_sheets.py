"""Paper that comes out of a printer: its sizes, and a PDF of such sheets drawn on in millimetres.

Places are mm from the upper left corner of the sheet. The same marks give the same bytes on every day and machine.
"""

from __future__ import annotations

import io
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from copydesk.book.common.errors import UnknownNameError
from copydesk.book.common.sanitize import sanitize
from copydesk.papers.drawing.fonts import face
from copydesk.papers.drawing.shapes import LOOKS, Box, DrawnLine, Mark, Pen, Ring, Words
from copydesk.papers.drawing.typesetting import BOLD, ROMAN, fitting, lacking_words, setting

if TYPE_CHECKING:
    from collections.abc import Iterator

    from reportlab.pdfgen.canvas import Canvas


_POINTS_PER_MM = 72 / 25.4
_FOOT, _SMALL = 6.0, 2.4  # how far from the edges a remark stands, and its letters, mm


@dataclass(frozen=True, slots=True)
class Paper:
    """A size of paper held upright, in mm."""

    name: str
    width: float
    height: float

    @property
    def turned(self) -> Paper:
        """The same paper lying on its long side."""
        return Paper(self.name, self.height, self.width)


PAPERS: dict[str, Paper] = {
    paper.name.lower(): paper for paper in (Paper("A4", 210.0, 297.0), Paper("Letter", 215.9, 279.4))
}
"""A4 by ISO 216; Letter is 8½ × 11 inches (ANSI/ASME Y14.1)."""


def paper_named(name: str) -> Paper:
    """The paper called ``name``, in any letter case.

    Raises:
        UnknownNameError: where we print on no such paper.
    """
    found = PAPERS.get(name.strip().lower())
    if found is None:
        raise UnknownNameError(
            f"no paper is called {name!r}; choose {' or '.join(paper.name for paper in PAPERS.values())}"
        )
    return found


class SheetOfPaper:
    """A PDF being drawn, one sheet after another: marks, words, then :meth:`next_sheet`, at last :meth:`finish`."""

    def __init__(self, paper: Paper, title: str) -> None:
        """Take up the first sheet of ``paper``; ``title`` is what a reader shows in its window."""
        from reportlab.pdfgen.canvas import Canvas

        self._bytes = io.BytesIO()
        self._canvas: Canvas = Canvas(self._bytes, invariant=True)
        self._canvas.setTitle(sanitize(title))
        self._canvas.setAuthor("copydesk")
        self._lacking: dict[str, Literal["new", "told"]] = {}
        self.paper = paper
        self.sheets = 1
        self._begin()

    def next_sheet(self, paper: Paper | None = None) -> None:
        """Lay this sheet aside and take up another, of the same paper unless told."""
        self._canvas.showPage()
        self.paper = paper or self.paper
        self.sheets += 1
        self._begin()

    def letters_lacking(self) -> str:
        """What is to be said of letters our typeface lacks, each told once; empty where there are none."""
        new = [letter for letter, known in self._lacking.items() if known == "new"]
        self._lacking.update(dict.fromkeys(new, "told"))
        return lacking_words(new)

    def finish(self) -> bytes:
        """Lay the last sheet aside and give the whole file; letters lacking are told at the foot of that sheet."""
        if said := self.letters_lacking():
            room = self.paper.width - 2 * _FOOT
            self.write(_FOOT, self.paper.height - _FOOT, fitting(said, _SMALL, room), _SMALL)
        self._canvas.showPage()
        self._canvas.save()
        return self._bytes.getvalue()

    @contextmanager
    def window(self, left: float, top: float, size: tuple[float, float], shows: tuple[float, float]) -> Iterator[None]:
        """Draw within a window of ``size`` whose corner at ``left``, ``top`` shows the point ``shows`` of a drawing."""
        canvas = self._canvas
        canvas.saveState()
        path = canvas.beginPath()
        path.rect(_pt(left), self._up(top + size[1]), _pt(size[0]), _pt(size[1]))
        canvas.clipPath(path, stroke=0, fill=0)
        canvas.translate(_pt(left - shows[0]), -_pt(top - shows[1]))
        yield
        canvas.restoreState()

    def draw(self, mark: Mark) -> None:
        """Draw one mark."""
        if isinstance(mark, Words):
            self._words(mark)
            return
        self._take_up(mark.pen)
        fill = int(LOOKS[mark.pen].fill is not None)
        if isinstance(mark, DrawnLine):
            self._canvas.line(_pt(mark.x1), self._up(mark.y1), _pt(mark.x2), self._up(mark.y2))
        elif isinstance(mark, Box):
            low = self._up(mark.top + mark.height)
            self._canvas.rect(_pt(mark.left), low, _pt(mark.width), _pt(mark.height), stroke=1, fill=fill)
        elif isinstance(mark, Ring):
            self._canvas.circle(_pt(mark.x), self._up(mark.y), _pt(mark.radius), stroke=1, fill=fill)

    def write(self, x: float, y: float, text: str, size: float = 3.5, *, strong: bool = False) -> None:
        """Write one line of text with its baseline at ``y``."""
        self.draw(Words(x, y, text, size, strong=strong))

    def _begin(self) -> None:
        self._canvas.setPageSize((_pt(self.paper.width), _pt(self.paper.height)))

    def _up(self, y: float) -> float:
        """A height from the upper edge in mm as the file counts it: points from the lower edge."""
        return _pt(self.paper.height - y)

    def _take_up(self, pen: Pen) -> None:
        look = LOOKS[pen]
        self._canvas.setLineWidth(_pt(look.width))
        self._canvas.setStrokeColor(look.colour)
        self._canvas.setDash([_pt(dash) for dash in look.dashes])
        if look.fill is not None:
            self._canvas.setFillColor(look.fill)

    def _words(self, mark: Words) -> None:
        canvas = self._canvas
        set_text = setting(mark.text, BOLD if mark.strong else ROMAN)
        for letter in set_text.lacking:
            self._lacking.setdefault(letter, "new")
        back = {"start": 0.0, "middle": set_text.width / 2, "end": set_text.width}[mark.align]
        canvas.saveState()
        canvas.translate(_pt(mark.x), self._up(mark.y))
        canvas.rotate(90 if mark.upward else 0)
        canvas.setFillColor(mark.colour)
        stretched = mark.wide / (set_text.width * mark.size) if mark.wide and set_text.width else 1.0
        written = canvas.beginText(_pt(-back * mark.size * stretched), 0)
        if mark.wide:
            written.setHorizScale(100 * stretched)
        for run in set_text.runs:
            written.setFont(face(run.face).fontName, _pt(mark.size))
            written.setRise(_pt(run.above * mark.size))
            written.setCharSpace(_pt(run.after * mark.size))
            written.textOut(run.text)
        canvas.drawText(written)
        canvas.restoreState()


def _pt(length: float) -> float:
    return length * _POINTS_PER_MM
