"""The lines of a page one by one: as written, then as planned, each with the place where it stands."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.plan import Anchor, Columns, Flaw, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.tracking.state.page_content import line_places, lines_of_page, lines_on_from
from small_book import SmallBook

if TYPE_CHECKING:
    from copydesk.book.layout.page_frame import CastLine

P1 = Page.parse("1r")
KEY = SpacePlan(id="key", kind="initial", at=Anchor(word=0), lines=3, width=28.0)  # 0.4 of the column


def lines(book: SmallBook, page: str = "1r") -> list[CastLine]:
    return lines_of_page(book.state, Page.parse(page).index)


def texts(book: SmallBook, page: str = "1r") -> list[str]:
    return [book.state.copy.line_text(line.start, line.end) for line in lines(book, page)]


def test_a_planned_page() -> None:
    book = SmallBook()
    assert texts(book)[:2] == ["w0 w1 w2 w3 w4 w5 w6", "w7 w8 w9 w10 w11 w12"]
    assert [(line.column, line.line) for line in lines(book)] == [(1, number) for number in range(1, 11)]
    assert lines(book)[-1].end == book.state.budget.pages[0].end


def test_written_lines_end_with_the_words_that_were_given() -> None:
    book = SmallBook()
    book.do(book.commands.write(P1, to_line=4, ends="w26"))
    book.do(book.commands.write(P1, ends="w49"))
    page = lines(book)
    assert len(page) == 10
    assert (page[3].end, page[-1].end) == (27, 50)
    assert [line.line for line in page] == list(range(1, 11))


def test_a_page_written_in_part_goes_on_as_planned() -> None:
    book = SmallBook()
    book.do(book.commands.write(P1, to_line=4, ends="w26"))
    page = lines(book)
    assert [line.start for line in page[4:6]] == [27, 32]
    assert page[-1].end == book.state.budget.pages[0].end


def test_lines_beside_an_initial_hold_less() -> None:
    book = SmallBook(spaces=(KEY,))
    assert [line.end - line.start for line in lines(book)[:4]] == [4, 4, 3, 5]
    book.write("1r")
    assert len(lines(book)) == 10
    assert lines(book)[-1].end == book.state.record(book.state.skin_at(0)).ends


def test_a_page_written_closer_than_it_was_planned() -> None:
    book = SmallBook()
    book.do(book.commands.write(P1, ends="w60"))
    page = lines(book)
    assert (len(page), page[-1].end) == (10, 61)


def test_a_page_written_wider_than_it_was_planned() -> None:
    book = SmallBook()
    book.do(book.commands.write(P1, ends="w30"))
    page = lines(book)
    assert (len(page), page[-1].end) == (10, 31)


def test_lines_stand_around_spaces_and_flaws() -> None:
    weir = SpacePlan(id="weir", kind="miniature", at=Anchor(word=20), lines=3)  # within the line that ends with w22
    book = SmallBook(spaces=(weir,), flaws=(Flaw(leaf=1, from_head=10, from_fold=0, width=90, height=10),))
    assert line_places(book.state, 0) == [(1, line) for line in (2, 3, 4, 5, 9, 10)]
    assert [(line.column, line.line) for line in lines(book)] == line_places(book.state, 0)


def test_an_initial_within_a_paragraph_stands_beside_its_word() -> None:
    owl = SpacePlan(id="owl", kind="initial", at=Anchor(word=20), lines=2)
    book = SmallBook(spaces=(owl,))
    page = lines(book)
    assert [(line.start, line.end) for line in page[3:5]] == [(18, 20), (20, 23)]
    (placement,) = book.state.budget.pages[0].placed
    assert placement.from_line == page[4].line


def test_lines_in_two_columns() -> None:
    book = SmallBook(columns=Columns(2, 5.0))
    assert len(line_places(book.state, 0)) == 20
    assert [(line.column, line.line) for line in lines(book)] == line_places(book.state, 0)


def test_lines_a_page_would_have_from_elsewhere() -> None:
    book = SmallBook(spaces=(KEY,))
    elsewhere = lines_on_from(book.state, 0, 100, 0)
    assert elsewhere[0].start == 100
    assert [line.end - line.start for line in elsewhere[:4]] == [2, 2, 2, 4]
    assert lines_on_from(book.state, 0, 100, 4)[0].line == 5


def test_a_blank_page_has_places_and_no_lines() -> None:
    book = SmallBook(words=20)
    assert lines(book, "12v") == []
    assert len(line_places(book.state, 23)) == 10


@given(st.integers(1, 10), st.integers(5, 90), st.integers(0, 60), st.booleans())
@settings(max_examples=60, deadline=None)
def test_lines_follow_one_another_whatever_was_written(to_line: int, ends: int, more: int, initial: bool) -> None:
    book = SmallBook(words=200, count=2, spaces=(KEY,) if initial else ())
    book.do(book.commands.write(P1, to_line=to_line, ends=f"w{ends}", sure=True))
    if to_line < 10 and more:
        book.do(book.commands.write(P1, ends=f"w{ends + more}", sure=True))
    page, record = lines(book), book.state.record(book.state.skin_at(0))
    assert page[0].start == 0
    assert all(before.end == after.start for before, after in pairwise(page) if after.line != record.written + 1)
    places = [(line.column, line.line) for line in page]
    assert places == sorted(set(places))
    assert set(places) <= set(line_places(book.state, 0))
    if record.whole and len(page) == 10:
        assert page[-1].end == record.ends
