"""Pages cast as if their hands wrote closer or wider: as planned where nothing changes, fewer lines where closer."""

from __future__ import annotations

import pytest

from copydesk.book.structure.page import Page
from copydesk.tracking.fit.trial_casting import cast_closer, first_free
from small_book import SmallBook


def test_as_close_as_planned_gives_the_pages_of_the_plan() -> None:
    state = SmallBook().state
    last = 5
    cast = cast_closer(state, 0, last, state.budget.pages[last].end, state.letters_on)
    assert cast is not None
    assert [page.end.piece for page in cast.pages] == [page.end for page in state.budget.pages[: last + 1]]
    assert (cast.lines, cast.over) == (sum(page.planned for page in state.budget.pages[: last + 1]), 0)


@pytest.mark.parametrize(("times", "over"), [(1.25, False), (0.8, True)])
def test_closer_takes_fewer_lines_and_wider_runs_over(times: float, over: bool) -> None:
    state = SmallBook().state
    planned = sum(page.planned for page in state.budget.pages[:4])
    cast = cast_closer(state, 0, 3, state.budget.pages[3].end, lambda _: 20.0 * times)
    assert cast is not None
    assert (cast.lines + cast.over > planned, cast.over > 0) == (over, over)


def test_lines_written_already_stay_and_are_not_counted() -> None:
    book = SmallBook()
    book.write("1r", to_line=4)
    state = book.state
    cast = cast_closer(state, 0, 0, state.budget.pages[0].end, state.letters_on)
    assert cast is not None
    assert cast.lines == 6
    book.write("1r")
    assert cast_closer(book.state, 0, 0, 10, book.state.letters_on) is None


def test_the_hand_its_letters_and_where_no_beginning_is_fixed() -> None:
    book = SmallBook()
    assert (book.state.hand_on(3), book.state.letters_on(3), first_free(book.state)) == ("A", 20.0, 0)
    book.write("1r", hand="B")
    assert first_free(book.state) == 1
    book.do(book.commands.hold(Page.parse("3r"), "w150"))
    assert first_free(book.state) == Page.parse("3r").index
