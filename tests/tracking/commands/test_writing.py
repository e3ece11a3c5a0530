"""What an entry of writing holds: lines and words, from the plan or from what the scribe gives."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import Change
from copydesk.book.structure.page import Page
from copydesk.book.text.exemplar import read_exemplar
from copydesk.tracking.commands.page_commands import Commands
from copydesk.tracking.ledger.ledger import Ledger
from copydesk.tracking.state.book_state import BookState
from copydesk.tracking.views.page_view import PageAccount, page_account
from small_book import SmallBook

if TYPE_CHECKING:
    from copydesk.tracking.ledger.entry import Act

# Ten lines a page and twenty letters a line; words of two letters while under w10, of three to w99, of four beyond.
P1, P2, P3 = Page.parse("1r"), Page.parse("1v"), Page.parse("2r")


def account(book: SmallBook, page: Page) -> PageAccount:
    return page_account(book.state, page.index)


def facts(act: Act, *names: str) -> list[object]:
    return [act.facts.get(name) for name in names]


SPAN = ("from_line", "to_line", "from_word", "to_word", "whole")


def test_a_page_written_without_words_begins_and_ends_as_planned() -> None:
    book = SmallBook()
    second = account(book, P2)
    assert facts(book.commands.write(P2), "from_word", "to_word") == [second.from_word, second.to_word]


def test_a_page_written_to_a_line_ends_where_the_plan_has_that_line() -> None:
    book = SmallBook()
    act = book.commands.write(P1, to_line=4)
    assert facts(act, *SPAN) == [1, 4, 0, 23, False]  # seven words, six, five, five
    book.do(act, "A")
    rest = book.commands.write(P1)
    assert facts(rest, *SPAN)[:3] == [5, 10, 23]
    assert rest.facts["whole"] is True


def test_the_last_line_of_a_page_makes_it_whole() -> None:
    book = SmallBook()
    assert book.commands.write(P1, to_line=10).facts["whole"] is True
    assert book.commands.write(P1, to_line=9).facts["whole"] is False


def test_a_short_last_page_is_whole_with_its_last_planned_line() -> None:
    book = SmallBook(words=30, count=1)
    assert account(book, P1).budget.planned == 6
    assert facts(book.commands.write(P1, to_line=6), *SPAN) == [1, 6, 0, 30, True]
    assert facts(book.commands.write(P1), *SPAN) == [1, 6, 0, 30, True]


def test_real_last_words_are_found_near_the_planned_ones() -> None:
    book = SmallBook()
    act = book.commands.write(P1, ends="w40 w41")
    assert facts(act, *SPAN) == [1, 10, 0, 42, True]
    act = book.commands.write(P1, to_line=4, ends="W22, w23.")
    assert facts(act, *SPAN) == [1, 4, 0, 24, False]


def test_real_first_words_are_found_near_the_planned_ones() -> None:
    book = SmallBook()
    planned = account(book, P2)
    early = f"w{planned.from_word - 2} w{planned.from_word - 1}"
    act = book.commands.write(P2, begins=early)
    assert facts(act, "from_word", "to_word") == [planned.from_word - 2, planned.to_word]
    book.do(act)
    assert account(book, P2).record.begins == planned.from_word - 2


def test_a_page_that_begins_far_from_its_plan_ends_where_its_lines_do() -> None:
    book = SmallBook()
    act = book.commands.write(P1, begins="w500 w501", sure=True)
    assert facts(act, "from_word", "to_word", "to_line") == [500, 540, 10]
    act = book.commands.write(P1, to_line=3, begins="w500 w501", sure=True)
    assert facts(act, "from_word", "to_word") == [500, 512]


def test_a_second_sitting_goes_on_from_the_first() -> None:
    book = SmallBook()
    book.write("1r", 4)
    assert facts(book.commands.write(P1, ends="w40"), *SPAN) == [5, 10, 23, 41, True]
    with pytest.raises(CopydeskError, match="has lines 5 to 10 to write, so it cannot be written to line 4"):
        book.commands.write(P1, to_line=4)


def test_a_second_sitting_may_begin_a_few_words_off() -> None:
    book = SmallBook()
    book.write("1r", 4)
    assert facts(book.commands.write(P1, begins="w25 w26", to_line=9), "from_line", "from_word") == [5, 25]
    assert facts(book.commands.write(P1, begins="w1 w2", to_line=9), "from_line", "from_word") == [1, 1]


def test_a_whole_page_is_recorded_anew_only_with_something_new() -> None:
    book = SmallBook()
    book.write("1r")
    with pytest.raises(CopydeskError, match="1r is written whole already; to record it again, give"):
        book.commands.write(P1)
    with pytest.raises(CopydeskError, match="written whole already"):
        book.commands.write(P1, minutes=9)
    assert facts(book.commands.write(P1, ends="w40 w41"), *SPAN) == [1, 10, 0, 42, True]
    assert facts(book.commands.write(P1, to_line=9), *SPAN)[:3] == [1, 9, 0]


def test_words_are_found_as_they_are_written_not_as_they_were_changed_from() -> None:
    change = Change(38, 42, "anno domini ten")
    book = SmallBook(changes=(change,))
    act = book.commands.write(P1, ends="domini ten")
    assert facts(act, "to_word") == [42]
    assert facts(book.commands.write(P1, ends="w37 anno"), "to_word") == [39]
    with pytest.raises(CopydeskError, match='"w39 w40" does not stand in the exemplar'):
        book.commands.write(P1, ends="w39 w40")


def test_words_that_fit_equally_well_in_two_places_are_asked_for_again() -> None:
    book = SmallBook()
    text = [f"x{number}" for number in range(36)] + ["and", "the", "ford", "lay", "and", "the", "ford", "lay"]
    exemplar = read_exemplar(" ".join([*text, *(f"y{number}" for number in range(200))]))
    state = BookState(book.plan, exemplar, Ledger())
    with pytest.raises(CopydeskError, match=r'"the ford" fits equally well in 2 places: .* give more words'):
        Commands(state).write(P1, ends="the ford")


def test_last_words_that_stand_only_before_the_beginning_are_refused() -> None:
    book = SmallBook()
    with pytest.raises(CopydeskError, match="comes before the place where 3r begins"):
        book.commands.write(Page.parse("3r"), ends="w4 w5")


def test_text_may_be_written_on_a_page_that_the_plan_leaves_blank() -> None:
    book = SmallBook(words=300)
    act = book.commands.write(Page.parse("12v"), begins="w100 w101", ends="w120")
    assert facts(act, "from_word", "to_word") == [100, 121]
