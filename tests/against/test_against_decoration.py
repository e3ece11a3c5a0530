"""Decoration against handbooks, catalogues and the TEI Guidelines; the expected values are theirs, not ours."""

from __future__ import annotations

import pytest

from copydesk.book.layout.page_layout import PageLayout
from copydesk.book.layout.space_stages import NEEDS
from copydesk.book.layout.spaces import size_mm, stages_of
from copydesk.book.plan import Anchor, Margins, SpaceKind, SpacePlan

LEAF = PageLayout(200.0, 300.0, Margins(25.0, 30.0, 35.0, 70.0), 2, 10.0, 32, 6.25)


def stages(kind: SpaceKind, *materials: str, colour_first: bool = False) -> tuple[str, ...]:
    plan = SpacePlan("x", kind, Anchor(division=1), 6, materials=materials)
    return stages_of(plan, colour_first=colour_first)


# Sidney Farnsworth, *Illumination and its Development in the Present Day* (1922), ch. XVIII: after the writing, draw
# lightly; gild and burnish; then the large masses of colour and the white lining; last the outline.
FARNSWORTH = ("drawn", "gilded", "coloured", "outlined")


@pytest.mark.parametrize("kind", ["miniature", "historiated initial", "decorated initial", "border"])
def test_the_handbooks_order_is_ours_unless_we_are_told(kind: SpaceKind) -> None:
    assert stages(kind, "gold leaf", "azurite") == FARNSWORTH


# Edward Johnston, *Writing & Illuminating, & Lettering* (London, Hogg, 1906), p. 183: gold powder is generally painted
# upon colour. That powdered silver is painted so too: common practice.
@pytest.mark.parametrize("metal", ["shell gold", "gold powder", "shell silver"])
def test_powdered_metal_is_painted_upon_colour(metal: str) -> None:
    assert stages("miniature", metal, "azurite") == ("drawn", "coloured", "gilded", "outlined")


def test_where_there_is_leaf_too_it_is_laid_first() -> None:
    assert stages("miniature", "gold leaf", "shell gold", "azurite") == FARNSWORTH


# Graily Hewitt, appendix to Edward Johnston, *Writing & Illuminating, & Lettering* (London, Hogg, 1906): a gold letter
# on or near colour is best laid after the colour, since warmth and breath dim it.
def test_the_dissent_is_a_setting() -> None:
    order = stages("miniature", "gold leaf", "azurite", colour_first=True)
    assert order.index("coloured") < order.index("gilded")
    assert order.index("drawn") == 0


# decoNote/@type in the Bodleian Libraries' catalogue of western medieval manuscripts in TEI (bodleian/medieval-mss,
# commit ad1c12e6, 22 July 2026): the categories that name a space kept for decoration. A coloured or plain initial
# is our "initial"; rubrication is our "rubric".
CATALOGUE = {
    "miniature": "miniature",
    "historiated": "historiated initial",
    "decorated": "decorated initial",
    "flourished": "flourished initial",
    "coloured": "initial",
    "border": "border",
    "line-filler": "line filler",
    "rubrication": "rubric",
}


def test_every_category_of_the_catalogue_has_a_kind_and_no_kind_is_without_one() -> None:
    assert set(CATALOGUE.values()) == set(NEEDS) - {"contents"}  # the room of a list is no decoration


# The same catalogue, heights in lines (mode) where a record gives them; n = 206, 405, 605, 262.
# Edward Johnston (1906), p. 256: initials stand one, two, three or more writing-line spaces high.
@pytest.mark.parametrize(
    ("kind", "lines"),
    [("historiated initial", 6), ("decorated initial", 3), ("flourished initial", 2), ("initial", 1)],
)
def test_an_initial_is_as_high_as_its_ruled_lines(kind: SpaceKind, lines: int) -> None:
    _, height = size_mm(SpacePlan("x", kind, Anchor(division=1), lines), lines, LEAF)
    assert height == lines * LEAF.written_height / LEAF.lines


# TEI P5 Guidelines 4.9.0a, Manuscript Description, section on decoration (11.7.2): miniatures over 5 lines of text.
def test_a_miniature_over_five_lines() -> None:
    column = size_mm(SpacePlan("x", "miniature", Anchor(division=1), 5), 5, LEAF)
    page = size_mm(SpacePlan("x", "miniature", Anchor(division=1), 5, "all"), 5, LEAF)
    assert column == (65.0, 31.25)
    assert page == (140.0, 31.25)
