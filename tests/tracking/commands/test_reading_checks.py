"""A page read as the book wants it: who may, how, how often; what is refused, and what the page then is."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

import pytest

from copydesk.book.checks import ReadingRules
from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.page import Page
from copydesk.tracking.binding.colophon import colophon
from copydesk.tracking.checking.page_compare import compare_page
from copydesk.tracking.commands.check_commands import checker_words, note_comparison, remarks_on
from copydesk.tracking.commands.page_commands import Commands
from copydesk.tracking.log.entry_text import describe
from copydesk.tracking.planning.work_left import work_left
from copydesk.tracking.views.page_view import CheckState, page_account
from text_book import TextBook

if TYPE_CHECKING:
    from copydesk.book.checks import Way
    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.ledger.page_record import PageState

FIRST = Page.parse("1r")


def written(*ways: Way, by: str = "not a writer") -> TextBook:
    book = TextBook(readings=ReadingRules(ways, by, ("Mera",)))  # type: ignore[arg-type]
    book.write("1r")
    return book


def read(book: TextBook, hand: str, how: str = "", beside: str = "") -> Entry:
    return book.do(Commands(book.state, hand).check(FIRST, read=True, how=how, beside=beside), hand)


def state(book: TextBook) -> PageState:
    return book.state.record(book.state.skin_at(0)).state


def test_a_page_is_checked_once_every_reading_is_made_and_not_before() -> None:
    book = written("silently", "aloud by two")
    one = read(book, "B", "silently")
    record = book.state.record(book.state.skin_at(0))
    assert (record.state, record.wanted, record.checked_by) == ("written", ("aloud by two",), "")
    assert page_account(book.state, 0).check is CheckState.BEGUN
    assert remarks_on(book.state, one) == ["1r is still to be read aloud by two"]
    other = read(book, "Mera", "aloud by two", "A")
    record = book.state.record(book.state.skin_at(0))
    assert (record.state, record.wanted, record.checked_by) == ("corrected", (), "Mera")
    assert remarks_on(book.state, other) == []
    assert describe(other, book.state).endswith("by Mera, read aloud by two with A")
    book.undo(one)
    assert (state(book), book.state.record(book.state.skin_at(0)).wanted) == ("written", ("silently",))
    assert book.afresh().record(book.state.skin_at(0)) == book.state.record(book.state.skin_at(0))


def test_lines_written_anew_are_read_anew() -> None:
    book = written("silently")
    read(book, "B", "silently")
    book.write("1r", to_line=10)
    record = book.state.record(book.state.skin_at(0))
    assert (record.readings, record.wanted, record.written_again) == ((), ("silently",), True)


@pytest.mark.parametrize(
    ("hand", "how", "beside", "told"),
    [
        ("A", "silently", "", "1r was written by A, and this book wants it read by somebody who wrote nothing on it"),
        ("B", "", "", "1r is still to be read silently, aloud by two; say how it was read"),
        ("B", "by typing", "", "1r was read by typing, and is still to be read silently, aloud by two"),
        ("B", "backwards", "", "'backwards' is no way of reading; write one of silently, aloud by two, by typing"),
        ("B", "aloud by two", "", "1r is read aloud by two; name the other person too"),
        ("B", "aloud by two", "B", "1r is read aloud by two; name the other person too"),
        ("B", "aloud by two", "Ode", "there is no hand 'Ode' in this book; its hands are A, B, Mera"),
        ("B", "silently", "Mera", "another person reads only with a page read aloud by two"),
    ],
)
def test_what_would_not_count_is_refused_in_a_sentence(hand: str, how: str, beside: str, told: str) -> None:
    book = written("silently", "aloud by two")
    with pytest.raises(CopydeskError) as refused:
        read(book, hand, how, beside)
    assert str(refused.value).startswith(told)


def test_a_page_only_ticked_is_not_read_and_a_new_reader_is_another() -> None:
    book = written("any way", "any way", by="a new reader each time")
    with pytest.raises(CopydeskError, match="1r was only ticked, and this book wants its pages read"):
        Commands(book.state, "B").check(FIRST)
    read(book, "B")
    assert checker_words(book.state, FIRST, "B") == (
        "1r was read by B before, and this book wants a new reader each time."
    )
    with pytest.raises(CopydeskError, match="was read by B before"):
        read(book, "B")
    assert checker_words(book.state, FIRST, "Mera") == ""
    read(book, "Mera")
    assert state(book) == "corrected"


def test_a_page_typed_is_read_by_typing_and_by_whoever_typed_it() -> None:
    book = written("by typing")
    text = "\n".join(book.lines("1r"))
    compared = compare_page(book.state, 0, text)
    with pytest.raises(CopydeskError, match="1r was written by A"):
        note_comparison(book.state, compared, text, (), checked=True, hand="A")
    for act in note_comparison(book.state, compared, text, (), checked=True, hand="B"):
        book.do(act, "B")
    (reading,) = book.state.record(book.state.skin_at(0)).readings
    assert (reading.by, reading.how, state(book)) == ("B", "by typing", "corrected")


def test_where_no_readings_are_named_one_check_by_anybody_will_do() -> None:
    book = written()
    book.do(Commands(book.state, "A").check(FIRST), "A")
    record = book.state.record(book.state.skin_at(0))
    assert (record.state, record.checked_by, record.unread, record.wanted) == ("corrected", "A", True, ())


def test_each_reading_still_to_be_made_is_work_and_each_reader_is_named() -> None:
    plain, book = written(), written("silently", "aloud by two")

    def checking(of: TextBook) -> float:
        left = work_left(of.state, date(2026, 3, 2), ())
        return sum(task.lines for task in left.checking) - sum(task.lines for task in left.writing)

    assert checking(book) == pytest.approx(3 * checking(plain))
    before = checking(book)
    read(book, "B", "silently")
    assert checking(book) < before
    read(book, "Mera", "aloud by two", "A")
    told = {each.hand: each.where for each in colophon(book.state).checked}
    assert set(told) == {"B", "Mera", "A"}
