"""What has become of the text: skipped, doubled, too long or without room, told once it is so."""

from __future__ import annotations

from copydesk.book.structure.page import Page
from copydesk.tracking.commands.leaf_commands import cancel_leaf
from copydesk.tracking.commands.page_commands import agree_lines
from copydesk.tracking.views.consequences import meeting_words, text_changes, text_standing
from text_book import TextBook, made_text


def a_book(words: int = 420) -> TextBook:
    return TextBook(made_text(words))


def words_at(book: TextBook, page: str, later: int = 0) -> str:
    word = book.state.copy.word(book.state.budget.pages[Page.parse(page).index].start) + later
    return " ".join(book.exemplar.words[word : word + 4])


def test_pages_that_meet_have_nothing_to_say() -> None:
    book = a_book()
    before = text_standing(book.state)
    book.write("1r")
    assert meeting_words(book.state, 1) == ""
    assert list(text_changes(before, book.state)) == []


def test_text_that_is_skipped_is_told_when_it_is_and_not_again() -> None:
    book = a_book()
    book.write("1r")
    before = text_standing(book.state)
    entry = book.do(book.commands.write(Page.parse("1v"), begins=words_at(book, "1v", 3)))
    (said,) = text_changes(before, book.state)
    assert said.startswith('3 words skipped between 1r and 1v: "')
    now = text_standing(book.state)
    book.write("2r")
    assert list(text_changes(now, book.state)) == []
    book.undo(entry)
    assert not [each for each in text_changes(now, book.state) if "skipped between 1r and 1v" in each]


def test_lines_over_are_told_wherever_they_come_from() -> None:
    book = a_book()
    book.write("1r")
    book.do(book.commands.hold(Page.parse("3r"), words_at(book, "3r")))
    before = text_standing(book.state)
    book.do(agree_lines(book.state, 9))
    assert next(iter(text_changes(before, book.state))) == "3 lines over from 1v to 2v."


def test_text_without_room_is_told_when_a_leaf_goes() -> None:
    book = TextBook(made_text(600))
    before = text_standing(book.state)
    for leaf in (12, 11, 10, 9, 8):
        book.do(cancel_leaf(book.state, leaf))
    (said,) = text_changes(before, book.state)
    assert said.endswith(" lines of text have no room in the book now.")
