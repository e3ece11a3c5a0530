from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.foliation import Numbering, extent, flyleaves, leaf_label, page_label, read_page_label
from copydesk.book.page import Page, Side
from copydesk.book.refusal import Refused

NUMBERINGS: tuple[Numbering, ...] = ("arabic", "roman", "pages")


@pytest.mark.parametrize(
    ("numbering", "leaf", "page"), [("arabic", "12", "12v"), ("roman", "xii", "xii v"), ("pages", "23-24", "24")]
)
def test_labels(numbering: Numbering, leaf: str, page: str) -> None:
    assert leaf_label(12, numbering) == leaf
    assert page_label(Page(12, Side.VERSO), numbering) == page


@given(st.builds(Page, st.integers(1, 4999), st.sampled_from(Side)), st.sampled_from(NUMBERINGS))
def test_label_leads_back_to_its_page(page: Page, numbering: Numbering) -> None:
    assert read_page_label(page_label(page, numbering), numbering) == page
    assert read_page_label(str(page), numbering) == page


@pytest.mark.parametrize("text", ["f. xii verso", "XII V", "xijv", "ff. xii.v."])
def test_roman_pages_people_write(text: str) -> None:
    assert read_page_label(text, "roman") == Page(12, Side.VERSO)


@pytest.mark.parametrize(("text", "numbering"), [("0", "pages"), ("", "roman"), ("iix r", "roman"), ("23", "arabic")])
def test_no_page_is_refused(text: str, numbering: Numbering) -> None:
    with pytest.raises(Refused, match="is not a page"):
        read_page_label(text, numbering)


def test_flyleaves_are_counted_apart() -> None:
    assert [str(leaf) for leaf in flyleaves(2, 1)] == ["flyleaf i", "flyleaf ii", "flyleaf iii"]
    assert [str(leaf) for leaf in flyleaves(2, 2, pastedowns=True)] == [
        "front pastedown",
        "flyleaf i",
        "flyleaf ii",
        "back pastedown",
    ]
    assert flyleaves(0, 0, pastedowns=True) == ()
    assert [leaf.pastedown for leaf in flyleaves(1, 0, pastedowns=True)] == [True]


def test_fewer_than_no_flyleaves_is_refused() -> None:
    with pytest.raises(Refused, match="cannot have -1 flyleaves"):
        flyleaves(1, -1)


@pytest.mark.parametrize(
    ("parts", "said"), [((2, 48, 1), "ii + 48 + i"), ((0, 8, 0), "8"), ((1, 321, 2), "i + 321 + ii")]
)
def test_extent(parts: tuple[int, int, int], said: str) -> None:
    assert extent(*parts) == said
