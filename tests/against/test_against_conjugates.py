"""Which leaves are one sheet, against the handbooks and against a pairing that needs no formula."""

from __future__ import annotations

from functools import cache

import pytest

from copydesk.book.structure.collation import Collation
from copydesk.book.structure.leaf_additions import add_after
from copydesk.book.structure.leaf_changes import make_single, want
from copydesk.book.structure.page import LeafId


def pairs(collation: Collation) -> set[tuple[int, int]]:
    joined = ((leaf, collation.conjugate_of(leaf)) for leaf in range(1, collation.leaves + 1))
    return {(leaf, mate) for leaf, mate in joined if mate is not None and leaf < mate}


def singles(collation: Collation) -> set[int]:
    return {leaf for leaf in range(1, collation.leaves + 1) if collation.conjugate_of(leaf) is None}


def test_an_eight() -> None:
    # N. R. Ker, Catalogue of Manuscripts containing Anglo-Saxon, 1957, p. xxii (a).
    assert pairs(Collation.regular(1, 4)) == {(1, 8), (2, 7), (3, 6), (4, 5)}


def test_an_eight_less_its_first_leaf() -> None:
    # TEI P5 Guidelines 4.9.0a, Manuscript Description, the example of a collation: 1+6, 2+5, 3+4, 7 single.
    collation = want(Collation.regular(1, 4), LeafId("1.1"))
    assert pairs(collation) == {(1, 6), (2, 5), (3, 4)}
    assert singles(collation) == {7}


def test_half_sheets_in_place_of_a_sheet() -> None:
    # Ker (b): an 8 of which 3 and 6 are single leaves is still an 8.
    collation = make_single(Collation.regular(1, 4), LeafId("1.3"))
    assert (collation.leaves, singles(collation)) == (8, {3, 6})


def test_a_leaf_more_after_the_fifth() -> None:
    # Ker (c): a 6 and 1 leaf after 5; the sheets are 1+7, 2+6 (by place 1+6, 2+5) and 3+4, and 6 is single.
    collation = add_after(Collation.regular(1, 3), LeafId("1.5"))
    assert pairs(collation) == {(1, 7), (2, 5), (3, 4)}
    assert singles(collation) == {6}


def test_stub_of_a_ninth_leaf_stands_before_the_first() -> None:
    # R. Hanna, A Descriptive Catalogue of the Western Medieval MSS of St John's College, Oxford, 2002, nos 108, 130:
    # a leaf added as the ninth of an 8 shows its stub before leaf 1.
    halves = add_after(Collation.regular(1, 4), LeafId("1.8")).gatherings[0].halves
    assert [half.state.value for half in halves] == ["stub", *["leaf"] * 9]


@pytest.mark.parametrize("sheets", range(1, 6))
def test_the_only_nest_of_sheets(sheets: int) -> None:
    # From first principles: of all pairings of 2n leaves that do not cross, one alone has every sheet span the fold.
    spanning = [found for found in non_crossing(1, 2 * sheets) if all(a <= sheets < b for a, b in found)]
    assert spanning == [frozenset(pairs(Collation.regular(1, sheets)))]


@cache
def non_crossing(first: int, last: int) -> tuple[frozenset[tuple[int, int]], ...]:
    if first > last:
        return (frozenset(),)
    return tuple(
        frozenset({(first, mate)}) | inside | after
        for mate in range(first + 1, last + 1, 2)
        for inside in non_crossing(first + 1, mate - 1)
        for after in non_crossing(mate + 1, last)
    )


@pytest.mark.parametrize(("sheets", "catalan"), [(1, 1), (2, 2), (3, 5), (4, 14), (5, 42)])
def test_the_pairings_are_all_counted(sheets: int, catalan: int) -> None:
    # Catalan numbers, from memory: so many pairings of 2n points on a line do not cross.
    assert len(non_crossing(1, 2 * sheets)) == catalan
