"""The ruling template, its lines measured on the finished PDF and SVG."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from typing import TYPE_CHECKING, Any

import pdfplumber
import pytest
import svgelements

from copydesk.book.common.errors import CopydeskError
from copydesk.book.layout.page_layout import PageLayout, Rectangle, lay_out, place_of
from copydesk.book.plan import Columns, Flaw, Margins, PageSize, Ruling, Script
from copydesk.book.structure.page import Side
from copydesk.papers.drawing.paper_sheets import PAPERS
from copydesk.papers.drawing.shapes import LOOKS, Pen, Words
from copydesk.papers.drawing.tiling import MARGIN, Tiles, drawing_file, tiles_for
from copydesk.papers.drawing.typesetting import width
from copydesk.papers.ruled_page import Reserved, RulingTemplate, page_corner
from copydesk.papers.ruling import RULING_CAUTION, ruling_drawing

if TYPE_CHECKING:
    from collections.abc import Sequence

MM = 25.4 / 72
NEAR = 0.002
SMALL = lay_out(PageSize(170, 240, Margins(18, 24, 36, 48)), Columns(2, 10), Ruling(32), Script())
ABOVE = lay_out(PageSize(150, 220, Margins(16, 20, 32, 40)), Columns(1), Ruling(30, first_line="above"), Script())
LARGE = lay_out(PageSize(310, 430, Margins(canon="ninths")), Columns(2, 12), Ruling(40), Script())
POCKET = lay_out(PageSize(100, 140, Margins(10, 12, 14, 20)), Columns(1), Ruling(18), Script())
BOTH = pytest.mark.parametrize("side", list(Side))


def ruling_pdf(templates: Sequence[RulingTemplate], paper: str = "A4") -> bytes:
    return drawing_file([ruling_drawing(template) for template in templates], "pdf", paper)


def ruling_svg(template: RulingTemplate) -> str:
    return drawing_file([ruling_drawing(template)], "svg").decode()


def colour(pen: Pen) -> tuple[float, ...]:
    return tuple(round(int(LOOKS[pen].colour[at : at + 2], 16) / 255, 3) for at in (1, 3, 5))


def drawn_on(page: Any, pen: Pen, kind: str = "lines") -> list[tuple[float, float, float, float]]:
    """The lines (or curves) a pen drew on a PDF page, as left, top, right, bottom in mm."""
    return [
        (each["x0"] * MM, each["top"] * MM, each["x1"] * MM, each["bottom"] * MM)
        for each in getattr(page, kind)
        if tuple(round(part, 3) for part in each["stroking_color"]) == colour(pen)
        and each["linewidth"] * MM == pytest.approx(LOOKS[pen].width, abs=1e-4)
    ]


def on_page(marks: Sequence[tuple[float, ...]], corner: tuple[float, float]) -> list[tuple[float, ...]]:
    return [(each[0] - corner[0], each[1] - corner[1], each[2] - corner[0], each[3] - corner[1]) for each in marks]


def distinct(places: list[float]) -> list[float]:
    return sorted({round(place, 3) for place in places})


def corner_on_paper(layout: PageLayout, paper: str) -> tuple[float, float]:
    """Where the page's corner lies on a sheet of paper that holds the whole template."""
    drawing = ruling_drawing(RulingTemplate(layout, Side.RECTO))
    held = PAPERS[paper.lower()]
    x, y = page_corner(layout)
    return (held.width - drawing.width) / 2 + x, (held.height - drawing.height) / 2 + y


@BOTH
@pytest.mark.parametrize("layout", [SMALL, ABOVE])
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_every_line_lies_where_it_was_worked_out(layout: PageLayout, paper: str, side: Side) -> None:
    with pdfplumber.open(io.BytesIO(ruling_pdf([RulingTemplate(layout, side)], paper))) as pdf:
        (page,) = pdf.pages
        held = PAPERS[paper.lower()]
        assert (page.width * MM, page.height * MM) == pytest.approx((held.width, held.height), abs=NEAR)
        corner = corner_on_paper(layout, paper)
        ruled, bounding, pricked = (
            on_page(drawn_on(page, pen, kind), corner)  # type: ignore[arg-type]
            for pen, kind in (("ruled", "lines"), ("bounding", "lines"), ("prick", "curves"))
        )
    assert distinct([each[1] for each in ruled]) == pytest.approx(list(layout.ruled), abs=NEAR)
    assert len(ruled) == layout.columns * len(layout.ruled)
    assert distinct([each[0] for each in ruled]) == pytest.approx(list(layout.column_lefts(side)), abs=NEAR)
    assert all(each[2] - each[0] == pytest.approx(layout.measure, abs=NEAR) for each in ruled)
    across = sorted(layout.from_left(from_fold, side) for from_fold in layout.bounding)
    assert distinct([each[0] for each in bounding]) == pytest.approx(across, abs=NEAR)
    middles = [((each[0] + each[2]) / 2, (each[1] + each[3]) / 2) for each in pricked]
    by_edge = [y for x, y in middles if abs(x - (layout.width - 6 if side is Side.RECTO else 6)) < NEAR]
    assert sorted(by_edge) == pytest.approx(list(layout.ruled), abs=NEAR)
    by_head = [x for x, y in middles if abs(y - 6) < NEAR]
    by_foot = [x for x, y in middles if abs(y - layout.height + 6) < NEAR]
    assert sorted(by_head) == sorted(by_foot) == pytest.approx(across, abs=NEAR)


@BOTH
def test_the_same_lines_stand_in_the_svg(side: Side, tmp_path: Any) -> None:
    file = tmp_path / "ruling.svg"
    file.write_text(ruling_svg(RulingTemplate(SMALL, side)), encoding="utf-8")
    parsed = svgelements.SVG.parse(str(file), ppi=25.4, reify=True)
    drawing = ruling_drawing(RulingTemplate(SMALL, side))
    assert (parsed.width, parsed.height) == pytest.approx((drawing.width, drawing.height), abs=NEAR)
    found: dict[str, list[tuple[float, ...]]] = {}
    for element in parsed.elements():
        if isinstance(element, svgelements.Shape):
            found.setdefault(element.values.get("class"), []).append(svgelements.Path(element).bbox())
    corner = page_corner(SMALL)
    ruled, bounding, pricked = (on_page(found[pen], corner) for pen in ("ruled", "bounding", "prick"))
    assert distinct([each[1] for each in ruled]) == pytest.approx(list(SMALL.ruled), abs=NEAR)
    assert distinct([each[0] for each in ruled]) == pytest.approx(list(SMALL.column_lefts(side)), abs=NEAR)
    across = sorted(SMALL.from_left(from_fold, side) for from_fold in SMALL.bounding)
    assert distinct([each[0] for each in bounding]) == pytest.approx(across, abs=NEAR)
    assert len(pricked) == len(SMALL.ruled) + 2 * len(across)


@pytest.mark.parametrize("layout", [SMALL, LARGE, ABOVE])
def test_the_check_bar_is_a_hundred_millimetres_and_whole(layout: PageLayout) -> None:
    with pdfplumber.open(io.BytesIO(ruling_pdf([RulingTemplate(layout, Side.RECTO)]))) as pdf:
        bars = [
            each
            for page in pdf.pages
            for each in drawn_on(page, "bar")
            if each[2] - each[0] > 50 and each[0] > MARGIN and each[2] < page.width * MM - MARGIN
        ]
    assert bars
    assert all(right - left == pytest.approx(100, abs=NEAR) for left, _, right, _ in bars)


def tile_corners(tiles: Tiles) -> list[tuple[float, float]]:
    return [tiles.corner(row, column) for row in range(tiles.rows) for column in range(tiles.columns)]


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_larger_page_is_spread_and_joins_true(paper: str) -> None:
    template = RulingTemplate(LARGE, Side.RECTO)
    drawing = ruling_drawing(template)
    tiles = tiles_for(drawing.width, drawing.height, PAPERS[paper.lower()])
    corner = page_corner(LARGE)
    ruled: list[float] = []
    bounding: list[float] = []
    crosses: dict[tuple[float, float], int] = {}
    with pdfplumber.open(io.BytesIO(ruling_pdf([template], paper))) as pdf:
        assert len(pdf.pages) == tiles.count > 1
        for page, (left, top) in zip(pdf.pages, tile_corners(tiles), strict=True):
            shift = (MARGIN - left, MARGIN - top)
            for mark in on_page(drawn_on(page, "ruled"), shift):
                ruled.append(mark[1] - corner[1])
            for mark in on_page(drawn_on(page, "bounding"), shift):
                bounding.append(mark[0] - corner[0])
            for mark in on_page(drawn_on(page, "join"), shift):
                place = (round((mark[0] + mark[2]) / 2, 2), round((mark[1] + mark[3]) / 2, 2))
                crosses[place] = crosses.get(place, 0) + 1
    assert distinct(ruled) == pytest.approx(list(LARGE.ruled), abs=NEAR)
    assert distinct(bounding) == pytest.approx(list(LARGE.bounding), abs=NEAR)
    assert crosses
    assert all(arms >= 4 and arms % 2 == 0 for arms in crosses.values())  # two arms, on two sheets or more


def test_every_sheet_says_which_it_is() -> None:
    with pdfplumber.open(io.BytesIO(ruling_pdf([RulingTemplate(LARGE, Side.RECTO)]))) as pdf:
        texts = [page.extract_text() for page in pdf.pages]
    assert "sheet 1 of 6: row 1, column 1" in texts[0] or "sheet 1 of 4: row 1, column 1" in texts[0]
    assert all("lay cross over cross" in text for text in texts)


def test_recto_and_verso_come_in_one_file() -> None:
    templates = [RulingTemplate(SMALL, side, "The Ferry Book") for side in Side]
    with pdfplumber.open(io.BytesIO(ruling_pdf(templates))) as pdf:
        texts = [page.extract_text() for page in pdf.pages]
    assert [text.splitlines()[0] for text in texts] == ["The Ferry Book, recto", "The Ferry Book, verso"]
    assert "2 columns of 53 mm, 10 mm between; 32 lines, 5.25 mm apart, the first below the top ruled line" in texts[0]


def test_lines_stop_at_reserved_spaces_and_flaws() -> None:
    space = Reserved(place_of(SMALL, Side.RECTO, 1, 5, (SMALL.measure, 12 * SMALL.line_height)), "frost")
    initial = Reserved(place_of(SMALL, Side.RECTO, 2, 20, (21, 21)), "f-init")
    template = RulingTemplate(SMALL, Side.RECTO, spaces=(space, initial), flaws=(Flaw(11, 120, 60, 15, 9),))
    with pdfplumber.open(io.BytesIO(ruling_pdf([template]))) as pdf:
        ruled = on_page(drawn_on(pdf.pages[0], "ruled"), corner_on_paper(SMALL, "A4"))
        text = pdf.pages[0].extract_text()
    assert "frost" in text
    assert "f-init" in text
    assert "flaw" in text
    first_column = [each[1] for each in ruled if each[0] < 20]
    assert not [y for y in first_column if 45 + NEAR < y < 108 - NEAR]
    assert [y for y in first_column if abs(y - 45) < NEAR]
    beside = [each for each in ruled if each[0] == pytest.approx(81 + 21, abs=NEAR)]
    assert len(beside) == 3
    by_the_flaw = [each for each in ruled if each[2] == pytest.approx(60, abs=NEAR)]
    assert [each[1] for each in by_the_flaw] == pytest.approx([123.75], abs=NEAR)


def test_harmful_text_is_shown_and_harms_nothing() -> None:
    label = "\x1b[31m<b>&\u202e漢 ſ ā\x00"
    template = RulingTemplate(SMALL, Side.RECTO, label, (Reserved(Rectangle(18, 24, 53, 20), label),))
    assert ruling_pdf([template]).startswith(b"%PDF")
    drawn = ruling_svg(template)
    assert "&lt;b&gt;&amp;" in drawn
    assert not set("\x1b\x00\u202e") & set(drawn)
    svgelements.SVG.parse(io.StringIO(drawn))


def test_figures_are_shown_in_the_books_unit() -> None:
    assert "6.693 × 9.449 in" in ruling_svg(RulingTemplate(SMALL, Side.RECTO, unit="in"))


def test_an_unknown_paper_is_refused() -> None:
    with pytest.raises(CopydeskError, match="no paper is called 'A3'; choose A4 or Letter"):
        ruling_pdf([RulingTemplate(SMALL, Side.RECTO)], "A3")


ELSEWHERE = """
import sys
from copydesk.book.plan import Columns, Margins, PageSize, Ruling, Script
from copydesk.book.layout.page_layout import lay_out
from copydesk.book.structure.page import Side
from copydesk.papers.drawing.tiling import drawing_file
from copydesk.papers.ruled_page import RulingTemplate
from copydesk.papers.ruling import ruling_drawing
layout = lay_out(PageSize(170, 240, Margins(18, 24, 36, 48)), Columns(2, 10), Ruling(32), Script())
template = RulingTemplate(layout, Side.RECTO, "The Ferry Book \\u0101")
sys.stdout.buffer.write(drawing_file([ruling_drawing(template)], "pdf"))
"""


def test_the_same_template_gives_the_same_bytes_anywhere() -> None:
    here = ruling_pdf([RulingTemplate(SMALL, Side.RECTO, "The Ferry Book ā")])
    surroundings = {**os.environ, "PYTHONHASHSEED": "7", "TZ": "Asia/Tokyo"}
    command = [sys.executable, "-c", ELSEWHERE]
    there = subprocess.run(command, check=True, capture_output=True, env=surroundings).stdout
    assert there == here


@pytest.mark.parametrize("layout", [SMALL, ABOVE, LARGE, POCKET])
def test_the_caution_is_whole_on_every_template_and_clear_of_all_that_is_measured(layout: PageLayout) -> None:
    drawing = ruling_drawing(RulingTemplate(layout, Side.VERSO))
    words = [mark for mark in drawing.marks if isinstance(mark, Words)]
    starts = next(at for at, mark in enumerate(words) if mark.text.startswith("Caution: "))
    assert " ".join(mark.text for mark in words[starts:]) == RULING_CAUTION
    corner_y = page_corner(layout)[1]
    for mark in words[starts:]:
        assert mark.x >= 1
        assert mark.x + width(mark.text, mark.size) <= drawing.width
        assert not corner_y < mark.y - mark.size < corner_y + max(layout.ruled)
        assert mark.y <= drawing.height
    assert "Points: " in RULING_CAUTION


def test_the_caution_keeps_clear_of_a_space_in_the_foot_margin() -> None:
    place = Rectangle(20, 200, 80, 30)
    drawing = ruling_drawing(RulingTemplate(SMALL, Side.RECTO, spaces=(Reserved(place, "vine"),)))
    caution = next(mark for mark in drawing.marks if isinstance(mark, Words) and mark.text.startswith("Caution: "))
    assert caution.y > page_corner(SMALL)[1] + SMALL.height
