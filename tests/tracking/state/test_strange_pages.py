"""Pages that hold far more of the text than their lines should, named until they are checked."""

from __future__ import annotations

from statistics import fmean

import pytest

from copydesk.book.plan import Hand
from copydesk.book.structure.page import Page
from copydesk.tracking.state.strange_pages import open_strange, strange_on, strange_words
from copydesk.tracking.views.consequences import consequences, standing
from copydesk.tracking.views.page_report import PAGES, page_rows
from skip_trials import Written, skipped


@pytest.fixture(scope="module")
def passed_over() -> Written:
    """A book on whose seventh page, 4r, twenty words were passed over."""
    book = Written("a book", scatter=0.015)
    for index in range(7):
        book.page(index, skip=20 if index == 6 else 0)
    return book


def test_it_is_named_with_the_words_it_holds_too_many(passed_over: Written) -> None:
    found = strange_on(passed_over.state, 6)
    assert found is not None
    assert 12 <= found.words <= 26
    said = strange_words(passed_over.state, found)
    assert said == f"4r holds {found.words} words more than 24 lines of yours do; read it against the exemplar"


def test_it_is_said_when_the_page_is_recorded_and_not_again() -> None:
    book = Written("said once", scatter=0.015)
    for index in range(6):
        book.page(index)
    before = standing(book.state)
    book.page(6, skip=20)
    said = consequences(before, book.state)
    assert [each for each in said if each.startswith("4r holds")]
    before = standing(book.state)
    book.page(7)
    assert not [each for each in consequences(before, book.state) if "read it against" in each]


def test_other_programs_read_it_of_that_page_alone(passed_over: Written) -> None:
    rows = page_rows(passed_over.state, lambda _: None)
    told = {str(row.account.page): PAGES.data(row).get("strange_words") for row in rows}
    assert told.pop("4r") is not None
    assert set(told.values()) == {None}


def test_it_is_named_until_it_is_checked_or_the_next_is_like_it() -> None:
    book = Written("another", scatter=0.015)
    for index in range(7):
        book.page(index, skip=20 if index == 6 else 0)
    assert open_strange(book.state)
    checked = book.do(book.commands.check(Page.at(6), read=True))
    assert not open_strange(book.state)
    book.undo(checked)
    assert open_strange(book.state)
    book.page(7, skip=20)
    assert not any(each.reach.last.page == 6 for each in open_strange(book.state))


def test_among_several_hands_it_is_said_whose_lines_they_are() -> None:
    book = Written("third", scatter=0.015, hands=(Hand("A", "first", 34.0), Hand("B", "second", 30.0)))
    for index in range(7):
        book.page(index, skip=20 if index == 6 else 0)
    (found,) = open_strange(book.state)
    assert "24 lines of A's do" in strange_words(book.state, found)


def test_usual_pages_are_not_named() -> None:
    book = Written("usual", scatter=0.02)
    for index in range(10):
        book.page(index)
    assert not open_strange(book.state)


@pytest.mark.parametrize("words", [20, 40])
def test_words_passed_over_move_a_hand_little_and_noted_not_at_all(words: int) -> None:
    found = [skipped(words, f"short {number}") for number in range(6)]
    assert all(each.named and each.held_after for each in found)
    assert fmean(each.before for each in found) < 0.09 * words
    assert abs(fmean(each.after for each in found)) < 0.15
