from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.plan import Flaw
from copydesk.book.structure.page import Page
from copydesk.tracking.commands import leaf_commands as leaf_acts
from small_book import SmallBook

# The written space is 70 mm wide from 10 mm off the fold, and begins 10 mm below the head; ten lines of 10 mm.
WHOLE_LINES = {"from_head": 32.0, "from_fold": 5.0, "width": 80.0, "height": 16.0}  # lines 3 and 4, no room left
HALF_LINES = {"from_head": 32.0, "from_fold": 10.0, "width": 35.0, "height": 16.0}  # the same lines, half of each


def flaws_on(book: SmallBook, page: str) -> tuple[tuple[int, int, float], ...]:
    frame = book.state.frames.get(Page.parse(page).index)
    return frame.flaws if frame is not None else ()


def test_a_flaw_known_before_the_pen_takes_its_lines_on_both_sides_of_the_leaf() -> None:
    book = SmallBook()
    book.do(leaf_acts.note_flaw(book.state, 1, WHOLE_LINES))
    for page in ("1r", "1v"):
        assert flaws_on(book, page) == ((1, 3, 0.0), (1, 4, 0.0))
        assert book.state.budget.pages[Page.parse(page).index].room == 8
    assert not flaws_on(book, "2r")


def test_half_a_line_stays_and_holds_half_the_words() -> None:
    book = SmallBook()
    plain = book.state.budget.pages[0].end
    book.do(leaf_acts.note_flaw(book.state, 1, HALF_LINES))
    assert flaws_on(book, "1r") == ((1, 3, pytest.approx(0.5)), (1, 4, pytest.approx(0.5)))
    assert book.state.budget.pages[0].room == 10
    assert 0 < plain - book.state.budget.pages[0].end <= 8


def test_lines_written_before_a_flaw_came_to_light_keep_their_place() -> None:
    book = SmallBook()
    book.write("1r", to_line=3)
    book.do(leaf_acts.note_flaw(book.state, 1, WHOLE_LINES))
    assert flaws_on(book, "1r") == ((1, 4, 0.0),)
    assert flaws_on(book, "1v") == ((1, 3, 0.0), (1, 4, 0.0))
    assert book.state.budget.pages[0].room == 9


def test_a_page_written_whole_is_not_called_over_for_a_flaw_found_later() -> None:
    book = SmallBook()
    book.write("1r")
    book.do(leaf_acts.note_flaw(book.state, 1, WHOLE_LINES))
    page = book.state.budget.pages[0]
    assert page.planned <= page.room
    assert book.state.budget.pages[1].room == 8


def test_lines_written_anew_after_the_flaw_run_round_it() -> None:
    book = SmallBook()
    written = book.write("1r")
    book.do(leaf_acts.note_flaw(book.state, 1, WHOLE_LINES))
    book.undo(written)
    assert flaws_on(book, "1r") == ((1, 3, 0.0), (1, 4, 0.0))


def test_an_earlier_flaw_shifts_which_lines_were_written_before_a_later_one() -> None:
    book = SmallBook(flaws=(Flaw(1, 12.0, 5.0, 80.0, 6.0),))  # line 1
    book.write("1r", to_line=3)  # lines 2 to 4 of the column
    book.do(leaf_acts.note_flaw(book.state, 1, WHOLE_LINES | {"height": 26.0}))  # lines 3 to 5
    assert flaws_on(book, "1r") == ((1, 1, 0.0), (1, 5, 0.0))


def test_a_flaw_stays_with_its_skin_when_the_leaf_is_replaced_and_numbers_shift() -> None:
    book = SmallBook(flaws=(Flaw(2, 32.0, 5.0, 80.0, 16.0), Flaw(3, 32.0, 5.0, 80.0, 16.0)))
    book.do(leaf_acts.replace_leaf(book.state, 2))
    book.do(leaf_acts.cancel_leaf(book.state, 1))
    assert sorted(book.state.flaws) == [2]
    assert flaws_on(book, "2r")
    assert not flaws_on(book, "1r")


def test_taking_a_flaw_back_gives_its_lines_back() -> None:
    book = SmallBook()
    before = book.state.budget.pages
    entry = book.do(leaf_acts.note_flaw(book.state, 1, WHOLE_LINES))
    book.undo(entry)
    assert book.state.budget.pages == before
    assert book.state.flaws == {}


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10), st.floats(0, 100), st.floats(1, 30), st.floats(0, 60), st.floats(1, 40))
def test_a_flaw_takes_no_written_line_and_all_below_that_a_plan_would_give_up(
    written: int, from_head: float, height: float, from_fold: float, width: float
) -> None:
    sizes = {"from_head": from_head, "from_fold": from_fold, "width": width, "height": height}
    planned = SmallBook(flaws=(Flaw(1, from_head, from_fold, width, height),))
    book = SmallBook()
    if written:
        book.write("1r", to_line=written)
    book.do(leaf_acts.note_flaw(book.state, 1, sizes))
    assert flaws_on(book, "1r") == tuple(lost for lost in flaws_on(planned, "1r") if lost[1] > written)
    assert flaws_on(book, "1v") == flaws_on(planned, "1v")
