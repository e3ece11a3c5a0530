"""A hand's set learnt from the ends recorded in a text known by its counts only."""

from __future__ import annotations

import random

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.flow import CountedDivision, ExemplarLoan, Flow, Starts
from copydesk.book.structure.page import Page
from copydesk.book.text.copy_text import LETTERS_A_WORD
from copydesk.tracking.commands.page_commands import agree_letters
from copydesk.tracking.fit.book_end import end_of_book
from copydesk.tracking.fit.stretches import needs
from copydesk.tracking.state.book_state import BookState
from copydesk.tracking.state.hand_evidence import newest_reaches
from small_book import SmallBook

LETTERS = 3990


class CountedBook(SmallBook):
    """The small book, its text known by its counts only; a page holds 200 letters as planned, 35 words."""

    def __init__(self, *divisions: CountedDivision, gatherings: int = 3, starts: Starts = "line") -> None:
        divisions = divisions or (CountedDivision("On frost", letters=LETTERS),)
        loan = ExemplarLoan(letters_per_line=40.0)
        super().__init__(count=gatherings, divisions=divisions, exemplar=loan, flow=Flow(divisions=starts))
        self.exemplar = None  # type: ignore[assignment]
        self.state = BookState(self.plan, None, self.ledger)

    def end(self, page: str, place: str, hand: str = "A", to_line: int | None = None) -> None:
        self.do(self.commands.write(Page.parse(page), ends=place, to_line=to_line), hand)

    def reaches(self, hand: str = "A") -> list[tuple[tuple[int, ...], int, int]]:
        """Pages, first word and word after the last of each."""
        found = newest_reaches(self.state).get(hand, [])
        return [(each.pages, each.lines[0].from_word, each.last.to_word) for each in found]


def held(letters: float) -> float:
    """The words a page of ten such lines holds."""
    return 10 * letters / LETTERS_A_WORD


def test_an_end_given_by_its_count_moves_the_plan_and_then_the_set() -> None:
    book = CountedBook()
    before = book.state.budget.pages[1].start
    book.end("1r", "word 30")
    state = book.state
    assert state.copy.word(state.budget.pages[1].start) == 30
    assert state.budget.pages[1].start < before
    planned = [page.start for page in state.budget.pages]
    assert state.refit()
    known = state.sets["A"]
    assert (known.source, known.pages) == ("pages", 1)
    assert 17.0 < known.letters_per_line < 20.0
    assert [page.start for page in state.budget.pages][2:8] != planned[2:8]
    assert state.sets["B"].source == "guess"


def test_the_end_of_the_book_follows_the_pen() -> None:
    """700 words fill 200 lines of 20 letters and the book has 240; a hand of 16 letters would need 250."""
    book = CountedBook()
    assert end_of_book(book.state).chance_text_fits > 0.9
    for number, page in enumerate(("1r", "1v", "2r", "2v", "3r", "3v"), start=1):
        book.end(page, f"word {round(number * held(16.0))}")
    book.state.refit()
    ending = end_of_book(book.state)
    assert ending.chance_text_fits < 0.3
    assert ending.blank_lines.expected < 0
    assert book.state.measures["A"] == pytest.approx(16.0, abs=0.3)


def test_text_between_two_pages_is_held_against_the_hand_as_learnt() -> None:
    book = CountedBook()
    book.do(book.commands.hold(Page.parse("6r"), "word 360"))
    before = needs(book.state)[0]
    for number, page in enumerate(("1r", "1v", "2r", "2v"), start=1):
        book.end(page, f"word {round(number * held(16.0))}")
    book.state.refit()
    after = needs(book.state)[0]
    assert before.over == 3
    assert after.over > before.over
    assert (before.verdict, after.verdict) == ("easy", "impossible")


@pytest.mark.parametrize("letters", [15.0, 18.5, 23.0])
def test_a_hand_is_found_from_its_pages(letters: float) -> None:
    rng, book = random.Random(7), CountedBook(CountedDivision("On frost", letters=20_000), gatherings=8)
    at = 0.0
    for index in range(14):
        at += 10 * letters * (1 + rng.gauss(0, 0.02))
        book.end(str(Page.at(index)), f"letter {round(at)}")
    book.state.refit()
    known = book.state.sets["A"]
    assert known.letters_per_line == pytest.approx(letters, rel=0.03)
    assert known.low < letters < known.high


def test_a_page_only_ticked_tells_nothing() -> None:
    book = CountedBook()
    book.write("1r")
    book.write("1v")
    assert book.reaches() == []
    assert book.state.refit() is False
    assert book.state.sets["A"].source == "guess"


def test_pages_ticked_on_the_way_tell_together_with_the_one_whose_end_is_given() -> None:
    book = CountedBook()
    for page in ("1r", "1v", "2r"):
        book.write(page)
    book.end("2v", f"word {round(4 * held(18.0))}")
    assert book.reaches() == [((0, 1, 2, 3), 0, round(4 * held(18.0)))]
    book.state.refit()
    known = book.state.sets["A"]
    assert known.pages == 4
    assert known.letters_per_line == pytest.approx(18.0, abs=0.4)
    book.end("3r", f"word {round(5 * held(18.0))}")
    assert book.reaches()[1] == ((4,), round(4 * held(18.0)), round(5 * held(18.0)))


def test_another_hand_is_not_charged_with_lines_whose_beginning_nobody_found() -> None:
    book = CountedBook()
    book.write("1r")
    book.write("1v", hand="B")
    book.do(book.commands.write(Page.parse("2r"), ends="word 100"), "B")
    assert book.reaches() == book.reaches("B") == []
    book.end("2v", "word 126", hand="B")
    assert book.reaches("B") == [((3,), 100, 126)]


def test_a_page_taken_out_of_order_begins_where_it_was_begun() -> None:
    book = CountedBook()
    at = book.state.copy.word(book.state.budget.pages[4].start)
    book.end("3r", f"word {at + 31}")
    assert book.reaches() == [((4,), at, at + 31)]


def test_the_end_of_a_division_is_known_without_being_given() -> None:
    book = CountedBook(CountedDivision("On frost", words=60), CountedDivision("On thaw", words=500), starts="page")
    book.write("1r")
    book.write("1v")
    book.end("2r", "division 2 word 31")
    assert book.reaches() == [((2,), 60, 91)]


def test_a_page_that_had_to_end_where_the_next_begins_tells_nothing() -> None:
    book = CountedBook()
    book.do(book.commands.hold(Page.parse("1v"), "word 41"))
    book.end("1r", "word 40")
    assert book.reaches() == []


def test_a_page_on_which_another_closeness_was_agreed_tells_nothing() -> None:
    book = CountedBook()
    book.do(agree_letters(book.state, 0, 0, 22.0))
    book.end("1r", "word 38")
    assert book.reaches() == []


def test_lines_are_counted_where_the_page_is_not_full() -> None:
    book = CountedBook()
    book.end("1r", "word 20", to_line=6)
    assert book.reaches() == [((0,), 0, 20)]
    usage = book.state.usages["A"][0]
    assert (usage.lines, usage.pages) == (6, 1.0)
    assert usage.low < 20 * LETTERS_A_WORD / 6 < usage.high


def test_undoing_brings_the_guess_back_and_reading_afresh_gives_the_same() -> None:
    book = CountedBook()
    for number, page in enumerate(("1r", "1v", "2r"), start=1):
        book.end(page, f"word {round(number * held(17.0))}")
        book.state.refit()
    afresh = BookState(book.plan, None, book.ledger)
    afresh.refit()
    assert afresh.sets == book.state.sets
    for _ in range(3):
        entry = book.ledger.newest_standing()
        assert entry is not None
        book.undo(entry)
    book.state.refit()
    assert book.state.sets["A"].source == "guess"


def test_a_text_counted_in_lines_of_the_exemplar_is_recorded_by_them() -> None:
    book = CountedBook(CountedDivision("On frost", lines=100))
    book.end("1r", "line 4")
    record = book.state.record(book.state.skin_at(0))
    assert record.ends == round(4 * 40 / LETTERS_A_WORD)
    book.state.refit()
    assert book.state.sets["A"].letters_per_line < 20.0


def test_of_counted_words_few_tell_less_than_many() -> None:
    """Some words are long: 35 of them say less of a hand than 35 counted letter by letter, or than 350."""
    ranges = []
    for division in (CountedDivision("On frost", words=700), CountedDivision("On frost", letters=LETTERS)):
        book = CountedBook(division)
        book.end("1r", "word 28")
        book.state.refit()
        ranges.append(book.state.sets["A"].high - book.state.sets["A"].low)
    assert ranges[0] > 1.2 * ranges[1]


def test_a_page_cannot_end_before_it_begins() -> None:
    book = CountedBook()
    book.write("1r")
    with pytest.raises(CopydeskError, match='"word 20" comes before the place where 1v begins'):
        book.end("1v", "word 20")
