"""Pages, sides, surfaces and pages of skin as values."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.page import LeafId, Page, Side, SkinPage, Surface


@pytest.mark.parametrize(
    ("text", "leaf", "side"),
    [
        ("12r", 12, "r"),
        ("12v", 12, "v"),
        (" 12 V ", 12, "v"),
        ("f. 12r", 12, "r"),
        ("ff.12 verso", 12, "v"),
        ("012R", 12, "r"),
        ("1 recto.", 1, "r"),
        ("999999v", 999_999, "v"),
    ],
)
def test_a_page_is_read_as_people_write_it(text: str, leaf: int, side: str) -> None:
    assert Page.parse(text) == Page(leaf, Side(side))


@pytest.mark.parametrize(
    "text", ["", "12", "r12", "0r", "-1r", "1.5r", "12rv", "12x", "1000000r", "12r 14", "١٢r", "\n"]
)
def test_what_is_no_page_is_refused(text: str) -> None:
    with pytest.raises(CopydeskError, match="is not a page; write a leaf number and r or v"):
        Page.parse(text)


@given(st.integers(0, 10**6))
def test_pages_count_in_reading_order(index: int) -> None:
    page = Page.at(index)
    assert page.index == index
    assert Page.parse(str(page)) == page
    assert page < Page.at(index + 1)


def test_the_first_pages() -> None:
    assert [str(Page.at(index)) for index in range(4)] == ["1r", "1v", "2r", "2v"]


def test_a_side_and_a_surface_have_another_behind_them() -> None:
    assert (Side.RECTO.other, Side.VERSO.other) == (Side.VERSO, Side.RECTO)
    assert (Surface.HAIR.other, Surface.FLESH.other) == (Surface.FLESH, Surface.HAIR)


@pytest.mark.parametrize("name", ["3.5:r", "3.5r1:v", "3.5a1r2:r", "3.0:v"])
def test_a_page_of_skin_is_kept_and_read_again(name: str) -> None:
    assert str(SkinPage.parse(name)) == name


def test_a_page_of_skin_names_leaf_and_side() -> None:
    assert SkinPage.parse("3.5:v") == SkinPage(LeafId("3.5"), Side.VERSO)


@pytest.mark.parametrize("name", ["", "3.5", "3.5:", "3.5:x", "3.5:rv", "r"])
def test_what_is_no_page_of_skin_is_refused(name: str) -> None:
    with pytest.raises(CopydeskError, match="does not name a leaf and a side"):
        SkinPage.parse(name)
