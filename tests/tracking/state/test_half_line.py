"""A pen that stops within a line: exact to the word, the count of lines right, the rest cast right."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.page import Page
from copydesk.tracking.log.entry_text import describe
from copydesk.tracking.state.page_content import lines_of_page
from small_book import SmallBook

if TYPE_CHECKING:
    from copydesk.tracking.ledger.page_record import PageRecord
    from copydesk.tracking.ledger.stint import Stint

FIRST = Page.parse("1r")


def record(book: SmallBook, page: Page = FIRST) -> PageRecord:
    return book.state.record(book.state.skin_at(page.index))


def stop(book: SmallBook, line: int, word: int, hand: str = "A", page: Page = FIRST) -> None:
    """The pen stops in text line ``line`` of a page, just before ``word``."""
    ends = f"w{word - 2} w{word - 1}" if word > 1 else "w0"
    book.do(book.commands.write(page, to_line=line, ends=ends, within=True), hand)


def lines(book: SmallBook, page: Page = FIRST) -> list[tuple[int, int, int]]:
    return [(line.line, line.start, line.end) for line in lines_of_page(book.state, page.index)]


def test_the_stop_is_exact_and_its_line_is_not_counted_as_written() -> None:
    book = SmallBook()
    planned = lines(book)
    stop(book, 4, planned[3][1] + 2)
    found = record(book)
    assert (found.written, found.ends, found.state) == (3, planned[3][1] + 2, "begun")
    assert found.within is not None
    assert found.within.line_from == planned[3][1]
    assert book.state.budget.pages[0].written == 3
    assert book.state.budget.pages[0].planned == 10


def test_the_next_hand_goes_on_in_the_same_line_at_the_next_word() -> None:
    book = SmallBook()
    planned = lines(book)
    stop(book, 4, planned[3][1] + 2)
    act = book.commands.write(FIRST, to_line=6)
    assert (act.facts["from_line"], act.facts["from_word"]) == (4, planned[3][1] + 2)
    book.do(act, "B")
    first, second = record(book).stints
    assert (first.hand, first.to_word, first.lines) == ("A", second.from_word, 3)
    assert (second.hand, second.goes_on, second.lines) == ("B", planned[3][1], 3)
    assert record(book).written == 6


def test_a_hand_may_stop_in_its_very_first_line() -> None:
    book = SmallBook()
    stop(book, 1, 3)
    book.write("1r", hand="B")
    found = record(book)
    assert (found.begins, found.whole, found.written) == (0, True, 10)
    assert next((stint.hand, stint.from_word, stint.to_word) for stint in found.stints) == ("A", 0, 3)


def test_three_hands_may_share_a_line() -> None:
    book = SmallBook()
    stop(book, 4, 20)
    stop(book, 4, 21, "B")
    stop(book, 4, 22)
    assert [(stint.hand, stint.from_word, stint.to_word, stint.lines) for stint in record(book).stints] == [
        ("A", 0, 20, 3),
        ("B", 20, 21, 0),
        ("A", 21, 22, 0),
    ]
    assert record(book).written == 3


def test_writing_the_page_anew_forgets_the_stop() -> None:
    book = SmallBook()
    stop(book, 4, 20)
    book.do(book.commands.write(FIRST, to_line=5, begins="w0 w1"), "B")
    assert [(stint.hand, stint.from_line, stint.to_line) for stint in record(book).stints] == [("B", 1, 5)]
    assert record(book).within is None


def test_taking_the_stop_back_leaves_the_page_as_it_was() -> None:
    book = SmallBook()
    before = book.state.budget.pages
    entry = book.do(book.commands.write(FIRST, to_line=4, ends="w18 w19", within=True))
    assert describe(entry, book.state) == '1r written by A, lines 1 to 4, ends "w17 w18 w19", within the line'
    book.undo(entry)
    assert book.state.budget.pages == before


def test_a_line_that_a_wider_hand_has_no_room_in_is_left_and_the_next_begun() -> None:
    book = SmallBook()
    start, end = lines(book)[2][1:]
    stop(book, 3, end - 1)
    book.do(book.commands.hold(Page.parse("2r"), "w90 w91"))  # something else to recast
    by_a = lines(book)
    assert by_a[2] == (3, start, end)
    book.write("1r", to_line=4, hand="B")
    assert [line[0] for line in lines(book)] == list(range(1, 11))


@pytest.mark.parametrize("given", [{"ends": "w18 w19"}, {"to_line": 4}])
def test_line_and_last_words_are_both_needed(given: dict[str, object]) -> None:
    with pytest.raises(CopydeskError, match="to stop within a line of 1r, give that line and the last words"):
        SmallBook().commands.write(FIRST, within=True, **given)  # type: ignore[arg-type]


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_the_same_hand_going_on_writes_what_was_planned(data: st.DataObject) -> None:
    """Property: for the hand that stopped, no line of any page moves, wherever in a line it stops."""
    book = SmallBook()
    page = Page.at(data.draw(st.integers(0, 3)))
    planned = {index: lines(book, Page.at(index)) for index in range(6)}
    for before in range(page.index):
        book.write(str(Page.at(before)))
    line, start, end = data.draw(st.sampled_from(planned[page.index]))
    if end - start < 2:
        return
    word = data.draw(st.integers(start + 1, end - 1))
    stop(book, line, word, page=page)
    assert {index: lines(book, Page.at(index)) for index in range(6)} == planned
    assert book.afresh().budget.pages == book.state.budget.pages


@settings(max_examples=40, deadline=None)
@given(st.integers(2, 9), st.integers(1, 4), st.integers(1, 3))
def test_the_rest_is_right_to_a_line_for_another_hand(line: int, into: int, more: int) -> None:
    """Property: what the wider hand writes after the stop takes the lines it would take set out by measuring."""
    book = SmallBook()
    start, end = lines(book)[line - 1][1:]
    word = min(start + into, end - 1)
    stop(book, line, word)
    book.write("1r", to_line=min(line + more, 10), hand="B")
    rest = [each for each in lines(book) if each[0] > line]
    letters = book.state.copy.sums
    width = book.state.measures["B"] * book.state.copy.mean
    left = letters[end] - letters[word]
    exact = (letters[rest[-1][2]] - letters[word] - min(left, width)) / width
    assert abs(len(rest) - exact) <= 2  # a line, and what ragged ends add over at most nine lines
    stints: tuple[Stint, ...] = record(book).stints
    assert stints[0].to_word == stints[1].from_word == word


def test_minutes_told_of_a_shared_line_count_it_once() -> None:
    from copydesk.tracking.scribes.sittings import writing_sittings

    book = SmallBook()
    book.do(book.commands.write(FIRST, to_line=4, ends="w18 w19", within=True, minutes=8))
    book.do(book.commands.write(FIRST, to_line=6, minutes=6), "B")
    assert [(each.hand, each.lines) for each in writing_sittings(book.ledger)] == [("A", 3), ("B", 3)]


def test_two_desks_sharing_a_line_do_not_contradict_each_other() -> None:
    from copydesk.tracking.ledger.ledger import Ledger
    from copydesk.tracking.log.contradictions import contradictions

    book = SmallBook()
    first = book.do(book.commands.write(FIRST, to_line=4, ends="w18 w19", within=True))
    second = book.do(book.commands.write(FIRST, to_line=6), "B")
    second = second._replace(facts={name: value for name, value in second.facts.items() if name != "seen"})
    assert not contradictions(Ledger([first, second._replace(desk="stove")]))
    whole = first._replace(facts={name: value for name, value in first.facts.items() if name != "line_from_word"})
    assert contradictions(Ledger([whole, second._replace(desk="stove")]))
