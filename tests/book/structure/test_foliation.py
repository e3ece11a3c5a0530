from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.common.numerals import is_roman, roman
from copydesk.book.structure.foliation import (
    Numbering,
    extent,
    facing_label,
    flyleaves,
    leaf_label,
    leaf_number,
    leaves_label,
    page_label,
    page_named,
    pages_named,
    read_leaf_label,
    read_page_label,
    relabelled,
)
from copydesk.book.structure.page import Page, Side

NUMBERINGS: tuple[Numbering, ...] = ("arabic", "roman", "pages")


@pytest.mark.parametrize(
    ("numbering", "number", "leaf", "leaves", "page"),
    [
        ("arabic", "12", "leaf 12", "leaves 12 to 14", "12v"),
        ("roman", "xii", "leaf xii", "leaves xii to xiv", "xii v"),
        ("pages", "23-24", "leaf 12 (pages 23-24)", "pages 23 to 28", "24"),
    ],
)
def test_labels(numbering: Numbering, number: str, leaf: str, leaves: str, page: str) -> None:
    assert (leaf_number(12, numbering), leaf_label(12, numbering)) == (number, leaf)
    assert (leaves_label(12, 14, numbering), leaves_label(12, 12, numbering)) == (leaves, leaf)
    verso = Page(12, Side.VERSO)
    assert page_label(verso, numbering) == page
    named = f"p. {page}" if numbering == "pages" else page
    assert page_named(verso, numbering) == relabelled("12v", numbering) == named
    assert read_page_label(named, numbering) == verso
    assert relabelled("an old page", numbering) == "an old page"


@pytest.mark.parametrize(
    ("numbering", "several", "one", "opening"),
    [
        ("arabic", "1r 8v", "1r", "8v|9r"),
        ("roman", "i r, viii v", "i r", "viii v|ix r"),
        ("pages", "pp. 1 16", "p. 1", "pp. 16|17"),
    ],
)
def test_several_pages(numbering: Numbering, several: str, one: str, opening: str) -> None:
    first, last = Page(1, Side.RECTO), Page(8, Side.VERSO)
    assert (pages_named([first, last], numbering), pages_named([first], numbering)) == (several, one)
    assert facing_label(last, Page(9, Side.RECTO), numbering) == opening


def test_leaves_past_the_roman_numerals_are_called_in_figures() -> None:
    assert page_label(Page(5000, Side.RECTO), "roman") == "5000r"
    assert leaf_label(5000, "roman") == "leaf 5000"
    assert read_page_label("5000r", "roman") == Page(5000, Side.RECTO)


@given(st.builds(Page, st.integers(1, 6000), st.sampled_from(Side)), st.sampled_from(NUMBERINGS))
def test_label_leads_back_to_its_page(page: Page, numbering: Numbering) -> None:
    assert read_page_label(page_label(page, numbering), numbering) == page
    assert read_page_label(str(page), numbering) == page
    assert read_leaf_label(str(page.leaf), numbering) == page.leaf


@given(st.integers(1, 4999), st.sampled_from(Side), st.booleans(), st.sampled_from([" ", ".", "^", ""]))
def test_a_roman_page_is_never_read_as_another(leaf: int, side: Side, scribal: bool, joint: str) -> None:
    """Property: however the side is joined on, the page meant is read, or both readings are named."""
    text = f"{roman(leaf, scribal=scribal)}{joint}{side.value}"
    try:
        assert read_page_label(text, "roman") == Page(leaf, side)
    except CopydeskError as refused:
        assert not joint
        assert side is Side.VERSO
        assert is_roman(text)
        assert f"the verso of leaf {roman(leaf, scribal=scribal)};" in str(refused)


@pytest.mark.parametrize(
    "text", ["f. xii verso", "XII V", "xijv", "xij v", "ff. xii.v.", "xii\N{MODIFIER LETTER SMALL V}", "xii^v", "12v"]
)
def test_roman_pages_people_write(text: str) -> None:
    assert read_page_label(text, "roman") == Page(12, Side.VERSO)


@pytest.mark.parametrize("text", ["24", "p. 24", "page 24", "12v", "f. 12 verso", "024"])
def test_page_numbers_people_write(text: str) -> None:
    assert read_page_label(text, "pages") == Page(12, Side.VERSO)


@pytest.mark.parametrize("leaf_alone", [False, True])
@pytest.mark.parametrize(("text", "leaf"), [("xiv", "xi"), ("iv", "i"), ("XV", "x"), ("lv", "l")])
def test_a_numeral_that_may_end_in_its_side_is_not_guessed_at(text: str, leaf: str, leaf_alone: bool) -> None:
    with pytest.raises(CopydeskError) as refused:
        read_page_label(text, "roman", leaf_alone=leaf_alone)
    whole = text.lower()
    assert str(refused.value) == (
        f"{whole!r} may be leaf {whole} or the verso of leaf {leaf}; write {whole} r, {whole} v or {leaf} v"
    )


@pytest.mark.parametrize(
    ("text", "numbering", "leaf"), [("12", "arabic", 12), ("v", "roman", 5), ("12", "roman", 12), ("xiii", "roman", 13)]
)
def test_a_leaf_alone_is_its_recto_where_that_is_meant(text: str, numbering: Numbering, leaf: int) -> None:
    assert read_page_label(text, numbering, leaf_alone=True) == Page(leaf, Side.RECTO)
    with pytest.raises(CopydeskError, match="is not a page"):
        read_page_label(text, numbering)


@pytest.mark.parametrize(
    ("text", "numbering", "example"),
    [
        ("0", "pages", "24"),
        ("xii", "pages", "24"),
        ("", "roman", "xii r"),
        ("iix r", "roman", "xii r"),
        ("verso", "roman", "xii r"),
        ("23", "arabic", "12r"),
        ("xii r", "arabic", "12r"),
        ("\u0661r", "arabic", "12r"),
    ],
)
def test_no_page_is_refused(text: str, numbering: Numbering, example: str) -> None:
    with pytest.raises(CopydeskError, match=f"is not a page; write .*as in {example}"):
        read_page_label(text, numbering, leaf_alone=True) if text != "23" else read_page_label(text, numbering)


@pytest.mark.parametrize(("text", "numbering"), [("xii", "arabic"), ("xii", "pages"), ("iix", "roman"), ("0", "roman")])
def test_no_leaf_is_refused(text: str, numbering: Numbering) -> None:
    assert read_leaf_label("xii", "roman") == 12
    with pytest.raises(CopydeskError, match="is not a leaf; write its number"):
        read_leaf_label(text, numbering)


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
    with pytest.raises(CopydeskError, match="cannot have -1 flyleaves"):
        flyleaves(1, -1)


@pytest.mark.parametrize(
    ("parts", "said"), [((2, 48, 1), "ii + 48 + i"), ((0, 8, 0), "8"), ((1, 321, 2), "i + 321 + ii")]
)
def test_extent(parts: tuple[int, int, int], said: str) -> None:
    assert extent(*parts) == said
