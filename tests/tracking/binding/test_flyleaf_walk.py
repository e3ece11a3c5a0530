"""Flyleaves and pastedowns in the binder's walk."""

from __future__ import annotations

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import Flyleaves
from copydesk.book.structure.page import Page
from copydesk.tracking.binding.assembly import ASSEMBLY, assembly
from copydesk.tracking.binding.flyleaf_walk import ENDS, FLYLEAVES, flyleaf_walk, not_found_words, walk_flyleaf
from copydesk.tracking.log.entry_text import describe
from small_book import SmallBook


def bound(front: int = 2, back: int = 2, *, pastedowns: bool = False) -> SmallBook:
    return SmallBook(words=60, flyleaves=Flyleaves(front, back, pastedowns))


def obstacles(book: SmallBook) -> list[tuple[str, str]]:
    return [(point.where, point.what) for point in assembly(book.state).obstacles]


def ticked(book: SmallBook) -> list[str]:
    return [each.name for each in flyleaf_walk(book.state) if each.ticked]


def test_leaves_are_walked_in_the_order_of_the_book() -> None:
    walk = flyleaf_walk(bound(2, 3, pastedowns=True).state)
    assert [(each.name, str(each.leaf), each.short) for each in walk] == [
        ("front.1", "front pastedown", "front"),
        ("front.2", "flyleaf i", "i"),
        ("back.1", "flyleaf ii", "ii"),
        ("back.2", "flyleaf iii", "iii"),
        ("back.3", "back pastedown", "back"),
    ]


@pytest.mark.parametrize("asked", ["iii", "III", " iii ", "back.1"])
def test_a_leaf_is_ticked_by_its_number_or_its_place(asked: str) -> None:
    book = bound()
    entry = book.do(walk_flyleaf(book.state, asked), "B")
    assert (entry.what, entry.about, ticked(book)) == ("flyleaf-walked", "back.1", ["back.1"])
    assert describe(entry, book.state) == "flyleaf iii found in its place by B"
    with pytest.raises(CopydeskError, match="flyleaf iii was found in its place already; nothing was recorded"):
        walk_flyleaf(book.state, "iii")


def test_a_tick_is_taken_back() -> None:
    book = bound()
    entry = book.do(walk_flyleaf(book.state, "i"))
    book.undo(entry)
    assert ticked(book) == []
    book.do(walk_flyleaf(book.state, "i"))
    assert ticked(book) == ["front.1"]


def test_a_pastedown_is_asked_for_by_its_end() -> None:
    book = bound(pastedowns=True)
    book.do(walk_flyleaf(book.state, "front"))
    book.do(walk_flyleaf(book.state, "back"))
    assert ticked(book) == ["front.1", "back.2"]


def test_a_leaf_nobody_planned_is_refused() -> None:
    with pytest.raises(CopydeskError, match="no flyleaf 'v' is planned; give one of i, ii, iii, iv"):
        walk_flyleaf(bound().state, "v")
    with pytest.raises(CopydeskError, match="no flyleaves are planned; give their number in book"):
        walk_flyleaf(SmallBook().state, "i")


def test_a_tick_outlives_a_change_of_the_plan_at_the_other_end() -> None:
    book = bound()
    entry = book.do(walk_flyleaf(book.state, "iii"))
    more = SmallBook(words=60, flyleaves=Flyleaves(3, 2))
    more.ledger.add(entry)
    assert [str(each.leaf) for each in flyleaf_walk(more.state) if each.ticked] == ["flyleaf iv"]
    none = SmallBook(words=60)
    none.ledger.add(entry)
    assert flyleaf_walk(none.state) == []
    assert describe(entry, none.state) == "flyleaf back.1 found in its place by A"
    assert describe(entry) == "flyleaf back.1 found in its place by A"


def test_leaves_not_found_stand_in_the_way_of_sewing() -> None:
    book = bound(3, 2, pastedowns=True)
    for page in ("1r", "1v"):
        if book.state.budget.pages[Page.parse(page).index].planned:
            book.write(page)
            book.do(book.commands.check(Page.parse(page)), "B")
    assert obstacles(book) == [
        ("the front", "the pastedown and flyleaves i and ii not yet found in place"),
        ("the back", "flyleaf iii and the pastedown not yet found in place"),
    ]
    for asked in ("front", "i", "ii", "back"):
        book.do(walk_flyleaf(book.state, asked))
    assert obstacles(book) == [("the back", "flyleaf iii not yet found in place")]
    assert not assembly(book.state).ready
    book.do(walk_flyleaf(book.state, "iii"))
    assert assembly(book.state).ready


def test_many_are_listed() -> None:
    assert not_found_words(flyleaf_walk(bound(4, 0).state), "front") == (
        "flyleaves i, ii, iii and iv not yet found in place"
    )


def test_a_book_without_flyleaves_says_nothing_of_them() -> None:
    found = assembly(SmallBook(words=60).state)
    assert found.flyleaves == ()
    assert not any(point.where in ("the front", "the back") for point in found.obstacles)


def test_they_are_told_as_data() -> None:
    book = bound(1, 1, pastedowns=True)
    book.do(walk_flyleaf(book.state, "front"), "B")
    data = FLYLEAVES.all_data(flyleaf_walk(book.state))
    assert data == [
        {"flyleaf": "front.1", "called": "front pastedown", "walked": True, "by": "B"},
        {"flyleaf": "back.1", "called": "back pastedown", "walked": False, "by": None},
    ]
    assert json.loads(json.dumps(ASSEMBLY.data(assembly(book.state))))["flyleaves"] == data


@given(st.integers(0, 5), st.integers(0, 5), st.booleans(), st.data())
@settings(max_examples=40, deadline=None)
def test_every_leaf_is_ticked_or_told_as_not_found(front: int, back: int, pasted: bool, data: st.DataObject) -> None:
    """Property: what is ticked and what is told as missing make up the plan, and each can be asked for by its name."""
    book = bound(front, back, pastedowns=pasted)
    walk = flyleaf_walk(book.state)
    assert len(walk) == front + back
    assert len({each.name for each in walk}) == len({each.short for each in walk}) == len(walk)
    for each in data.draw(st.lists(st.sampled_from(walk), unique=True)) if walk else []:
        book.do(walk_flyleaf(book.state, data.draw(st.sampled_from((each.name, each.short)))))
    after = flyleaf_walk(book.state)
    for at in ENDS:
        told = not_found_words(after, at)
        missing = [each for each in after if each.leaf.at == at and not each.ticked]
        words = told.replace(",", " ").split()
        assert bool(told) == bool(missing)
        assert all((each.leaf.number or "pastedown") in words for each in missing)
