"""The binder's walk through the sheets."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.tracking.binding.assembly import Assembly, assembly
from copydesk.tracking.binding.binding_walk import binding_walk, walk_sheet, walked_by
from copydesk.tracking.commands import leaf_commands as leaf_acts
from small_book import SmallBook


def found(book: SmallBook) -> Assembly:
    return assembly(book.state)


def test_the_walk_goes_from_the_outermost_sheet_in() -> None:
    book = SmallBook(sheets=3, count=2)
    walk = binding_walk(book.state, found(book))
    assert [(each.number, each.first, each.last) for each in walk] == [(1, 1, 6), (2, 7, 12)]
    assert [(sheet.name, sheet.leaves) for sheet in walk[0].sheets] == [
        ("1.1", (1, 6)),
        ("1.2", (2, 5)),
        ("1.3", (3, 4)),
    ]
    assert [sheet.signature for sheet in walk[1].sheets] == ["b j", "b ij", "b iij"]
    assert [bool(sheet.catchword) for sheet in walk[0].sheets] == [True, False, False]
    assert walk[0].sheets[0].obstacles


def test_a_sheet_laid_in_later_is_walked_where_it_nests() -> None:
    book = SmallBook(sheets=2, count=1)
    book.do(leaf_acts.add_sheet(book.state, "1.1"))
    walk = binding_walk(book.state, found(book))
    assert [(sheet.name, sheet.leaves) for sheet in walk[0].sheets] == [
        ("1.1", (1, 6)),
        ("1.3", (2, 5)),
        ("1.2", (3, 4)),
    ]


def test_a_sheet_is_ticked_once_and_loses_its_tick_when_moved() -> None:
    book = SmallBook()
    entry = book.do(walk_sheet(book.state, "1.1"), "B")
    assert (found(book).walked, walked_by(book.state, "1.1")) == (1, ("B", entry.entry))
    with pytest.raises(CopydeskError, match="found in its place already"):
        walk_sheet(book.state, "1.1")
    book.do(book.commands.sheet("1.1", "checker", "B"))
    assert (found(book).walked, walked_by(book.state, "1.1")) == (0, None)
    with pytest.raises(CopydeskError, match="with the checker; bring it to the desk"):
        walk_sheet(book.state, "1.1")
    with pytest.raises(CopydeskError, match="no sheet 9"):
        walk_sheet(book.state, "1.9")


@settings(max_examples=25, deadline=None)
@given(st.lists(st.integers(1, 4), max_size=4), st.sampled_from(["cancel", "want", "replace"]))
def test_every_leaf_is_walked_once_whatever_happened_to_the_leaves(leaves: list[int], what: str) -> None:
    """Property: the walk holds every leaf that stands, once, and every sheet the collation has."""
    book = SmallBook(sheets=2, count=2)
    acts = {"cancel": leaf_acts.cancel_leaf, "want": leaf_acts.lose_leaf, "replace": leaf_acts.replace_leaf}
    for leaf in leaves:
        if leaf <= book.state.collation.leaves:
            book.do(acts[what](book.state, leaf))
    walk = binding_walk(book.state, found(book))
    walked = sorted(leaf for each in walk for sheet in each.sheets for leaf in sheet.leaves)
    assert walked == list(range(1, book.state.collation.leaves + 1))
    assert sum(len(each.sheets) for each in walk) == found(book).sheets
