from __future__ import annotations

import pytest

from copydesk.book.plan import GatheringPlan, LeafException
from copydesk.book.structure.gathering import SheetSide
from copydesk.book.structure.sheets import find_sheet, open_sheets
from copydesk.tracking.commands import leaf_commands as leaf_acts
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.views.sheet_view import SheetAccount, sheet_account
from small_book import SmallBook


def account(book: SmallBook, name: str) -> SheetAccount:
    return sheet_account(book.state, find_sheet(book.state.collation, name))


def test_a_whole_sheet_has_a_page_in_every_half() -> None:
    found = account(SmallBook(), "1.1")
    assert [str(each.page) for each in found.outer.pages] == ["4v", "1r"]
    assert [str(each.page) for each in found.inner.pages] == ["1v", "4r"]
    assert [str(each.page) for each in found.pages] == ["1r", "1v", "4r", "4v"]
    assert found.side(SheetSide.INNER) is found.inner
    assert found.outer.right.marks is not None
    assert found.outer.right.marks.signature == "a j"


@pytest.mark.parametrize(
    ("what", "leaf", "says"),
    [
        ("cancelled", 4, "a stub: the leaf was cancelled"),
        ("wanting", 4, "nothing: the leaf is wanting"),
        ("singleton", 1, "a stub: this leaf is single"),
    ],
)
def test_a_missing_half_is_told_as_what_it_is(what: str, leaf: int, says: str) -> None:
    book = SmallBook(gatherings=GatheringPlan(2, 3, exceptions=(LeafException(leaf, what),)))  # type: ignore[arg-type]
    found = account(book, "1.1")
    assert (found.outer.left.page, found.outer.left.instead) == (None, says)
    assert (found.inner.right.page, found.inner.right.instead) == (None, says)
    assert found.outer.right.instead is None


def test_a_leaf_tipped_in_is_a_sheet_of_one_half() -> None:
    book = SmallBook()
    book.do(leaf_acts.replace_leaf(book.state, 4))
    found = account(book, "1.3")
    assert [str(each.page) for each in found.pages] == ["4r", "4v"]
    assert found.outer.right.instead == "nothing: this leaf is tipped in"


def test_work_goes_on_with_the_first_page_to_write_then_to_check() -> None:
    book = SmallBook()
    turns = []
    for act in ("write", "write", "write", "write", "check", "check", "check", "check"):
        found = account(book, "1.1").next_page
        assert found is not None
        turns.append(str(found.page))
        book.do(book.commands.write(found.page) if act == "write" else book.commands.check(found.page))
    assert turns == ["1r", "1v", "4r", "4v"] * 2
    assert account(book, "1.1").next_page is None


def test_blank_pages_ask_for_no_work() -> None:
    book = SmallBook(words=5)
    assert account(book, "3.1").next_page is None
    assert str(account(book, "1.1").next_page.page) == "1r"  # type: ignore[union-attr]


def test_where_the_sheet_is_goes_along() -> None:
    book = SmallBook()
    book.do(Act("artist", "1.1", "", {"who": "C"}))
    assert (account(book, "1.1").record.place, account(book, "1.1").record.who) == ("artist", "C")
    assert account(book, "1.2").record.place == "desk"


def test_every_page_of_a_troubled_book_is_on_one_sheet_and_half() -> None:
    book = SmallBook()
    for act in (
        lambda: leaf_acts.cancel_leaf(book.state, 2),
        lambda: leaf_acts.replace_leaf(book.state, 5),
        lambda: leaf_acts.add_leaf(book.state, 6),
        lambda: leaf_acts.add_sheet(book.state, "3.0"),
    ):
        book.do(act())
    collation = book.state.collation
    found = [
        str(half.page.page)
        for gathering in collation.gatherings
        for sheet in open_sheets(collation, gathering.number)
        for side in (sheet_account(book.state, sheet).outer, sheet_account(book.state, sheet).inner)
        for half in (side.left, side.right)
        if half.page is not None
    ]
    assert sorted(found) == sorted(map(str, collation.all_pages()))
