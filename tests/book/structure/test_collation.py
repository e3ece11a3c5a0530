from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.collation import Collation
from copydesk.book.structure.gathering import Lies, SheetSide
from copydesk.book.structure.page import LeafId, Page, Side, SkinPage, Surface


def test_place_of_a_page() -> None:
    place = Collation.regular(3, 4).place(Page.parse("9v"))
    assert (place.gathering, place.leaf, place.sheet) == (2, 1, 1)
    assert (place.side, place.lies, place.surface) == (SheetSide.INNER, Lies.LEFT, Surface.FLESH)
    assert place.conjugate == Page.parse("16r")
    assert place.skin == SkinPage(LeafId("2.1"), Side.VERSO)


def test_leaves_of_a_gathering() -> None:
    collation = Collation.of_sizes([8, 6, 10])
    assert [list(collation.leaf_numbers(number))[::5] for number in (1, 2, 3)] == [[1, 6], [9, 14], [15, 20]]
    assert collation.leaf_numbers(4) == range(0)
    assert collation.pages == 48


def test_odd_gathering_has_its_middle_leaf_on_a_stub() -> None:
    collation = Collation.of_sizes([7])
    assert [half.state.value for half in collation.gatherings[0].halves].index("stub") == 4
    assert [collation.conjugate_of(leaf) for leaf in range(1, 8)] == [7, 6, 5, None, 3, 2, 1]


def test_gathering_of_one_leaf() -> None:
    collation = Collation.of_sizes([1])
    assert (collation.leaves, collation.conjugate_of(1)) == (1, None)
    assert [str(page) for page in collation.all_pages()] == ["1r", "1v"]


def test_book_of_no_leaf() -> None:
    empty = Collation(())
    assert (empty.leaves, empty.pages, list(empty.all_pages())) == (0, 0, [])
    assert not empty.has(Page.parse("1r"))


@pytest.mark.parametrize("page", ["25r", "999v"])
def test_page_past_the_end_is_refused(page: str) -> None:
    with pytest.raises(CopydeskError, match="its leaves go from 1 to 24"):
        Collation.regular(3, 4).place(Page.parse(page))


def test_leaf_gone_or_unknown_has_no_number() -> None:
    collation = Collation.regular(1, 2)
    assert collation.number_of(LeafId("1.5")) is None
    assert collation.page_of(SkinPage(LeafId("7.1"), Side.RECTO)) is None


def test_gatherings_are_found_by_number_wherever_they_stand() -> None:
    both = Collation.regular(3, 1).gatherings
    assert Collation((both[2], both[0])).gathering(3) is both[2]


@given(st.lists(st.integers(1, 40), max_size=12))
def test_pages_count_through(sizes: list[int]) -> None:
    collation = Collation.of_sizes(sizes)
    assert collation.leaves == sum(sizes)
    assert [page.index for page in collation.all_pages()] == list(range(2 * sum(sizes)))
    assert sum(len(collation.leaf_numbers(number)) for number in range(1, len(sizes) + 1)) == sum(sizes)


def test_sheets_have_a_name_each_and_a_single_leaf_one_of_its_own() -> None:
    book = Collation.of_sizes([4, 3])
    assert book.sheet_names == ["1.1", "1.2", "2.1", "2.2"]
    assert [book.place(page).sheet_name for page in book.all_pages()][::2] == [
        *("1.1", "1.2", "1.2", "1.1"),
        *("2.1", "2.2", "2.1"),
    ]
