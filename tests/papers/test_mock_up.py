"""What the mock-up shows of each page; how it folds is tried against outside sources."""

from __future__ import annotations

import io
from typing import Any

import pdfplumber
import pytest

from copydesk.book.plan import Anchor, Columns, Flaw, GatheringPlan, Margins, PageSize, Ruling, SpacePlan
from copydesk.papers.drawing.paper_sheets import PAPERS
from copydesk.papers.drawing.shapes import LOOKS
from copydesk.tracking.commands import leaf_commands as leaf_acts
from papers_made import made, pages
from small_book import SmallBook
from text_book import TextBook

MM = 25.4 / 72
MILL = SpacePlan("mill", "miniature", Anchor(page="1r", line=3), 4)
BORDER = SpacePlan("ivy", "border", Anchor(page="1v"))


def boxes(book: SmallBook, pen: str, at: int) -> list[tuple[float, ...]]:
    """What a pen drew on one side of the paper: left, top, width and height in mm."""
    look = LOOKS[pen]  # type: ignore[index]
    colour = tuple(round(int(look.colour[at : at + 2], 16) / 255, 3) for at in (1, 3, 5))
    with pdfplumber.open(io.BytesIO(made(book, "dummy", "pdf"))) as pdf:
        return [
            (box["x0"] * MM, box["top"] * MM, box["width"] * MM, box["height"] * MM)
            for box in pdf.pages[at].rects
            if tuple(round(part, 3) for part in box["stroking_color"]) == colour
        ]


def test_it_shows_spaces_flaws_headings_and_a_bar_for_each_line() -> None:
    book = SmallBook(spaces=(MILL, BORDER), flaws=(Flaw(1, 100.0, 20.0, 11.0, 7.0),))
    # a page of 100 × 140 mm goes on the paper at its full size; the first page is on the right of the first side
    (space,) = boxes(book, "space", 0)
    assert space[0] == pytest.approx(297 / 2 + 10, abs=0.1)
    assert space[2:] == pytest.approx((70, 40), abs=0.1)
    assert boxes(book, "flaw", 0)[0][2:] == pytest.approx((11, 7), abs=0.1)
    lines = book.state.budget.pages[0].planned + book.state.budget.pages[7].planned
    assert len(boxes(book, "words", 0)) == lines - 2  # each page begins with words
    first, second = pages(made(book, "dummy", "pdf"))[:2]
    assert "mill, miniature" in first
    assert "w0 w1 w2" in first
    assert "ivy, border" in second
    assert "gathering 1, sheet 1 of 2: outer side, hair" in first
    assert "Drawn at full size." in first


def test_headings_stand_in_words() -> None:
    book = TextBook("# The Mill\n\n" + "corn and water " * 200)
    assert "The Mill" in pages(made(book, "dummy", "pdf"))[0]
    row = next(line for line in made(book, "dummy", "text").decode().splitlines() if line.startswith("1r"))
    assert row.endswith("The Mill")


def test_the_plain_list_tells_every_sheet_and_page() -> None:
    book = SmallBook(spaces=(MILL,))
    lines = made(book, "dummy", "text").decode().splitlines()
    assert [line.split() for line in lines if line.startswith("  1.1")] == [
        ["1.1", "outer", "4v", "1r"],
        ["1.1", "inner", "1v", "4r"],
    ]
    assert any(line.split() == ["1r", "6", "lines", "mill", "(miniature)"] for line in lines)
    assert any(line.split() == ["12v", "blank"] for line in lines) == (not book.state.budget.pages[-1].planned)


def test_half_a_sheet_without_a_leaf_is_cut_off_beside_the_fold() -> None:
    book = SmallBook()
    book.do(leaf_acts.cancel_leaf(book.state, 3))
    with pdfplumber.open(io.BytesIO(made(book, "dummy", "pdf"))) as pdf:
        found = [page for page in pdf.pages if "a stub: the leaf was cancelled" in (page.extract_text() or "")]
        assert len(found) == 2
        for page, side in zip(found, (-1, 1), strict=True):
            (cut,) = [line for line in page.lines if abs(line["linewidth"] * MM - LOOKS["cut"].width) < 1e-3]
            assert cut["x0"] * MM == pytest.approx(297 / 2 + side * 8, abs=0.1)
    assert "stub" in made(book, "dummy", "text").decode()


@pytest.mark.parametrize("paper", ["A4", "letter"])
@pytest.mark.parametrize(
    "changes",
    [
        {"page": PageSize(60, 80, Margins(6, 8, 10, 14)), "ruling": Ruling(lines=8)},
        {"page": PageSize(310, 430, Margins(30, 40, 60, 80)), "columns": Columns(2, 12), "ruling": Ruling(lines=40)},
        {"page": PageSize(300, 120, Margins(20, 10, 30, 20))},
    ],
    ids=["tiny", "large", "wide"],
)
def test_every_book_goes_on_every_paper(changes: dict[str, Any], paper: str) -> None:
    book = SmallBook(words=3000, gatherings=GatheringPlan(3, 2), **changes)
    with pdfplumber.open(io.BytesIO(made(book, "dummy", "pdf", paper=paper))) as pdf:
        assert len(pdf.pages) == 2 * 3 * 2
        size = PAPERS[paper.lower()]
        for page in pdf.pages:
            assert (page.width * MM, page.height * MM) == pytest.approx((size.height, size.width), abs=0.01)
            assert "lay cross over cross" not in page.extract_text()
            for mark in (*page.chars, *page.rects):
                assert 7 < mark["x0"] * MM < mark["x1"] * MM < size.height - 7
                assert 7 < mark["top"] * MM < mark["bottom"] * MM < size.width - 7
