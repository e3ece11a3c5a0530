"""The mock-up, read back from its PDF and folded: against imposition tools, and by a simulation that knows no formula.

The orders are those that psbook printed (see ``page_orders``), with
which pdfimpose 2.10.0 and LaTeX pdfpages agree. The simulation takes the finished papers: it turns each over, lays
them on one another and folds them, by the places of the words on the paper alone.
"""

from __future__ import annotations

import io
from typing import Any, NamedTuple

import pdfplumber
import pytest

from copydesk.book.plan import Flaw, GatheringPlan
from copydesk.tracking.commands import leaf_commands as leaf_acts
from page_orders import ONE_GATHERING
from papers_made import made
from small_book import SmallBook

MM = 25.4 / 72
NAME = 3.4
"""How large the names of pages are written, in mm; nothing else on the paper is."""


class Name(NamedTuple):
    """The name of a page and where on its side of the paper it stands, in mm."""

    name: str
    x: float


class Side(NamedTuple):
    """One side of a piece of paper as it comes out of the printer: its width, the pages on it, which paper it is."""

    width: float
    pages: tuple[Name, ...]
    said: str


def papers(book: SmallBook, paper: str = "A4") -> list[tuple[Side, Side]]:
    """The front and the back of each piece of paper."""
    with pdfplumber.open(io.BytesIO(made(book, "dummy", paper=paper))) as pdf:
        sides = [_side(page) for page in pdf.pages]
    return list(zip(sides[::2], sides[1::2], strict=True))


def _side(page: Any) -> Side:
    words = page.extract_words(extra_attrs=["size", "fontname"])
    names = [word for word in words if abs(word["size"] * MM - NAME) < 0.01 and "Bold" in word["fontname"]]
    found = (Name(word["text"], (word["x0"] + word["x1"]) / 2 * MM) for word in names)
    return Side(page.width * MM, tuple(sorted(found, key=lambda each: each.x)), page.extract_text())


def number(name: str) -> int:
    """The page's place in the reading order, from 1."""
    return int(name[:-1]) * 2 - (name[-1] == "r")


@pytest.mark.parametrize("sheets", ONE_GATHERING)
def test_pages_stand_where_imposition_tools_put_them(sheets: int) -> None:
    book = SmallBook(gatherings=GatheringPlan(sheets, 2))
    expected = [int(page) for page in ONE_GATHERING[sheets].split()]
    expected += [page + 4 * sheets for page in expected]
    printed = [number(page.name) for paper in papers(book) for side in paper for page in side.pages]
    assert printed == expected


def folded(gathering: list[tuple[Side, Side]]) -> list[str]:
    """The pages in the order of reading, of papers laid into one another and folded with the fronts outside.

    The papers lie with their fronts down, the first lowest. What the printer put at ``x`` of a front then lies at
    ``width - x``, under what stands there on the back, as the paper was turned over on its short edge.
    """
    right: list[tuple[str, str]] = []  # what lies above and below on the right half of the pile, from the top
    left: list[tuple[str, str]] = []
    for front, back in reversed(gathering):
        middle = front.width / 2
        for pile, half in ((left, lambda x, middle=middle: x < middle), (right, lambda x, middle=middle: x > middle)):
            above = [page.name for page in back.pages if half(page.x)]
            below = [page.name for page in front.pages if half(front.width - page.x)]
            assert len(above) == len(below)
            pile.extend(zip(above, below, strict=True))
    # the left half is turned over on to the right one: the lowest of it comes to lie on top, its under side up
    leaves = [(below, above) for above, below in reversed(left)] + right
    return [name for leaf in leaves for name in leaf]


def read(book: SmallBook, paper: str = "A4") -> list[str]:
    """Every page in the order it is met in the folded book."""
    gatherings: dict[str, list[tuple[Side, Side]]] = {}
    for front, back in papers(book, paper):
        (own,) = {side.said.split("gathering ")[1].split(",")[0] for side in (front, back)}
        gatherings.setdefault(own, []).append((front, back))
    return [name for gathering in gatherings.values() for name in folded(gathering)]


@pytest.mark.parametrize("paper", ["A4", "letter"])
@pytest.mark.parametrize("sheets", [1, 2, 4, 5])
def test_folded_and_nested_it_reads_in_order(sheets: int, paper: str) -> None:
    book = SmallBook(gatherings=GatheringPlan(sheets, 3))
    assert read(book, paper) == [str(page) for page in book.state.collation.all_pages()]


def test_with_single_leaves_it_reads_in_order_too() -> None:
    book = SmallBook(words=700, flaws=(Flaw(6, 20.0, 20.0, 11.0, 7.0),))
    book.do(leaf_acts.cancel_leaf(book.state, 3))
    book.do(leaf_acts.replace_leaf(book.state, 5))
    found = read(book)
    assert sorted(found, key=number) == [str(page) for page in book.state.collation.all_pages()]
    whole = [str(page) for page in book.state.collation.all_pages() if book.state.collation.place(page).conjugate]
    assert [name for name in found if name in whole] == whole


def test_front_and_back_of_a_page_lie_behind_one_another() -> None:
    for front, back in papers(SmallBook(), "letter"):
        assert front.width == back.width == pytest.approx(279.4, abs=0.01)
        for one, other in zip(front.pages, reversed(back.pages), strict=True):
            # names stand by the fore edge of their page, so those of a leaf at the same distance from the fold
            assert abs(one.x - front.width / 2) == pytest.approx(abs(other.x - front.width / 2), abs=1.0)
