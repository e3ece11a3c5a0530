"""The picture of a skin's cutting."""

from __future__ import annotations

import io

import pdfplumber
import pytest
import svgelements
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.materials.skin_cutting import cutting_of
from copydesk.book.plan import SkinPlan
from copydesk.papers.cutting import (
    cutting_drawing,
    cutting_text,
    cutting_words,
    grain_words,
    picture_scale,
)
from copydesk.papers.drawing.box_picture import BoxPicture
from copydesk.papers.drawing.shapes import Box, DrawnLine
from copydesk.papers.drawing.tiling import drawing_file

SKIN = SkinPlan(700, 500, trim=5)
FOUR = cutting_of(SKIN, 170, 240)
MIXED = cutting_of(SkinPlan(850, 620), 180, 250)


def test_the_cutting_is_told_in_a_sentence() -> None:
    assert cutting_words(FOUR) == "4 sheets of 345 × 245 mm from a skin of 700 × 500 mm; 3% falls off."
    assert (
        cutting_words(MIXED)
        == "5 sheets of 360 × 250 mm, 3 of them turned, from a skin of 850 × 620 mm; 15% falls off."
    )
    assert cutting_words(FOUR, "cm").startswith("4 sheets of 34.5 × 24.5 cm from a skin of 70 × 50 cm")
    folded = cutting_of(SKIN._replace(folds=2), 170, 240)
    assert cutting_words(folded).startswith("2 sheets of 345 × 245 mm from a skin of 700 × 500 mm, folded twice;")
    none = cutting_of(SkinPlan(300, 200), 170, 240)
    assert cutting_words(none) == "A sheet of 340 × 240 mm does not go into a skin of 300 × 200 mm."


def test_the_picture_on_screen() -> None:
    rows = cutting_text(FOUR, 48)  # 47 steps across for 700 mm and 17 down for 500: cuts at 23, 46 and 8
    assert len(rows) == 18
    assert rows[0] == "┌──────────────────────┬──────────────────────┬┐"
    assert rows[4] == "│          1           │          2           ││"
    assert rows[8] == "├──────────────────────┼──────────────────────┤│"
    assert rows[12] == "│          3           │          4           ││"
    assert rows[17] == "└──────────────────────┴──────────────────────┴┘"


def test_turned_sheets_say_so_on_screen() -> None:
    picture = "\n".join(cutting_text(MIXED, 60))
    assert sum(f"{number} turned" in picture for number in range(1, 6)) == 3
    assert "·" in picture


@given(st.integers(200, 1000), st.integers(200, 800), st.integers(30, 250), st.integers(40, 350), st.integers(8, 90))
@settings(max_examples=60, deadline=None)
def test_every_picture_is_a_rectangle_of_characters(
    skin_w: int, skin_h: int, width: int, height: int, across: int
) -> None:
    rows = cutting_text(cutting_of(SkinPlan(skin_w, skin_h), width, height), across)
    assert {len(row) for row in rows} == {across}
    assert (rows[0][0], rows[0][-1], rows[-1][0], rows[-1][-1]) == ("┌", "┐", "└", "┘")


def test_boxes_join_where_they_meet() -> None:
    picture = BoxPicture(5, 3, " ")
    picture.box(0, 0, 2, 2)
    picture.box(2, 0, 4, 2)
    assert picture.rows() == ["┌─┬─┐", "│ │ │", "└─┴─┘"]


@pytest.mark.parametrize("cutting", [FOUR, MIXED])
def test_the_drawing_is_the_cutting_to_scale(cutting) -> None:  # type: ignore[no-untyped-def]
    scale = picture_scale(cutting)
    drawing = cutting_drawing(cutting)
    boxes = [mark for mark in drawing.marks if isinstance(mark, Box) and mark.pen in ("sheet", "turned")]
    sizes = {(round(box.width * scale, 3), round(box.height * scale, 3)) for box in boxes}
    assert len(boxes) == cutting.count
    assert sizes <= {(cutting.sheet_width, cutting.sheet_height), (cutting.sheet_height, cutting.sheet_width)}
    cuts = [mark for mark in drawing.marks if isinstance(mark, DrawnLine) and mark.pen == "cut"]
    assert len(cuts) == len(cutting.cuts)


def test_the_pdf_is_one_sheet_and_says_its_scale() -> None:
    with pdfplumber.open(io.BytesIO(drawing_file([cutting_drawing(FOUR, "The Ferry Book")], "pdf", "Letter"))) as pdf:
        (page,) = pdf.pages
        text = page.extract_text()
        reds = [
            line
            for line in page.lines
            if line["stroking_color"] == pytest.approx((166 / 255, 38 / 255, 29 / 255), abs=0.01)
        ]
    assert "The Ferry Book: cutting a skin" in text
    assert "Drawn at 1 : 5." in text
    assert "Blue" not in text
    assert "Caution: Blade: keep it short and sharp" in text
    assert sorted(round(line["x1"] - line["x0"] + line["bottom"] - line["top"], 1) for line in reds) == pytest.approx(
        sorted(round(length / 5 * 72 / 25.4, 1) for length in (500, 690, 690, 245, 245)), abs=0.1
    )


def test_the_svg_can_be_read_and_explains_turned_sheets() -> None:
    drawn = drawing_file([cutting_drawing(MIXED)], "svg").decode()
    assert "Blue sheets lie turned." in drawn
    kinds = [each.values.get("class") for each in svgelements.SVG.parse(io.StringIO(drawn)).elements()]
    assert (kinds.count("sheet"), kinds.count("turned")) == (2, 3)


def test_a_skin_of_any_size_fits_the_paper() -> None:
    for skin in (SkinPlan(4000, 4900), SkinPlan(60, 50), SkinPlan(9000, 9900)):
        drawing = cutting_drawing(cutting_of(skin, 500, 700))
        assert drawing.width <= 194
        assert drawing.height <= 263


def test_the_direction_of_the_folds_is_named() -> None:
    assert grain_words(FOUR) == "Every fold runs along the skin's height."
    free = cutting_of(SkinPlan(850, 620), 180, 250)
    assert grain_words(free) == "The folds run both ways of the skin; look at the grain."


def test_a_fixed_grain_says_where_the_skin_turned_gives_more() -> None:
    fixed = cutting_of(SkinPlan(600, 850, grain="fixed"), 125, 360)  # sheets of 250 x 360
    turned = cutting_of(SkinPlan(850, 600, grain="fixed"), 125, 360)
    more, fewer = sorted((fixed, turned), key=lambda cutting: -cutting.count)
    assert fewer.skin_turned in (0, more.count)
    assert more.skin_turned == 0
    alone = cutting_of(SkinPlan(300, 620, grain="fixed"), 155, 200)  # a sheet of 310 x 200 goes in only turned
    assert (alone.count, alone.skin_turned) == (0, 2)
    assert "give width and height the other way round" in grain_words(alone)
