"""Where the pen stopped, to the word, and where it goes on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.flow import CountedDivision
from copydesk.book.plan import Anchor, Change, Columns, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.tracking.scribes.handover import HANDOVER, Handover, handover
from copydesk.tracking.scribes.handover_text import handover_lines
from copydesk.tracking.state.book_state import BookState
from small_book import SmallBook

if TYPE_CHECKING:
    from copydesk.tracking.scribes.stopping_point import LinePlace


def at(book: SmallBook, page: str | None = None) -> Handover:
    return handover(book.state, Page.parse(page) if page else None)


def told(book: SmallBook, head: str, page: str | None = None) -> str:
    return next(each.says for each in handover_lines(book.state, at(book, page)) if each.head == head)


def where(spot: LinePlace | None) -> str:
    return spot.named(SmallBook().plan) if spot is not None else ""


def test_it_stops_at_the_end_of_a_line_and_goes_on_in_the_next() -> None:
    book = SmallBook()
    book.write("1r", to_line=4)
    found = at(book)
    assert (where(found.point.stop), where(found.point.goes_on)) == (
        "1r, column 1, line 4",
        "1r, column 1, line 5",
    )
    assert (found.last_words, found.next_word) == ("w17 w18 w19 w20 w21 w22", 23)
    assert found.next_words.split() == [f"w{number}" for number in range(23, 53)]
    assert not found.point.within
    assert [line.line for line in found.before] == [1, 2, 3, 4]
    assert [(line.line, line.written) for line in found.after] == [
        (5, ""),
        (6, ""),
        (7, ""),
        (8, ""),
        (9, ""),
        (10, ""),
    ]


def test_within_a_line_the_next_words_go_on_beside_what_stands_there() -> None:
    book = SmallBook()
    book.do(book.commands.write(Page.parse("1r"), to_line=4, ends="w18 w19", within=True))
    found = at(book)
    assert (where(found.point.stop), where(found.point.goes_on)) == (
        "1r, column 1, line 4",
        "1r, column 1, line 4",
    )
    assert found.point.within
    assert found.next_words.startswith("w20 w21")
    assert (found.after[0].written, found.after[0].to_come) == ("w18 w19", "w20 w21 w22")
    assert str(found.after[0]) == "w18 w19 | w20 w21 w22"
    assert "within line 4" in told(book, "Stopped")
    assert "after the words already there" in told(book, "Go on")
    assert HANDOVER.data(found)["in_line"] is True


def test_columns_are_counted_as_they_stand_on_the_skin() -> None:
    book = SmallBook(columns=Columns(2, 10.0))
    book.write("1r", to_line=13)
    data = HANDOVER.data(at(book))
    assert (data["page"], data["column"], data["line"], data["text_line"]) == ("1r", 2, 3, 13)


def test_lines_that_a_space_takes_are_passed_over() -> None:
    space = SpacePlan("frost", "miniature", Anchor(page="1r"), 4)
    book = SmallBook(spaces=(space,))
    book.write("1r", to_line=2)
    assert (at(book).point.stop.line, at(book).point.stop.text_line) == (6, 2)


def test_after_a_whole_page_work_goes_on_on_the_next() -> None:
    book = SmallBook()
    book.write("1r")
    found = at(book)
    assert (where(found.point.stop), where(found.point.goes_on)) == (
        "1r, column 1, line 10",
        "1v, column 1, line 1",
    )
    assert found.last_words.endswith("w52")
    assert found.next_words.startswith("w53")


def test_after_a_whole_page_it_passes_over_pages_written_already() -> None:
    book = SmallBook()
    for page in ("1v", "2r", "1r"):
        book.write(page)
    found = at(book)
    assert (str(found.point.stop.page), str(found.goes_on.page)) == ("1r", "2v")


def test_the_page_left_unfinished_last_is_meant_and_others_are_named() -> None:
    book = SmallBook()
    book.write("2r", to_line=3)
    book.write("1r", to_line=3)
    book.write("1v")
    assert (str(at(book).point.stop.page), list(map(str, at(book).point.also))) == ("1r", ["2r"])
    assert str(at(book, "2r").point.stop.page) == "2r"


def test_a_book_not_begun_begins_at_its_first_word() -> None:
    book = SmallBook()
    found = at(book)
    assert (found.point.stop.line, found.next_word, found.last_words, found.before) == (0, 0, "", ())
    assert where(found.point.goes_on) == "1r, column 1, line 1"
    assert told(book, "Stopped") == "nothing is written on 1r yet"


def test_a_book_written_to_its_end_has_nothing_to_go_on_with() -> None:
    book = SmallBook(words=20, sheets=1, count=1)
    book.write("1r")
    found = at(book)
    assert (found.point.goes_on, found.next_words, found.next_word) == (None, "", 20)
    assert told(book, "Go on") == "nothing: the text is written to its end"
    assert HANDOVER.data(found)["goes_on"] is None


def test_words_changed_on_purpose_are_given_as_they_are_to_be_written() -> None:
    book = SmallBook(changes=(Change(24, 26, "other words here"),))
    book.write("1r", to_line=4)
    assert at(book).next_words.split()[:5] == ["w23", "other", "words", "here", "w26"]


def test_a_counted_text_has_lines_but_no_words() -> None:
    counted = SmallBook(divisions=(CountedDivision("On frost", words=900),))
    counted.state = BookState(counted.plan, None, counted.ledger)
    counted.write("1r", to_line=4)
    found = handover(counted.state)
    assert (found.point.stop.line, found.next_words, found.place, found.watch) == (4, "", None, ())
    assert HANDOVER.data(found)["exemplar"] is None


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_the_last_and_the_next_words_meet_at_the_stop(data: st.DataObject) -> None:
    """Property: wherever the pen stops, what is written and what comes are the text, with nothing between."""
    book = SmallBook()
    pages = data.draw(st.integers(0, 3))
    for index in range(pages):
        book.write(str(Page.at(index)), hand=data.draw(st.sampled_from("AB")))
    line = data.draw(st.integers(1, 10))
    word = book.state.copy.word(book.state.budget.pages[pages].start) + data.draw(st.integers(2, 30))
    page, ends = Page.at(pages), f"w{word - 2} w{word - 1}"
    within = data.draw(st.booleans())
    book.do(book.commands.write(page, to_line=line, ends=ends, within=within, sure=True))
    found = handover(book.state, page)
    assert found.next_word == word
    assert found.last_words.endswith(ends)
    assert found.next_words.split()[0] == f"w{word}"
    if found.goes_on.page == page:
        shown = [
            part for each in (*found.before, *found.after) for part in (*each.written.split(), *each.to_come.split())
        ]
        numbers = [int(each[1:]) for each in shown]
        assert numbers == list(range(numbers[0], numbers[0] + len(numbers)))
