"""Which hand goes on with a page, and the letters a line at which the page is cast off."""

from __future__ import annotations

from copydesk.tracking.commands.page_commands import agree_letters
from copydesk.tracking.ledger.entry import Act
from small_book import SmallBook


def hands(book: SmallBook, *indices: int) -> list[str]:
    return [book.state.hand_on(index) for index in indices]


def test_whoever_wrote_last_on_a_page_goes_on_there_and_nowhere_else() -> None:
    book = SmallBook()
    assert hands(book, 0, 1) == ["A", "A"]
    book.write("1r", to_line=4, hand="B")
    assert hands(book, 0, 1) == ["B", "A"]
    assert (book.state.letters_on(0), book.state.letters_on(1)) == (16.0, 20.0)


def test_a_hand_that_took_the_desk_over_goes_on_to_the_end_of_the_gathering() -> None:
    book = SmallBook()
    book.write("1r", to_line=4)
    taken = book.do(Act("handover", str(book.state.skin_at(0)), "1r", {"to": "B", "from": "A"}), "B")
    assert hands(book, 0, 1, 7, 8) == ["B", "B", "B", "A"]
    book.undo(taken)
    assert hands(book, 0, 1, 7, 8) == ["A", "A", "A", "A"]


def test_letters_agreed_on_count_more_than_the_hand() -> None:
    book = SmallBook()
    book.do(agree_letters(book.state, 1, 2, 23.0))
    assert [book.state.letters_on(index) for index in range(4)] == [20.0, 23.0, 23.0, 20.0]
    assert (book.state.letters_on(0, "B"), book.state.letters_on(1, "B")) == (16.0, 23.0)
