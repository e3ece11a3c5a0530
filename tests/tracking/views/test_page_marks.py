from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.flow import CountedDivision
from copydesk.book.plan import Change, GatheringPlan, Signing
from copydesk.book.structure.page import Page
from copydesk.tracking.commands import leaf_commands as leaf_acts
from copydesk.tracking.state.book_state import BookState
from copydesk.tracking.views.page_marks import catchword_of, catchwords, page_marks
from small_book import SmallBook


def test_the_catchword_is_what_the_next_gathering_begins_with() -> None:
    book = SmallBook()
    found = catchwords(book.state)
    begins = [book.state.budget.pages[Page.parse(page).index].start for page in ("5r", "9r")]
    assert [(each.gathering, str(each.page), str(each.begins)) for each in found.values()] == [
        (1, "4v", "5r"),
        (2, "8v", "9r"),
    ]
    assert [each.words for each in found.values()] == [f"w{at} w{at + 1}" for at in begins]


def test_it_follows_the_text_as_it_really_fell() -> None:
    book = SmallBook()
    book.do(book.commands.write(Page.parse("5r"), begins="w300 w301 w302", sure=True))
    found = catchword_of(book.state, 1)
    assert found is not None
    assert found.words == "w300 w301"


def test_a_change_on_purpose_stands_in_it_as_written() -> None:
    plain = SmallBook()
    at = plain.state.budget.pages[Page.parse("5r").index].start
    book = SmallBook(changes=(Change(at, at + 1, f"x{at}"),))
    found = catchword_of(book.state, 1)
    assert found is not None
    assert found.words == f"x{at} w{at + 1}"


@pytest.mark.parametrize("count", [0, 1, 3])
def test_the_book_says_of_how_many_words(count: int) -> None:
    found = catchwords(SmallBook(signing=Signing(catchwords=count)).state)
    assert [len(each.words.split()) for each in found.values()] == ([count] * 2 if count else [])


def test_blank_pages_and_gatherings_have_none_before_them() -> None:
    assert catchwords(SmallBook(words=60).state) == {}
    counted = SmallBook(divisions=(CountedDivision("On frost", words=900),))
    assert catchwords(BookState(counted.plan, None, counted.ledger)) == {}


def test_it_moves_with_the_last_leaf() -> None:
    book = SmallBook()
    book.do(leaf_acts.cancel_leaf(book.state, 4))
    found = catchword_of(book.state, 1)
    assert found is not None
    assert (str(found.page), str(found.begins)) == ("3v", "4r")
    assert page_marks(book.state, Page.parse("3v")).catchword == found.words
    assert not page_marks(book.state, Page.parse("3r")).catchword


@settings(max_examples=25, deadline=None)
@given(st.integers(1, 1200), st.integers(1, 4), st.integers(1, 5))
def test_every_catchword_is_the_beginning_of_its_page(words: int, count: int, sheets: int) -> None:
    book = SmallBook(words, sheets, signing=Signing(catchwords=count))
    for found in catchwords(book.state).values():
        page = book.state.budget.pages[found.begins.index]
        assert found.words.split() == book.exemplar.words[page.start : page.end][:count]


def test_signatures_by_letters_stand_on_the_first_half_of_each_gathering() -> None:
    state = SmallBook().state
    signed = {str(page): page_marks(state, page).signature for page in state.collation.all_pages()}
    assert {page: mark for page, mark in signed.items() if mark} == {
        "1r": "a j",
        "2r": "a ij",
        "5r": "b j",
        "6r": "b ij",
        "9r": "c j",
        "10r": "c ij",
    }


def test_numbers_stand_on_the_last_verso_and_pages_may_be_counted() -> None:
    state = SmallBook(signing=Signing("numbers", foliation="pages")).state
    marks = {str(page): page_marks(state, page) for page in state.collation.all_pages()}
    assert {page: each.signature for page, each in marks.items() if each.signature} == {
        "4v": "I",
        "8v": "II",
        "12v": "III",
    }
    assert (marks["4v"].label, marks["12v"].label) == ("8", "24")


def test_nothing_is_signed_where_the_book_says_so() -> None:
    plan = GatheringPlan(2, 3)
    state = SmallBook(signing=Signing("none", foliation="roman"), gatherings=plan).state
    marks = [page_marks(state, page) for page in state.collation.all_pages()]
    assert not any(each.signature for each in marks)
    assert marks[-1].label == "xii v"
