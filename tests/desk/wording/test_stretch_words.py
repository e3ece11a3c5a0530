"""How tight or loose text is, in a scribe's words."""

from __future__ import annotations

import pytest

from copydesk.book.structure.page import Page
from copydesk.desk.wording.page_words import page_lines
from copydesk.desk.wording.stretch_words import after_words, need_words, untold
from copydesk.tracking.fit.stretches import Need
from copydesk.tracking.views.page_view import page_account
from text_book import TextBook, made_text


def a_book(words: int = 420) -> TextBook:
    return TextBook(made_text(words))


def panel(book: TextBook, page: str) -> dict[str, str]:
    account = page_account(book.state, Page.parse(page).index)
    return {line.head: line.says for line in page_lines(book.state, account)}


def words_at(book: TextBook, page: str, later: int, count: int = 4) -> str:
    index = Page.parse(page).index
    word = book.state.copy.word(book.state.budget.pages[index].start) + later
    return " ".join(book.exemplar.words[word : word + count])


@pytest.mark.parametrize(
    ("need", "said"),
    [
        (
            Need(3, 6, 3, 33.1, 31.0, "A", "easy"),
            "3 lines over from 2v to 4r; write 33.1 letters a line where you write 31.0",
        ),
        (Need(3, 3, 1, 31.4, 31.0, "A", "easy"), "1 line over on 2v; write 31.4 letters a line where you write 31.0"),
        (
            Need(3, 6, -2, 29.0, 31.0, "A", "hard"),
            "2 lines left from 2v to 4r; write wider: 29.0 letters a line where you write 31.0 (hard)",
        ),
        (
            Need(3, 6, -3, 30.99, 31.0, "A", "easy"),
            "3 lines left from 2v to 4r; write as you do, 31.0 letters a line",
        ),
        (
            Need(3, 6, 1, 31.02, 31.0, "A", "easy"),
            "1 line over from 2v to 4r; write slightly closer than you do, 31.0 letters a line",
        ),
        (Need(3, 6, 0, 31.0, 31.0, "A", "easy"), "the text just fills from 2v to 4r"),
        (
            Need(3, 6, 9, 40.2, 31.0, "A", "impossible"),
            "9 lines over from 2v to 4r; write 40.2 letters a line where you write 31.0, more than a hand can do",
        ),
        (Need(3, 3, -32, None, 31.0, "A", "impossible"), "32 lines left on 2v; writing wider cannot make it fit"),
        (
            Need(3, 9, 5, 32.0, 31.0, "A", "easy", held=False),
            "5 lines over from 2v to the end of the book; write 32.0 letters a line where you write 31.0",
        ),
    ],
)
def test_a_stretch_is_a_sentence(need: Need, said: str) -> None:
    assert need_words(need, a_book(10).state.book) == said


def test_the_panel_tells_the_stretch_of_every_page_in_it() -> None:
    book = a_book()
    book.write("1r")
    book.do(book.commands.hold(Page.parse("4r"), words_at(book, "4r", 6)))
    assert "lines over from 1v to 3v; write" in panel(book, "2r")["Stretch"]
    assert "Stretch" not in panel(book, "1r")
    assert panel(book, "4r")["Held"].startswith(f'it must begin with "{words_at(book, "4r", 0)}"')


def test_a_beginning_is_let_go() -> None:
    book = a_book()
    book.write("1r")
    before = book.state.budget.pages
    book.do(book.commands.hold(Page.parse("4r"), words_at(book, "4r", 6)))
    book.do(book.commands.release(Page.parse("4r")))
    assert "Held" not in panel(book, "4r")
    assert book.state.budget.pages == before


def test_words_skipped_are_named() -> None:
    book = a_book()
    book.write("1r")
    skipped = words_at(book, "1v", 0, 12).split()
    book.do(book.commands.write(Page.parse("1v"), begins=words_at(book, "1v", 12)))
    shown = " ".join([*skipped[:4], "...", *skipped[-4:]])
    assert panel(book, "1v")["Watch"] == f'12 words skipped between 1r and 1v: "{shown}"'


def test_words_written_twice_are_named() -> None:
    book = a_book()
    book.write("1r")
    twice = words_at(book, "1v", -1, 1)
    book.do(book.commands.write(Page.parse("1v"), begins=words_at(book, "1v", -1)))
    assert panel(book, "1v")["Watch"] == f'1 word stands on 1r and again on 1v: "{twice}"'


def test_recording_says_what_it_did_to_the_text_beside_it() -> None:
    book = a_book()
    book.write("1r")
    assert after_words(book.state, 0) == ""
    book.do(book.commands.hold(Page.parse("4r"), words_at(book, "4r", 6)))
    assert "lines over from 1v to 3v" in after_words(book.state, Page.parse("4r").index)
    book.do(book.commands.write(Page.parse("1v"), ends=words_at(book, "2r", -6)))
    assert "from 2r to 3v" in after_words(book.state, 1)


def test_what_is_told_of_the_page_itself_is_not_told_again_as_followed_elsewhere() -> None:
    told = "3 lines over from 1v to 3v; write 22 letters; 9 lines over from 4r to the end of the book; write 30"
    also = [
        "3 lines over from 1v to 3v.",
        "9 lines of text have no room in the book now.",
        "4 words skipped before 1r.",
    ]
    assert untold(also, told) == ["4 words skipped before 1r."]
    assert untold(also, "") == also


def test_a_closeness_agreed_on_is_shown() -> None:
    from copydesk.tracking.commands.page_commands import agree_letters

    book = a_book()
    entry = book.do(agree_letters(book.state, 2, 3, 21.5))
    assert panel(book, "2r")["Agreed"] == "21.5 letters a line on this page"
    assert "Agreed" not in panel(book, "3r")
    book.undo(entry)
    assert "Agreed" not in panel(book, "2r")


def test_how_close_the_hand_writes_is_a_guess_until_a_page_is_measured() -> None:
    book = a_book()
    assert (
        panel(book, "1v")["Letters"] == "A writes 20.0 letters a line (18.7 to 21.3), a guess until a page is measured"
    )
    book.write("1r")
    book.state.refit()
    assert panel(book, "1v")["Letters"].endswith("a guess until a page is measured")
    book.do(book.commands.write(Page.parse("1v"), ends=page_account(book.state, 1).last_words))
    book.state.refit()
    assert panel(book, "2r")["Letters"].endswith("measured on 1 page")
    assert "Letters" not in panel(book, "1r")


def test_text_past_the_last_page_is_told_there_once_that_page_is_written() -> None:
    book = a_book(900)
    last = book.state.collation.pages - 1
    for index in range(last + 1):
        book.write(str(Page.at(index)))
    assert book.state.budget.lines_without_room > 0
    said = f"{book.state.budget.lines_without_room} lines over"
    assert panel(book, str(Page.at(last)))["End"].startswith(said)
    assert "End" not in panel(book, "1r")
