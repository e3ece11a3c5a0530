"""Where the eye may leap on pages still to be written."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.structure.page import Page
from copydesk.tracking.checking import eye_skip_watch as page_watch
from copydesk.tracking.checking.eye_skip_watch import watch_for, watch_written
from copydesk.tracking.commands.change_commands import change_text
from text_book import TextBook, made_text

if TYPE_CHECKING:
    from copydesk.comparing.eye_skip import Recurrence


def a_book(at: tuple[int, int] = (4, 8), prefix: str = "") -> TextBook:
    """A text in which two runs of like words stand near one another."""
    words = made_text(300, small="").split()
    for place in at:
        words[place : place + 2] = ["the", "waterfall"]
    return TextBook(f"{prefix}{' '.join(words)}")


def waterfall(book: TextBook, page: str = "1r") -> Recurrence:
    found = watch_for(book.state, Page.parse(page).index, page_watch.MOST)
    return next(each for each in found if each.words[0] == "the waterfall")


def test_words_that_recur_are_told_with_their_places() -> None:
    book = a_book()
    found = waterfall(book)
    assert found.words == ("the waterfall", "the waterfall")
    (column, line, word), (_, later, other) = found.places
    assert (word, other) == (4, 8)
    lines = book.lines("1r")
    assert column == 1
    assert "waterfall" in lines[line - 1] + lines[line]
    assert line < later


def test_nothing_is_watched_on_a_page_written_whole_but_its_checker_is_told() -> None:
    book = a_book()
    book.write("1r")
    assert watch_for(book.state, 0) == ()
    assert ("the waterfall", "the waterfall") in [each.words for each in watch_written(book.state, 0)]


def test_only_what_is_not_written_yet_is_watched() -> None:
    book = a_book()
    assert waterfall(book).places[0][1] < 4
    book.write("1r", to_line=8)
    assert all(place[1] >= 8 for each in watch_for(book.state, 0) for place in each.places)


def test_no_more_than_asked_and_the_likeliest_first() -> None:
    found = watch_for(a_book().state, 0, most=page_watch.MOST)
    assert [each.score for each in found] == sorted((each.score for each in found), reverse=True)
    assert watch_for(a_book().state, 0, most=1) == found[:1]


def test_the_exemplars_place_is_told_where_it_is_noted() -> None:
    assert "; exemplar 7v" in waterfall(a_book(prefix="{7v} ")).sentence
    assert "exemplar" not in waterfall(a_book()).sentence


def test_positions_are_the_exemplars_after_a_change() -> None:
    book = a_book()
    words = book.exemplar.words
    book.do(change_text(book.state, after=words[0], write="quite new", why="a gap"))
    found = [each for index in range(6) for each in watch_for(book.state, index, page_watch.MOST)]
    assert found
    for each in found:
        for said, (_, _, word) in zip(each.words, each.places, strict=True):
            assert said.split()[0] == words[word]


def test_no_text_no_watch() -> None:
    book = TextBook(made_text(30))
    assert watch_for(book.state, Page.parse("5v").index) == ()


def test_one_sentence_is_told_once_though_it_is_true_of_two_places() -> None:
    told = [each.sentence for each in watch_for(TextBook("river a river a mill a sail " * 12).state, 0, most=99)]
    assert len(told) > 1
    assert len(told) == len(set(told))
