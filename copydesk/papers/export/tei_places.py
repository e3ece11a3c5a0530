"""How a description points at places of the book and gives sizes: ``locus``, ``locusGrp`` and ``dimensions``."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.structure.foliation import page_label
from copydesk.papers.export.xml_elements import element, listed

if TYPE_CHECKING:
    from collections.abc import Iterable
    from xml.etree.ElementTree import Element

    from copydesk.book.structure.foliation import Numbering
    from copydesk.book.structure.page import Page


class PageLine(NamedTuple):
    """A line of a page, from 1, and its column, 0 where the page has only one."""

    column: int
    line: int

    @property
    def short(self) -> str:
        """``:15``, or with the column's letter ``b:15``."""
        return f"{chr(ord('a') + self.column - 1) if self.column else ''}:{self.line}"

    def __str__(self) -> str:
        """``line 15``, or ``column 2 line 15``."""
        return f"column {self.column} line {self.line}" if self.column else f"line {self.line}"


class PageSpan(NamedTuple):
    """From a page to a page, both within it; the lines where it begins or ends if that is within a page."""

    first: Page
    last: Page
    begins: PageLine | None = None
    ends: PageLine | None = None


def locus(span: PageSpan, numbering: Numbering = "arabic") -> Element:
    """Where something stands; its attributes have no blanks (TEI: ``teidata.word``), as in ``72v:4``."""
    begins = f"{span.first}{span.begins.short if span.begins else ''}"
    ends = f"{span.last}{span.ends.short if span.ends else ''}"
    return element("locus", {"from": begins, "to": ends}, _label(span, numbering))


def loci(spans: Iterable[PageSpan], numbering: Numbering = "arabic") -> Element | None:
    """Several places as one element; None where there is none."""
    found = [locus(span, numbering) for span in spans]
    if len(found) < 2:
        return found[0] if found else None
    return element("locusGrp", *found)


def runs(pages: Iterable[Page]) -> list[PageSpan]:
    """Pages in rising order, those that follow each other put together."""
    found: list[PageSpan] = []
    for page in pages:
        if found and page.index == found[-1].last.index + 1:
            found[-1] = found[-1]._replace(last=page)
        else:
            found.append(PageSpan(page, page))
    return found


def _label(span: PageSpan, numbering: Numbering) -> str:
    first, last = page_label(span.first, numbering), page_label(span.last, numbering)
    begins = f" {span.begins}" if span.begins else ""
    if span.first != span.last:
        return f"{first}{begins}–{last}{f' {span.ends}' if span.ends else ''}"
    if span.ends:
        return f"{first}{begins} to {span.ends}"
    return f"{first} from{begins}" if begins else first


def dimensions(sort: str, height: float, width: float) -> Element:
    """A height and a width in mm, to a hundredth."""
    sizes = (
        element(name, {"quantity": figure(size)}, figure(size)) for name, size in (("height", height), ("width", width))
    )
    return element("dimensions", {"type": sort, "unit": "mm"}, *listed(sizes, " "))


def figure(number: float) -> str:
    """A figure to a hundredth, without noughts at its end."""
    return f"{number:.2f}".rstrip("0").rstrip(".")
