"""Ways to gather the leaves a text needs."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.formula.collation_formula import parse
from copydesk.book.formula.formatter import formula_of
from copydesk.book.structure.collation import Collation
from copydesk.tracking.planning.gathering_choices import (
    MOST_LEAVES,
    Begun,
    Sizes,
    Way,
    alike,
    gathering_advice,
    say_sizes,
    sheets_of,
    ways_to_gather,
)


def ways(leaves: int, own: int = 4, a_skin: int = 4, begun: Begun | None = None) -> tuple[Way, ...]:
    return ways_to_gather(lambda _: 2 * leaves, begun or Begun(), own, lambda sheets: -(-sheets // a_skin))


def sizes_by_kind(leaves: int, kind: str) -> set[Sizes]:
    return {way.sizes for way in ways(leaves) if way.kind == kind}


def test_what_fits_exactly_comes_first_all_alike() -> None:
    best = ways(32)[0]
    assert best == Way((8, 8, 8, 8), "all alike", 32, 16, 0, 4)


def test_a_rest_of_six_leaves_makes_the_last_gathering_smaller() -> None:
    assert (8, 8, 6) in sizes_by_kind(22, "a smaller last gathering")


def test_an_odd_leaf_is_single_and_leaves_none_blank() -> None:
    odd = next(way for way in ways(21) if way.sizes == (8, 8, 5))
    assert (odd.kind, odd.leaves, odd.blank_leaves) == ("one single leaf", 21, 0)
    assert odd.sheets == 4 + 4 + 3


def test_no_gathering_of_one_sheet_is_proposed_where_another_can_take_it() -> None:
    assert (8, 8, 2) not in {way.sizes for way in ways(18)}
    assert (8, 10) in sizes_by_kind(18, "a larger last gathering")
    assert (8, 9) in sizes_by_kind(17, "one single leaf")


def test_a_text_of_a_leaf_or_two_makes_one_sheet() -> None:
    assert {way.sizes for way in ways(1)} >= {(1,), (2,)}
    assert (2,) in {way.sizes for way in ways(2)}


def test_two_sizes_differ_by_a_sheet_and_keep_the_fewest_others() -> None:
    assert sizes_by_kind(34, "two sizes") >= {(8, 8, 6, 6, 6), (10, 8, 8, 8)}


def test_no_text_needs_no_gathering() -> None:
    assert {way.sizes for way in ways(0)} == {()}
    assert say_sizes(()) == "none"


def test_what_is_begun_is_counted_in() -> None:
    way = next(way for way in ways(16, begun=Begun(leaves=7, sheets=4)) if way.sizes == (8, 8))
    assert (way.leaves, way.sheets, way.skins) == (23, 12, 3)


def test_a_way_is_kept_only_if_the_text_fits_it() -> None:
    """A second hand writes wider from the third gathering on, so that smaller gatherings bring it in sooner."""

    def pages(sizes: Sizes) -> int:
        return 40 if sum(sizes[:2]) >= 16 else 44

    found = ways_to_gather(pages, Begun(), 4, lambda _: 0)
    assert all(2 * sum(way.sizes) >= pages(way.sizes) for way in found)
    assert {way.sizes for way in found} >= {(8, 8, 4), (4, 4, 4, 4, 4, 4)}


def test_among_equals_the_books_own_size_comes_first() -> None:
    assert ways(24, own=6)[0].sizes == (12, 12)
    assert ways(24, own=3)[0].sizes == (6, 6, 6, 6)
    assert ways(14, own=7)[0].sizes == (14,)


@given(st.integers(0, 400), st.integers(1, 7), st.integers(1, 9))
@settings(max_examples=150)
def test_every_way_holds_the_text_and_they_are_in_order(leaves: int, own: int, a_skin: int) -> None:
    found = ways(leaves, own, a_skin)
    assert [(way.blank_leaves, way.skins) for way in found] == sorted((way.blank_leaves, way.skins) for way in found)
    assert len({way.sizes for way in found}) == len(found)
    for way in found:
        assert sum(way.sizes) == way.leaves == leaves + way.blank_leaves
        assert way.sheets == sheets_of(way.sizes)
        assert way.skins == -(-way.sheets // a_skin)
        assert sum(size % 2 for size in way.sizes) == (way.kind == "one single leaf")
        assert max(way.sizes, default=0) <= max(MOST_LEAVES, 2 * own)


@given(st.integers(5, 400))
@settings(max_examples=80)
def test_some_way_leaves_no_sheet_too_many(leaves: int) -> None:
    assert min(way.blank_leaves for way in ways(leaves)) <= 1


@given(st.integers(1, 200))
@settings(max_examples=40)
def test_the_formula_of_every_way_is_read_back_as_the_same_sheets(leaves: int) -> None:
    for way in ways(leaves):
        collation = Collation.of_sizes(way.sizes)
        assert parse(formula_of(collation, plain=True)).collation().gatherings == collation.gatherings


def test_all_alike() -> None:
    assert alike(17, 4) == (8, 8, 8)
    assert alike(0, 4) == ()


@pytest.mark.parametrize(
    ("sizes", "said"),
    [
        ((8, 8, 8), "3 of 4 sheets"),
        ((8,), "1 of 4 sheets"),
        ((2,), "1 of 1 sheet"),
        ((8, 8, 6), "2 of 4 sheets, the last of 3"),
        ((8, 8, 10, 10), "2 of 4 sheets, 2 of 5"),
        ((8, 8, 7), "2 of 4 sheets, the last of 3 and a single leaf"),
        ((8, 1), "1 of 4 sheets, the last of a single leaf"),
        ((7, 8, 8), "1 of 3 sheets and a single leaf, 2 of 4"),
    ],
)
def test_gatherings_in_words(sizes: Sizes, said: str) -> None:
    assert say_sizes(sizes) == said


@pytest.mark.parametrize("sizes", [(8, 8, 6), (4,), (12, 11), (3,), ()])
def test_two_to_six_sheets_call_for_no_advice(sizes: Sizes) -> None:
    assert gathering_advice(sizes) is None


@pytest.mark.parametrize(("sizes", "named"), [((2,), "1 sheet:"), ((14, 8), "7 sheets:"), ((16, 2), "1 and 8 sheets:")])
def test_thinner_and_thicker_gatherings_do(sizes: Sizes, named: str) -> None:
    assert named in str(gathering_advice(sizes))
