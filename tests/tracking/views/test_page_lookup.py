"""Pages as people call them, and the next page on which something is to be done, as all accounts find it."""

from __future__ import annotations

from contextlib import suppress
from datetime import date
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import Anchor, Signing, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.tracking.checking.fault_report import fault_accounts
from copydesk.tracking.commands import leaf_commands as leaf_acts
from copydesk.tracking.ledger.page_record import PageState
from copydesk.tracking.log.entry_text import describe
from copydesk.tracking.views.page_lookup import leaf_called, next_to_write, next_with_space, page_called
from copydesk.tracking.views.page_view import PageAccount, page_account
from copydesk.tracking.views.sheet_pile import SheetWait, waits_words
from small_book import SmallBook

if TYPE_CHECKING:
    from collections.abc import Callable


def a_book(foliation: str, **changes: object) -> SmallBook:
    return SmallBook(signing=Signing(foliation=foliation), **changes)  # type: ignore[arg-type]


CALLED = [("arabic", "2v", "leaf 2"), ("roman", "ii v", "leaf ii"), ("pages", "p. 4", "leaf 2 (pages 3-4)")]


@pytest.mark.parametrize(("foliation", "label", "leaf"), CALLED)
def test_a_page_is_found_by_what_it_is_called(foliation: str, label: str, leaf: str) -> None:
    state = a_book(foliation).state
    assert page_called(state, label) == page_called(state, "2v") == Page.parse("2v")
    assert page_account(state, 3).label == state.book.named(Page.parse("2v")) == label
    assert state.book.leaf_named(leaf_called(state, "2")) == leaf


@pytest.mark.parametrize(
    ("foliation", "text", "said"),
    [
        ("arabic", "13r", "there is no page 13r in this book; it has leaves 1 to 12"),
        ("roman", "xiii r", "there is no page xiii r in this book; it has leaves i to xii"),
        ("pages", "25", "there is no page 25 in this book; it has pages 1 to 24"),
    ],
)
def test_a_page_the_book_has_not_is_refused_as_it_is_called(foliation: str, text: str, said: str) -> None:
    with pytest.raises(CopydeskError) as refused:
        page_called(a_book(foliation).state, text)
    assert str(refused.value) == said


def test_a_leaf_is_called_by_its_numeral() -> None:
    state = a_book("roman").state
    assert leaf_called(state, "xij") == 12
    with pytest.raises(CopydeskError, match="there is no leaf xiii in this book; it has leaves i to xii"):
        leaf_called(state, "13")


@pytest.mark.parametrize(("foliation", "label", "leaf"), CALLED)
def test_what_is_told_calls_pages_and_leaves_as_the_book_counts(foliation: str, label: str, leaf: str) -> None:
    book = a_book(foliation)
    entry = book.write("2v")
    assert describe(entry, book.state).startswith(f"{label} written by A")
    assert entry.page == "2v"
    book.do(book.commands.fault(Page.parse("2v"), "omission", line=3))
    assert [(each.named, each.label) for each in fault_accounts(book.state)] == [(label, "2v")]
    cut = book.do(leaf_acts.cancel_leaf(book.state, 2))
    assert describe(cut, book.state) == f"{leaf} cancelled, its stub kept, by A"
    assert [each.named for each in fault_accounts(book.state)] == [label]
    with pytest.raises(
        CopydeskError, match=f"^{book.state.book.named(Page.parse('1r'))} is unruled, not written whole"
    ):
        book.commands.check(Page.parse("1r"))


@pytest.mark.parametrize(("foliation", "at"), [("roman", "page ii v line 3"), ("pages", "page 4 line 3")])
def test_a_space_is_tied_to_a_page_by_what_it_is_called(foliation: str, at: str) -> None:
    book = a_book(foliation, spaces=(SpacePlan("mill", "miniature", Anchor(word=3), 2, "column"),))
    moved = book.commands.space("mill", "moved", at=at)
    assert moved.facts["anchor"] == book.commands.space("mill", "moved", at="page 2v line 3").facts["anchor"]


def test_pages_of_two_words_are_listed_with_commas() -> None:
    roman, pages = a_book("roman").plan, a_book("pages").plan
    some = [Page.parse("1r"), Page.parse("4v")]
    assert (roman.listed(some), pages.listed(some)) == ("i r, iv v", "pp. 1 8")
    pairs = [("1r", PageState.WRITTEN), ("1v", PageState.CHECKED), ("4v", PageState.WRITTEN)]
    waits = [*(SheetWait(Page.parse(page), state) for page, state in pairs), SheetWait(None, dry=date(2026, 3, 3))]
    assert waits_words(waits, roman) == "i r, iv v written; i v checked; its ink to be dry on 2026-03-03"
    assert waits_words(waits, pages) == "pp. 1 8 written, p. 2 checked, its ink to be dry on 2026-03-03"


PAGES = ("1r", "1v", "2r", "2v", "3r")


def by_accounts(book: SmallBook, after: int, wanted: Callable[[PageAccount], bool]) -> int | None:
    pages = book.state.collation.pages
    places = [(after + step) % pages for step in range(1, pages + 1)]
    return next((index for index in places if wanted(page_account(book.state, index))), None)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.tuples(st.sampled_from(PAGES), st.sampled_from(("rule", "begin", "write"))), max_size=6),
    st.sampled_from((-1, 0, 3, 7, 23)),
    st.sampled_from((0, 30, 900)),
)
def test_the_pages_found_are_those_that_accounts_of_all_pages_find(
    steps: list[tuple[str, str]], after: int, words: int
) -> None:
    spaces = (
        SpacePlan("ford", "miniature", Anchor(page="2v"), lines=4),
        SpacePlan("last", "miniature", Anchor(page="12r"), lines=4),
    )
    book = SmallBook(words=words, spaces=spaces)
    for page, step in steps:
        with suppress(CopydeskError):  # what a desk would not take, such as ruling a page twice
            if step == "rule":
                book.do(book.commands.rule(Page.parse(page)))
            else:
                book.write(page, 2 if step == "begin" else None)
    assert next_to_write(book.state, after) == by_accounts(book, after, lambda account: account.next_act.is_writing)
    assert next_with_space(book.state, after) == by_accounts(book, after, lambda account: account.spaces_waiting > 0)


def test_a_page_with_a_space_and_no_text_is_to_be_ruled() -> None:
    book = SmallBook(words=30, spaces=(SpacePlan("last", "miniature", Anchor(page="12r"), lines=4),))
    assert next_to_write(book.state, 2) == Page.parse("12r").index


def test_nothing_to_do_is_none() -> None:
    book = SmallBook(words=30)
    book.write("1r")
    assert next_to_write(book.state, -1) is None
    assert next_with_space(book.state, -1) is None
