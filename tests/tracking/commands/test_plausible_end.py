"""What ends and beginnings a hand can have reached: wide bounds that hold the truth, wider ones after mere ticks."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import AmbiguousError, UnlikelyError
from copydesk.book.plan import Anchor, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.tracking.commands.plausible_end import doubt_about, reachable
from small_book import SmallBook
from text_book import TextBook, made_text

P1 = Page.parse("1r")


def test_the_bounds_hold_half_as_close_again_and_half_as_close() -> None:
    book = SmallBook()
    can = reachable(book.state, 0, range(1, 11), 0)
    assert (can.hand, can.lines, can.letters, can.low, can.high) == ("A", 10, 20.0, 10.0, 30.0)
    assert all(can.nearest < words < can.farthest for words in (35, 51, 70))
    assert can.farthest < 90


def test_the_bounds_are_the_same_before_and_after_a_page_is_ruled_with_its_initial() -> None:
    initial = SpacePlan("ford", "initial", Anchor(division=1, paragraph=1), 6, width=30.0)
    text = f"# One\n\n{made_text(300)}"
    book = TextBook(text, spaces=(initial,))
    before = reachable(book.state, 0, range(1, 11), 0)
    book.do(book.commands.rule(P1))
    assert reachable(book.state, 0, range(1, 11), 0) == before
    assert before.farthest < reachable(TextBook(text).state, 0, range(1, 11), 0).farthest


def test_a_page_may_end_where_a_division_ends_that_another_page_must_follow() -> None:
    from copydesk.book.flow import Flow

    book = TextBook(f"# One\n\n{made_text(12)}\n\n# Two\n\n{made_text(300)}", flow=Flow(divisions="page"))
    can = reachable(book.state, 0, range(1, 11), 0)
    assert can.nearest <= len(book.exemplar.divisions[0].title.split()) + 12


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 899), st.booleans())
def test_an_end_is_questioned_just_where_it_lies_beyond_and_sure_takes_it(end: int, hand_b: bool) -> None:
    book = SmallBook()
    book.commands.hand = "B" if hand_b else ""
    can = reachable(book.state, 0, range(1, 11), 0)
    beyond = not can.nearest <= end + 1 <= can.farthest
    assert bool(doubt_about(book.state, "1r", can, end + 1, f"w{end}")) is beyond
    if beyond:
        with pytest.raises(UnlikelyError):
            book.commands.write(P1, ends=f"w{end}")
    else:
        book.commands.write(P1, ends=f"w{end}")
    assert book.commands.write(P1, ends=f"w{end}", sure=True).facts["to_word"] == end + 1


@pytest.mark.parametrize("ticked", [0, 1, 4])
def test_a_page_recorded_as_planned_is_never_questioned(ticked: int) -> None:
    book = TextBook(made_text(600))
    for index in range(ticked):
        book.do(book.commands.write(Page.at(index)))
    last = book.state.copy.word(book.state.budget.pages[ticked].end)
    ends = " ".join(book.exemplar.words[last - 5 : last])
    assert book.commands.write(Page.at(ticked), ends=ends).facts["to_word"] == last


def test_pages_only_ticked_before_widen_the_bounds_and_measured_ones_do_not() -> None:
    ticked, measured = SmallBook(), SmallBook()
    for page in ("1r", "1v", "2r"):
        ticked.write(page)
        at = Page.parse(page).index
        end = measured.state.copy.word(measured.state.budget.pages[at].end)
        measured.do(measured.commands.write(Page.parse(page), ends=f"w{end - 1}"))
    spans = []
    for book in (ticked, measured):
        start = book.state.copy.word(book.state.budget.pages[3].start)
        can = reachable(book.state, 3, range(1, 11), start)
        spans.append(can.farthest - can.nearest)
    assert spans[0] > 1.5 * spans[1]


def test_a_single_common_word_takes_the_nearest_place_the_hand_can_have_reached() -> None:
    words = made_text(600, small="").split()
    planned = TextBook(" ".join(words)).state.budget.pages[0].end
    for at in (500, planned + 5, planned - 20):
        words[at] = "and"
    book = TextBook(" ".join(words))
    assert book.commands.write(P1, ends="and").facts["to_word"] == planned + 6
    words[planned - 4] = "and"
    with pytest.raises(AmbiguousError, match="give more words"):
        TextBook(" ".join(words)).commands.write(P1, ends="and")


def measured_page(words: int = 2000) -> SmallBook:
    """A book whose first page is written to an end that was given."""
    book = SmallBook(words)
    end = book.state.copy.word(book.state.budget.pages[0].end)
    book.do(book.commands.write(P1, ends=f"w{end - 1}"))
    return book


P2, P3 = Page.parse("1v"), Page.parse("2r")


def test_a_beginning_that_skips_far_or_repeats_a_page_is_questioned_with_figures_and_sure_takes_it() -> None:
    book = measured_page()
    end = book.state.record(book.state.skin_at(0)).ends
    assert end is not None
    said = f'if 1v began with "w1500", {1500 - end:,} words would be skipped before it, some 384 lines as A writes'
    with pytest.raises(UnlikelyError) as skipped:
        book.commands.begin(P2, "w1500")
    assert list(map(str, skipped.value.problems)) == [said]
    assert book.commands.begin(P2, "w1500", sure=True).facts["from_word"] == 1500
    for act in (book.commands.write, book.commands.hold):
        with pytest.raises(UnlikelyError, match="words would be skipped before it"):
            act(P2, begins="w1500")
        assert act(P2, begins="w1500", sure=True).facts["from_word"] == 1500
    with pytest.raises(UnlikelyError, match=f"{end} words would be written twice, some 10 lines"):
        book.commands.begin(P2, "w0 w1")


@pytest.mark.parametrize("shift", [-15, -1, 0, 1, 15])
def test_a_slip_of_the_eye_at_a_beginning_is_not_questioned(shift: int) -> None:
    book = measured_page()
    start = (book.state.record(book.state.skin_at(0)).ends or 0) + shift
    assert book.commands.begin(P2, f"w{start}").facts["from_word"] == start


def test_a_page_may_begin_as_far_on_as_the_pages_before_it_can_hold() -> None:
    book = SmallBook(2000)
    planned = book.state.copy.word(book.state.budget.pages[2].start)
    for start in (0, planned - 30, planned, planned + 30):
        assert book.commands.begin(P3, f"w{start}").facts["from_word"] == start
    with pytest.raises(UnlikelyError, match="900 words would stand in the 20 lines before it, some 220 letters"):
        book.commands.begin(P3, "w900")


def test_a_sitting_that_goes_on_far_ahead_is_questioned_too() -> None:
    book = SmallBook(2000)
    book.write("1r", 4)
    with pytest.raises(UnlikelyError, match='if 1r went on with "w1200"'):
        book.commands.write(P1, begins="w1200", to_line=9)
    assert book.commands.write(P1, begins="w25 w26", to_line=9).facts["from_word"] == 25


def test_two_doubts_are_told_together() -> None:
    with pytest.raises(UnlikelyError) as doubts:
        measured_page().commands.write(P2, begins="w1500", ends="w1900")
    assert ["began" in str(why) for why in doubts.value.problems] == [True, False]
