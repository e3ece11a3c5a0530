"""What lines are short or over at their ends."""

from __future__ import annotations

from typing import Any

import pytest

from copydesk.book.flow import Flow
from copydesk.book.plan import Anchor, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.book.text.exemplar import read_exemplar
from copydesk.tracking.fit.line_ends import (
    LINE_ENDS,
    all_fillers,
    all_line_ends,
    filler_words,
    in_hand_words,
    line_ends,
    too_full,
    too_full_words,
)
from copydesk.tracking.planning.plan_report import plan_report
from copydesk.tracking.scribes.guide_lines import guide
from copydesk.tracking.state.book_state import BookState
from small_book import SmallBook


def state_of(text: str, **changes: Any) -> BookState:
    book = SmallBook(1, **changes)
    return BookState(book.plan, read_exemplar(text), book.ledger)


def test_what_a_line_is_short_in_letters_and_mm() -> None:
    first, last = line_ends(state_of("aaaa bbbb cccc ddd ee"), 0)
    assert (first.words, first.short, first.gaps, first.closes) == ("aaaa bbbb cccc ddd", 2.0, 3, False)
    assert first.short_mm == pytest.approx(2.0 * 70.0 / 20.0)
    assert first.gap_mm == pytest.approx(7.0 / 3)
    assert first.needed == 18.0
    assert (last.words, last.short, last.gap_mm, last.closes) == ("ee", 18.0, None, True)
    assert not first.is_over


def test_a_line_beside_an_initial_has_less_room() -> None:
    key = SpacePlan(id="key", kind="initial", at=Anchor(division=1, paragraph=1), lines=1, width=35.0)
    first, *_ = line_ends(state_of("aaaa bbbb cccc ddd ee", spaces=(key,)), 0)
    assert first.words == "aaaa bbbb"
    assert first.short == pytest.approx(1.0)


def test_a_broken_words_mark_and_an_indent_take_room() -> None:
    (verse,) = line_ends(state_of("|     aaaa"), 0)
    assert verse.short == 12.0
    broken = line_ends(state_of("ab " + "parchment " * 9, line_breaks="syllables"), 0)
    assert any(each.words.endswith("-") for each in broken)
    assert all(each.short == 20.0 - len(each.words) for each in broken)


def test_the_words_turned_into_a_line_are_in_it() -> None:
    state = state_of("| aaaa\n| bbbb cccc dddd eeee ff", flow=Flow(long_verses="line above"))
    above, verse = line_ends(state, 0)
    assert above.words == "aaaa  [ff"
    assert (above.short, verse.short) == (20.0 - 4 - 2 - 2, 20.0 - 19)


def test_lines_that_cannot_hold_the_exemplars_are_listed_with_how_much_closer_to_write() -> None:
    text = "{1r 1} aaaa bbbb\n{1r 2} aaaa bbbb cccc dddd eeee\n{1r 3} aaaa bbbb cccc dddd ee\n{1r 4} f"
    state = state_of(text, flow=Flow(copied="line for line"))
    found = too_full(state)
    assert [(each.place, each.short, each.needed) for each in found] == [("1r 2", -4.0, 24.0), ("1r 3", -2.0, 22.0)]
    assert too_full_words(found, state.book) == (
        "2 lines too full; the fullest, 1r line 2, is 4.0 letters over: it asks for 24.0 letters to a line, 17% closer"
    )
    assert plan_report(state).too_full == tuple(found)
    assert LINE_ENDS.data(found[0])["exemplar"] == "1r 2"


def test_none_is_where_words_are_taken_as_they_come() -> None:
    assert too_full(state_of("{1r 1} " + "aaaa " * 9 + "{1r 2} b")) == []
    assert too_full_words([], SmallBook().plan) == ""


def test_ends_that_want_a_filler_are_counted() -> None:
    state = state_of("aaaa bbbb cccc ddd ee\n\nffff", flow=Flow(line_fillers=10.0))
    found = all_fillers(state)
    assert [each.words for each in found] == ["ee", "ffff"]
    assert filler_words(found, state.book) == "2 line fillers, 119 mm in all"
    assert plan_report(state).fillers == tuple(found)
    assert all_fillers(state_of("aaaa")) == []
    assert filler_words([], state.book) == ""


def test_what_the_line_in_hand_asks_for() -> None:
    state = state_of("aaaa bbbb cccc ddd ee")
    first, last = line_ends(state, 0)
    assert (
        in_hand_words(first, state.book) == "line 1 is 2.0 letters (7 mm) short: 2.33 mm more at each of its 3 spaces"
    )
    assert in_hand_words(last, state.book) == "line 2 closes, 18.0 letters (63 mm) short"
    over = first._replace(short=-2.0, gaps=1, closes=True)
    assert in_hand_words(over, state.book) == "line 1 is 2.0 letters (7 mm) over: 7 mm less at its space"
    assert in_hand_words(first._replace(gaps=0), state.book) == "line 1 is 2.0 letters (7 mm) short"


def test_written_lines_are_told_from_those_to_come() -> None:
    book = SmallBook(60)
    book.write("1r", to_line=3)
    ends = list(all_line_ends(book.state))
    assert [each.number for each in ends if each.written] == [1, 2, 3]


def test_a_text_known_by_counts_has_no_ends() -> None:
    from copydesk.book.flow import CountedDivision

    book = SmallBook(1, divisions=(CountedDivision("a", words=50),))
    assert line_ends(BookState(book.plan, None, book.ledger), 0) == []


def test_the_guide_of_a_page_has_an_indented_verse_where_it_will_stand() -> None:
    state = state_of("|     aaaa bb\n| cc")
    indented, flush = guide(state, Page.parse("1r")).lines
    assert [round(word.left / 3.5, 6) for word in indented.words] == [4.0, 9.0]
    assert flush.words[0].left == 0.0
    assert indented.spare_letters == pytest.approx(20 - 4 - 7)
    assert flush.spare_letters == pytest.approx(18)
