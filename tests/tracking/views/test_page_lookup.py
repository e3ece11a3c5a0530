"""Pages and leaves of a book as people call them, and as they are called in what is said."""

from __future__ import annotations

from datetime import date

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import Anchor, Signing, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.tracking.checking.fault_report import fault_accounts
from copydesk.tracking.commands import leaf_commands as leaf_acts
from copydesk.tracking.ledger.page_record import PageState
from copydesk.tracking.log.entry_text import tell
from copydesk.tracking.views.page_lookup import leaf_called, page_called
from copydesk.tracking.views.page_view import page_account
from copydesk.tracking.views.sheet_pile import SheetWait, waits_words
from small_book import SmallBook


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
    assert tell(entry, book.state).startswith(f"{label} written by A")
    assert entry.page == "2v"
    book.do(book.commands.fault(Page.parse("2v"), "omission", line=3))
    assert [(each.named, each.label) for each in fault_accounts(book.state)] == [(label, "2v")]
    cut = book.do(leaf_acts.cancel_leaf(book.state, 2))
    assert tell(cut, book.state) == f"{leaf} cancelled, its stub kept, by A"
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
