"""Which pages stand side by side on each sheet, against imposition tools that know nothing of this project.

The orders were printed by psbook (PyPI psutils 3.3.11 and Debian psutils 1.17), by pdfimpose 2.10.0 (saddle
and hardcover, 2x1) and by LaTeX pdfpages (``signature=``), and agree with one another and with a simulation of
folding that uses no formula. Pages count from 1 through the gathering; None is a blank the tool added.
"""

from __future__ import annotations

import pytest

from copydesk.book.structure.collation import Collation
from copydesk.book.structure.gathering import Lies, SheetSide
from copydesk.book.structure.leaf_additions import add_gathering
from copydesk.book.structure.leaf_changes import want
from copydesk.book.structure.page import LeafId, Page
from copydesk.book.structure.sheets import open_sheets, pile
from page_orders import ONE_GATHERING

# psbook -q -s N: gatherings of N pages.
SEVERAL = {
    (32, 16): "16 1 2 15 14 3 4 13 12 5 6 11 10 7 8 9 32 17 18 31 30 19 20 29 28 21 22 27 26 23 24 25",
    (40, 8): (
        "8 1 2 7 6 3 4 5 16 9 10 15 14 11 12 13 24 17 18 23 22 19 20 21 32 25 26 31 30 27 28 29 40 33 34 39 38 35 36 37"
    ),
    (24, 12): "12 1 2 11 10 3 4 9 8 5 6 7 24 13 14 23 22 15 16 21 20 17 18 19",
    (32, 4): "4 1 2 3 8 5 6 7 12 9 10 11 16 13 14 15 20 17 18 19 24 21 22 23 28 25 26 27 32 29 30 31",
}


def sides(collation: Collation) -> list[int | None]:
    """Every side of every sheet, left then right, outer then inner, as page numbers from 1."""
    return [
        page.index + 1 if page else None
        for gathering in collation.gatherings
        for sheet in open_sheets(collation, gathering.number)
        for side in (sheet.outer, sheet.inner)
        for page in (side.left, side.right)
    ]


@pytest.mark.parametrize("sheets", ONE_GATHERING)
def test_one_gathering(sheets: int) -> None:
    assert sides(Collation.regular(1, sheets)) == [int(page) for page in ONE_GATHERING[sheets].split()]


@pytest.mark.parametrize(("pages", "signature"), SEVERAL)
def test_several_gatherings(pages: int, signature: int) -> None:
    collation = Collation.regular(pages // signature, signature // 4)
    assert sides(collation) == [int(page) for page in SEVERAL[pages, signature].split()]


def test_gatherings_of_two_sizes() -> None:
    # The two single gatherings above, the second counted on from page 16.
    expected = ONE_GATHERING[4].split() + [str(int(page) + 16) for page in ONE_GATHERING[3].split()]
    assert sides(add_gathering(Collation.regular(1, 4), 6)) == [int(page) for page in expected]


def test_last_leaf_blank() -> None:
    # pdfpages signature=8 on 14 pages: the last two pages are blanks, that is the last leaf is not there.
    collation = want(Collation.regular(2, 2), LeafId("2.4"))
    assert sides(collation) == [8, 1, 2, 7, 6, 3, 4, 5, None, 9, 10, None, 14, 11, 12, 13]


def test_a_leaf_and_a_half_gone() -> None:
    # psbook -s 0 on 13 pages: three blanks at the end, so leaf 8 is not there and 7v is blank.
    collation = want(Collation.regular(1, 4), LeafId("1.8"))
    expected = [None, 1, 2, None, None, 3, 4, 13, 12, 5, 6, 11, 10, 7, 8, 9]
    assert sides(collation) == [14 if at == 4 else page for at, page in enumerate(expected)]


@pytest.mark.parametrize("sheets", ONE_GATHERING)
def test_place_of_each_page(sheets: int) -> None:
    collation = Collation.regular(1, sheets)
    order = [Page.at(int(page) - 1) for page in ONE_GATHERING[sheets].split()]
    for at, page in enumerate(order):
        place = collation.place(page)
        assert place.sheet == at // 4 + 1
        assert place.side is (SheetSide.INNER if at % 4 > 1 else SheetSide.OUTER)
        assert place.lies is (Lies.RIGHT if at % 2 else Lies.LEFT)
        assert place.conjugate == order[at ^ 1]


@pytest.mark.parametrize("leaves", [4, 8, 12])
def test_pile_has_the_innermost_on_top(leaves: int) -> None:
    # Common practice: the bottom sheet of an open pile carries the first and the last page.
    lying = pile(Collation.of_sizes([leaves]), 1)
    assert [str(page) for page in lying[-1].pages()] == ["1r", "1v", f"{leaves}r", f"{leaves}v"]
    assert lying[0].inner[:2] == (Page.at(leaves - 1), Page.at(leaves))


def test_four_sheets_are_sixteen_pages() -> None:
    # F. Déroche et al., Islamic Codicology, 2006, "The quires of a codex": once folded, two leaves.
    collation = Collation.regular(1, 4)
    assert (len(open_sheets(collation, 1)), collation.leaves, collation.pages) == (4, 8, 16)
