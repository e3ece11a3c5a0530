"""Hands fitted to the pages they wrote: when, from which of them, and what the text is then cast off at."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.book.hands.hand_set import HandSet
from copydesk.book.structure.page import Page
from copydesk.tracking.commands.page_commands import agree_letters
from copydesk.tracking.scribes.hands_now import hands_now
from copydesk.tracking.state.hand_evidence import may_tell_of_hands, newest_reaches
from copydesk.tracking.state.hand_sets import cast_at, history
from copydesk.tracking.state.page_content import lines_of_page
from text_book import TextBook, made_text

if TYPE_CHECKING:
    from copydesk.tracking.state.book_state import BookState


def a_book() -> TextBook:
    return TextBook(made_text(900))


def end_page(book: TextBook, page: str, letters: float, hand: str = "A") -> None:
    """Write a page as a hand of so many letters a line would, its last words given."""
    state, at = book.state, Page.parse(page)
    start = state.copy.word(state.budget.pages[at.index].start)
    words, piece = book.exemplar.words, start
    for _ in range(10):
        line = len(words[piece])
        piece += 1
        while line + 1 + len(words[piece]) <= letters:
            line += 1 + len(words[piece])
            piece += 1
    book.do(book.commands.write(at, ends=" ".join(words[piece - 4 : piece])), hand)


def test_nothing_written_leaves_the_guess() -> None:
    book = a_book()
    assert book.state.refit() is False
    assert book.state.sets["A"].source == "guess"
    assert book.state.measures == {"A": 20.0, "B": 16.0}


def test_pages_ticked_as_planned_measure_nothing() -> None:
    book = a_book()
    before = book.state.sets["A"]
    for page in ("1r", "1v", "2r", "2v"):
        book.write(page)
    assert book.state.refit() is False
    assert book.state.sets["A"] == before
    assert (before.source, before.measured) == ("guess", 0)


def test_ticks_after_measured_pages_neither_move_nor_narrow_the_range() -> None:
    book = a_book()
    for page in ("1r", "1v", "2r"):
        end_page(book, page, 18.0)
    book.state.refit()
    measured = book.state.sets["A"]
    for page in ("2v", "3r", "3v", "4r", "4v"):
        book.write(page)
        book.state.refit()
    assert book.state.sets["A"] == measured
    assert (measured.source, measured.measured) == ("pages", 3)


def test_a_measured_page_speaks_for_those_ticked_before_it_and_is_not_charged_with_them() -> None:
    """Three pages ticked at 20 letters a line by a hand of 18: the error of all three shows where the fourth ends."""
    book = a_book()
    for page in ("1r", "1v", "2r"):
        book.write(page)
    start = book.state.copy.word(book.state.budget.pages[0].start)
    words, piece = book.exemplar.words, start
    for _ in range(40):
        line = len(words[piece])
        piece += 1
        while line + 1 + len(words[piece]) <= 18.0:
            line += 1 + len(words[piece])
            piece += 1
    book.do(book.commands.write(Page.parse("2v"), ends=" ".join(words[piece - 4 : piece])))
    book.state.refit()
    known = book.state.sets["A"]
    assert 17.8 < known.letters_per_line < 19.2  # charged with all four pages, the last would show some 12
    assert (known.measured, known.pages) == (1, 4)


def test_a_wider_hand_shows_as_soon_as_it_has_written_a_page() -> None:
    book = a_book()
    end_page(book, "1r", 17.0)
    assert book.state.measures["A"] == 20.0
    assert book.state.refit()
    assert 16.5 < book.state.measures["A"] < 19.5
    assert book.state.sets["B"].source == "guess"
    assert book.state.refit() is False


def test_recording_does_not_fit_and_undoing_brings_the_guess_back() -> None:
    book = a_book()
    end_page(book, "1r", 17.0)
    book.state.refit()
    fitted = book.state.measures["A"]
    entry = book.ledger.newest_standing()
    assert entry is not None
    book.undo(entry)
    assert book.state.measures["A"] == fitted
    assert book.state.refit()
    assert book.state.measures["A"] == 20.0


def test_the_same_ledger_gives_the_same_sets() -> None:
    book = a_book()
    for page, letters in (("1r", 19.0), ("1v", 18.5), ("2r", 19.5)):
        end_page(book, page, letters)
        book.state.refit()
    afresh = book.afresh()
    afresh.refit()
    assert afresh.sets == book.state.sets
    assert afresh.measures == book.state.measures
    assert afresh.budget.pages == book.state.budget.pages


def test_fitting_waits_until_somebody_asks() -> None:
    book = a_book()
    end_page(book, "1r", 17.0)
    afresh = book.afresh()
    afresh.fit_when_asked()
    assert afresh.measures["A"] < 19.5


def reaches(book: TextBook, hand: str) -> list[tuple[tuple[int, ...], int, int]]:
    """The pages of each reach of a hand, its first line and its last."""
    found = newest_reaches(book.state).get(hand, [])
    return [(each.pages, each.lines[0].from_line, each.last.to_line) for each in found]


def end_part(book: TextBook, page: str, to_line: int | None, hand: str = "A") -> None:
    """Write a page to a line, its last words given as the plan has them."""
    state, at = book.state, Page.parse(page)
    lines = lines_of_page(state, at.index)
    end = state.copy.word(lines[(to_line or len(lines)) - 1].end)
    given = " ".join(book.exemplar.words[end - 4 : end])
    book.do(book.commands.write(at, to_line=to_line, ends=given), hand)


def test_each_hand_has_its_own_pages_and_parts_of_pages() -> None:
    book = a_book()
    end_part(book, "1r", 6)
    end_part(book, "1r", None, "B")
    end_part(book, "1v", 3)
    assert reaches(book, "A") == [((0,), 1, 6)]
    assert reaches(book, "B") == [((0,), 7, 10)]


def test_one_hand_in_two_sittings_is_one_passage() -> None:
    book = a_book()
    book.write("1r", to_line=4)
    end_part(book, "1r", None)
    assert reaches(book, "A") == [((0,), 1, 10)]


def test_the_end_of_a_sitting_is_kept_where_the_rest_of_the_page_is_only_ticked() -> None:
    book = a_book()
    end_part(book, "1r", 6)
    book.write("1r")
    assert reaches(book, "A") == [((0,), 1, 6)]


def test_a_page_that_had_to_end_where_the_next_begins_tells_nothing() -> None:
    book = a_book()
    end_part(book, "2r", None)
    end_part(book, "1v", None)
    end_part(book, "1r", None)
    assert reaches(book, "A") == [((2,), 1, 10)]


def test_a_page_on_which_another_closeness_was_agreed_tells_nothing() -> None:
    book = a_book()
    book.do(agree_letters(book.state, 0, 0, 22.0))
    end_part(book, "1r", None)
    end_part(book, "1v", None)
    assert reaches(book, "A") == [((1,), 1, 10)]


@pytest.mark.parametrize(("fitted", "first", "cast"), [(33.97, 34.0, 34.0), (33.52, 33.75, 33.5), (17.23, 18.0, 17.25)])
def test_the_text_is_cast_at_a_step_or_as_stated(fitted: float, first: float, cast: float) -> None:
    assert cast_at(fitted, HandSet.from_letters(first)) == cast


def test_how_a_hand_moved_is_told_page_by_page() -> None:
    book = a_book()
    for page in ("1r", "1v", "2r"):
        end_page(book, page, 17.0)
    moved = history(book.state.first_sets["A"], book.state.usages["A"])
    assert len(moved) == 3
    assert moved[-1] < moved[0] < 20.0


def test_what_may_tell_of_hands_is_whatever_changes_a_measured_page_or_those_ticked_before_it() -> None:
    book = a_book()
    assert not may_tell_of_hands(book.write("1r"), book.state)
    second = book.write("1v")
    assert not may_tell_of_hands(book.do(book.commands.rule(Page.parse("3r"))), book.state)
    end_page(book, "2r", 22.0)
    book.state.refit()
    before = book.state.sets["A"]
    assert may_tell_of_hands(second, book.state)  # a page after it is measured by now
    for entry in (
        book.undo(second),
        book.do(book.commands.fault(Page.parse("1r"), "omission", line=2, should="w20 w21 w22 w23 w24 w25")),
    ):
        assert may_tell_of_hands(entry, book.state)
    book.state.refit()
    assert book.state.sets["A"] != before
    assert may_tell_of_hands(book.do(agree_letters(book.state, 2, 3, 21.0)), book.state)


def test_a_page_whose_end_was_given_and_that_is_only_ticked_now_tells_of_its_hand_no_more() -> None:
    book = a_book()
    end_page(book, "1r", 16.0)
    book.state.refit()
    assert book.state.sets["A"].measured == 1
    to_line = book.state.record(book.state.skin_at(0)).written
    ticked = book.do(book.commands.write(Page.parse("1r"), to_line=to_line, begins=" ".join(book.exemplar.words[:4])))
    assert may_tell_of_hands(ticked, book.state)
    book.state.refit()
    assert book.state.measures == fitted_afresh(book).measures


def test_an_end_given_again_over_the_same_words_counts_as_it_is_given_now() -> None:
    book = a_book()
    book.write("1r")
    words = book.exemplar.words[: book.state.record(book.state.skin_at(0)).ends]
    given = book.do(book.commands.write(Page.parse("1r"), begins=" ".join(words[:4]), ends=" ".join(words[-4:])))
    assert may_tell_of_hands(given, book.state)
    book.state.refit()
    assert book.state.sets == fitted_afresh(book).sets
    assert book.state.sets["A"].measured == 1


def fitted_afresh(book: TextBook) -> BookState:
    state = book.afresh()
    state.refit()
    return state


@pytest.mark.parametrize("letters", [19.0, 19.96, 20.02, 20.4])
def test_a_hand_is_shown_with_the_letters_its_text_is_cast_off_at(letters: float) -> None:
    book = a_book()
    for page in ("1r", "1v", "2r"):
        end_page(book, page, letters)
    book.state.refit()
    shown, [report, _] = book.state.set_shown("A"), hands_now(book.state)
    assert report.letters == shown
    assert shown.letters_per_line == report.moved[-1] == book.state.measures["A"]
