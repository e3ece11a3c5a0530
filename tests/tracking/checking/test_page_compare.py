"""A page's transcription compared: the faults and their places, what is changed on purpose, a wrong place."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.flow import ExemplarLoan
from copydesk.book.plan import Columns, Hand
from copydesk.book.structure.page import Page
from copydesk.tracking.checking.page_compare import PageComparison, compare_page, places_by_line, read_transcription
from copydesk.tracking.commands.change_commands import change_text
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.state.page_content import lines_of_page
from text_book import TextBook, made_text

if TYPE_CHECKING:
    from copydesk.comparing.faults import Difference


def compare(book: TextBook, page: str, lines: list[str], *, whole: bool = False) -> PageComparison:
    return compare_page(book.state, Page.parse(page).index, "\n".join(lines), whole=whole)


def only(compared: PageComparison) -> Difference:
    (fault,) = compared.comparison.faults
    return fault


def test_a_page_copied_as_it_should_be_is_clean_and_whole() -> None:
    book = TextBook()
    book.write("1r")
    compared = compare(book, "1r", book.lines("1r"))
    assert compared.comparison.clean
    assert (compared.whole, compared.by_lines, compared.goes_on) == (True, True, 0)
    assert compared.comparison.reached == compared.recorded == book.state.record(book.state.skin_at(0)).ends


def test_a_fault_stands_in_the_column_and_line_typed() -> None:
    book = TextBook(columns=Columns(2, 5.0))
    lines = book.lines("1v")
    words = lines[13].split()
    lines[13] = " ".join([words[0], "zzzz", *words[2:]])
    fault = only(compare(book, "1v", lines))
    assert (fault.kind, fault.stands, fault.should) == ("substitution", "zzzz", words[1])
    assert (fault.column, fault.line) == (2, 4)
    assert book.exemplar.words[fault.word] == words[1]


def test_text_typed_in_other_lines_is_placed_by_the_lines_as_cast() -> None:
    book = TextBook()
    lines = book.lines("2r")
    words = lines[6].split()
    lines[6] = " ".join(words[:-1])
    compared = compare(book, "2r", [" ".join(lines)])
    fault = only(compared)
    assert not compared.by_lines
    assert (fault.kind, fault.should, fault.column, fault.line) == ("omission", words[-1], 1, 7)


def test_a_page_typed_in_part_is_no_omission_but_its_end_is_wanted_where_it_is_whole() -> None:
    book = TextBook()
    book.write("1r")
    lines = book.lines("1r")
    assert compare(book, "1r", lines[:6]).comparison.clean
    fault = only(compare(book, "1r", lines[:9], whole=True))
    assert fault.should == lines[9]


def test_text_that_goes_past_the_end_on_record_is_told() -> None:
    book = TextBook()
    book.write("1r")
    compared = compare(book, "1r", [*book.lines("1r"), book.lines("1v")[0]], whole=True)
    assert compared.comparison.clean
    assert compared.goes_on == len(book.lines("1v")[0].split())


def test_what_is_changed_on_purpose_is_no_fault_and_positions_stay_the_exemplars() -> None:
    book = TextBook()
    words = book.exemplar.words
    gone = " ".join(words[3:6])
    book.do(change_text(book.state, first=gone, why="a slip there"))
    book.do(change_text(book.state, after=words[10], write="newly put in", why="a gap"))
    lines = book.lines("1v")
    assert gone not in " ".join(book.lines("1r"))
    assert "newly put in" in " ".join(book.lines("1r"))
    assert compare(book, "1r", book.lines("1r")).comparison.clean
    wrong = lines[4].split()
    lines[4] = " ".join(["zzzz", *wrong[1:]])
    fault = only(compare(book, "1v", lines))
    assert words[fault.word] == fault.should == wrong[0]
    unchanged = only(compare(book, "1r", [" ".join([*words[:6], *" ".join(book.lines("1r")).split()[3:]])]))
    assert (unchanged.kind, unchanged.stands) == ("addition", gone)


def test_a_page_from_another_place_says_so_and_lists_nothing() -> None:
    book = TextBook()
    book.do(change_text(book.state, after=book.exemplar.words[2], write="one two three four", why="a gap"))
    found = compare(book, "1r", book.lines("4v")).comparison
    begins = book.lines("4v")[0].split()[0]
    assert not found.faults
    assert found.wrong_place is not None
    assert book.exemplar.words[found.wrong_place.word] == begins
    assert "that text belongs on 4v" in found.sentence


def test_a_whole_line_of_the_exemplar_skipped_is_known_by_its_noted_lines() -> None:
    words = made_text().split()
    noted = " ".join(f"{{1r {at // 9 + 1}}} {word}" if at % 9 == 0 else word for at, word in enumerate(words))
    book = TextBook(noted, exemplar=ExemplarLoan("exemplar.txt"))
    copied = words[:18] + words[27:40]
    fault = only(compare(book, "1r", [" ".join(copied)]))
    assert fault.kind == "line skipped"
    assert fault.word == 18


def test_words_broken_at_line_ends_and_at_the_pages_end_are_no_faults() -> None:
    for breaks in ("anywhere", "syllables"):
        book = TextBook(line_breaks=breaks)
        for page in ("1r", "1v", "2r"):
            assert compare(book, page, book.lines(page), whole=True).comparison.clean, (breaks, page)


def test_a_book_of_counts_and_a_page_without_text_cannot_be_compared() -> None:
    book = TextBook(made_text(30))
    with pytest.raises(CopydeskError, match="no text comes on 5v"):
        compare_page(book.state, Page.parse("5v").index, "word")


def places(book: TextBook, page: str, text: str) -> list[tuple[int, int]]:
    lines = lines_of_page(book.state, Page.parse(page).index)
    return places_by_line(read_transcription(text), lines, book.state.copy)


def test_words_and_lines_blank_ones_left_out() -> None:
    typed = read_transcription("\n  in the\n\nmill\tpond \n")
    assert typed == (["in", "the", "mill", "pond"], [0, 0, 1, 1], 2)
    assert read_transcription(" \n ") == ([], [], 0)


@pytest.mark.parametrize("typed", [1, 4, 10])
def test_lines_as_they_stand_on_the_page_give_the_places(typed: int) -> None:
    book = TextBook()
    book.write("2r")
    lines = book.lines("2r")[:typed]
    wanted = [(1, number) for number, line in enumerate(lines, start=1) for _ in line.split()]
    assert places(book, "2r", "\n".join(lines)) == wanted
    assert places(book, "2r", "\n\n".join(lines)) == wanted


def test_a_line_lost_or_a_word_too_many_does_not_hide_the_lines() -> None:
    book = TextBook()
    lines = book.lines("1r")
    assert places(book, "1r", "\n".join(lines[:3] + lines[4:]))[-1] == (1, 9)
    assert places(book, "1r", "\n".join(["and again", *lines[1:]]))[-1] == (1, 10)


@pytest.mark.parametrize("words_a_line", [1, 6, 200])
def test_text_broken_at_another_width_gives_none(words_a_line: int) -> None:
    book = TextBook()
    words = " ".join(book.lines("1r")).split()
    broken = [" ".join(words[at : at + words_a_line]) for at in range(0, len(words), words_a_line)]
    assert places(book, "1r", "\n".join(broken)) == []


@settings(max_examples=60, deadline=None)
@given(st.text(alphabet="ab \n\t", max_size=200))
def test_every_word_has_one_line_and_lines_count_up(text: str) -> None:
    typed = read_transcription(text)
    assert typed.words == text.split()
    assert typed.line_of == sorted(typed.line_of)
    assert set(typed.line_of) == set(range(typed.lines))


@pytest.mark.parametrize("gloss", ["now the lower smithy", "lower"])
def test_a_gloss_of_the_exemplar_copied_into_the_text_is_named_so(gloss: str) -> None:
    words = made_text().split()
    noted = " ".join([*words[:14], f"{{gloss: {gloss}}}", *words[14:]])
    book = TextBook(noted)
    assert " ".join(book.lines("1r")).split()[:20] == words[:20]
    fault = only(compare(book, "1r", [" ".join([*words[:14], *gloss.split(), *words[14:20]])]))
    assert (fault.kind, fault.cause, fault.stands) == ("addition", "gloss taken in", gloss)
    other = only(compare(TextBook(" ".join(words)), "1r", [" ".join([*words[:14], *gloss.split(), *words[14:20]])]))
    assert other.cause != "gloss taken in"


@pytest.mark.parametrize("lines", [1, 2])
def test_a_loss_as_long_as_the_exemplars_line_is_a_line_skipped(lines: int) -> None:
    words = made_text(small="").split()
    lost = words[12 : 12 + 5 * lines]
    letters = len(" ".join(lost)) / lines + 1
    copied = [" ".join(words[:12] + words[12 + 5 * lines : 40])]
    book = TextBook(" ".join(words), exemplar=ExemplarLoan("exemplar.txt", letters_per_line=letters))
    fault = only(compare(book, "1r", copied))
    assert (fault.kind, fault.should) == ("line skipped", " ".join(lost))
    assert ("a line of" if lines == 1 else "2 lines of") in fault.sentence
    for other in (None, 12 * letters):
        book = TextBook(" ".join(words), exemplar=ExemplarLoan("exemplar.txt", letters_per_line=other))
        assert only(compare(book, "1r", copied)).kind != "line skipped"


def test_lines_noted_one_by_one_say_more_than_their_usual_length() -> None:
    words = made_text(small="").split()
    noted = " ".join(f"{{1r {at // 9 + 1}}} {word}" if at % 9 == 0 else word for at, word in enumerate(words))
    letters = len(" ".join(words[12:21])) + 1
    book = TextBook(noted, exemplar=ExemplarLoan("exemplar.txt", letters_per_line=letters))
    assert only(compare(book, "1r", [" ".join(words[:12] + words[22:40])])).cause != "as long as a line of the exemplar"


def test_as_many_lines_as_were_written_are_those_of_the_page_however_it_is_cast() -> None:
    book = TextBook()
    few = " ".join(book.exemplar.words[:9])
    at = book.exemplar.words[9]
    book.do(Act("written", "1.1:r", "1r", {"from_line": 1, "to_line": 10, "from_word": 0, "to_word": 9, "whole": True}))
    assert len(lines_of_page(book.state, 0)) < 10
    typed = [*few.split(), "zzzz"]
    compared = compare(book, "1r", typed)
    assert compared.by_lines
    assert [(fault.column, fault.line) for fault in compared.comparison.faults][-1] == (1, 10)
    assert not compare(book, "1r", typed[:3] + [" ".join(typed[3:])] * 3).by_lines
    assert at not in few


def test_a_flood_of_differences_says_so() -> None:
    book = TextBook(hands=(Hand("A", "first", 90.0),))
    words = " ".join(book.lines("1r")).split()
    spoilt = [word if at % 3 else f"x{at}x" for at, word in enumerate(words)]
    found = compare(book, "1r", [" ".join(spoilt)])
    assert found.flood
    assert "a flood of differences" in found.comparison.sentence
    few = [word if at not in (3, 9) else "zzzz" for at, word in enumerate(words)]
    assert not compare(book, "1r", [" ".join(few)]).flood
