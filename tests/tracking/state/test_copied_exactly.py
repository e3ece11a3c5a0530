"""Copying line for line and page for page."""

from __future__ import annotations

from typing import Any

import pytest

from copydesk.book.flow import ExemplarLoan, Flow
from copydesk.book.text.exemplar import read_exemplar
from copydesk.book.text.exemplar_lines import page_starts, whole_lines
from copydesk.tracking.checking.line_texts import line_texts
from copydesk.tracking.fit.stretches import need_at
from copydesk.tracking.state.book_state import BookState
from copydesk.tracking.state.first_plan import pages_needed
from small_book import SmallBook

TEXT = """{3r 1} aa bb cc
{3r 2} dd ee ff gg hh ii jj kk ll
{3r 3} mm

nn {3v} oo {3v 2} pp
{3v 4} qq {3v 5} rr
{4r 1} ss
"""


def state_of(text: str, copied: str, **changes: Any) -> BookState:
    book = SmallBook(1, flow=Flow(copied=copied), **changes)  # type: ignore[arg-type]
    return BookState(book.plan, read_exemplar(text), book.ledger)


def shown(state: BookState, index: int) -> list[str]:
    return [str(line) for line in line_texts(state, index)]


def test_each_line_holds_what_the_exemplars_holds_however_full_it_is() -> None:
    state = state_of(TEXT, "line for line", exemplar=ExemplarLoan("e.txt", lines_per_page=3))
    assert shown(state, 0) == ["aa bb cc", "dd ee ff gg hh ii jj kk ll", "mm nn", "oo", "pp", "qq", "rr", "ss"]
    assert state.budget.pages[0].planned == 8


def test_lines_between_two_that_do_not_follow_one_another_run_on() -> None:
    assert shown(state_of("{1r 1} aa\n{1r 2} bb cc dd ee ff gg hh ii jj\n{1r 9} kk", "line for line"), 0) == [
        "aa",
        "bb cc dd ee ff gg hh",
        "ii jj",
        "kk",
    ]


def test_each_page_begins_as_the_exemplars_does() -> None:
    state = state_of(TEXT, "page for page")
    assert [shown(state, index) for index in range(3)] == [
        ["aa bb cc dd ee ff gg", "hh ii jj kk ll mm", "nn"],
        ["oo pp qq rr"],
        ["ss"],
    ]
    assert pages_needed(state) == 3


def test_a_page_that_cannot_hold_its_own_says_how_many_lines_are_over_and_how_close_it_must_be() -> None:
    state = state_of("{1r} " + "a " * 102 + "{1v} bb", "line and page")
    assert state.budget.pages[0].over == 1
    need = need_at(state, 0)
    assert need is not None
    assert (need.over, need.verdict) == (1, "impossible")
    assert need.needed is not None
    assert 20.0 < need.needed < 30.0
    assert state.budget.pages[1].start == 102


def test_a_page_written_further_is_an_overlap_and_taken_back_it_is_held_again() -> None:
    book = SmallBook(1, flow=Flow(copied="page for page"))
    book.exemplar = read_exemplar("{1r} " + "aa " * 30 + "{1v} " + "bb " * 30)
    book.state = BookState(book.plan, book.exemplar, book.ledger)
    before = book.state.budget.pages[:4]
    entry = book.write("1v")
    assert [page.start for page in book.state.budget.pages[:4]] == [page.start for page in before]
    book.undo(entry)
    assert book.state.budget.pages[:4] == before


@pytest.mark.parametrize(
    ("text", "starts"),
    [
        ("{12r} a b {12v} c {13r} d", {0: 0, 1: 2, 2: 3}),
        ("{12v} a {13r} b", {1: 0, 2: 1}),
        ("a {12r} b", {0: 0, 2: 1}),
        ("{iv} a {iir} b {1r} c {1v} d", {1: 0, 2: 1, 4: 2, 5: 3}),
        ("{1r} a {1r 4} b {2r} c", {0: 0, 2: 2}),
        ("a b", {}),
    ],
)
def test_which_page_each_side_of_the_exemplar_is(text: str, starts: dict[int, int]) -> None:
    assert page_starts(read_exemplar(text)) == starts


def test_lines_known_from_end_to_end() -> None:
    exemplar = read_exemplar("{1r 1} a b {1r 2} c {1r 4} d {1v 1} e {1v 2} f")
    assert whole_lines(exemplar) == [(0, 2), (3, 4), (4, 5)]
    assert whole_lines(exemplar, 30) == [(0, 2), (4, 5)]
