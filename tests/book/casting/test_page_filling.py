"""How many pages a text takes from some page on."""

from __future__ import annotations

import pytest

from copydesk.book.casting import page_filling as filling
from copydesk.book.casting.line_budget import Budgeter
from copydesk.book.casting.page_filling import Filled, fill
from copydesk.book.common.errors import CopydeskError
from copydesk.book.flow import CountedDivision, Flow
from copydesk.book.layout.page_frame import Cursor, Frame, Placement
from copydesk.book.text.counted_text import lay_counts

FRAME = Frame(1, 10)


def budgeter(letters: int = 1000, **measures: float) -> Budgeter:
    copy = lay_counts([CountedDivision("all", letters=letters)], Flow())
    return Budgeter(copy, measures or {"A": 20.0}, [])


def test_pages_and_what_is_left_of_the_last() -> None:
    assert fill(budgeter(), Cursor(0), 0, {}, FRAME, lambda _: "A") == Filled(5, 10, 10)
    filled = fill(budgeter(1001), Cursor(0), 0, {}, FRAME, lambda _: "A")
    assert filled == Filled(6, 1, 10)
    assert filled.left == 9


def test_no_text_takes_no_page() -> None:
    one = budgeter()
    assert fill(one, Cursor(one.copy.pieces), 7, {}, FRAME, lambda _: "A") == Filled(0, 0, 0)


def test_a_page_with_less_room_takes_less() -> None:
    frames = {3: FRAME._replace(fixed=(Placement("frost", 1, 1, 5, 0.0),)), 9: FRAME}
    assert fill(budgeter(), Cursor(0), 2, frames, FRAME, lambda _: "A") == Filled(6, 5, 10)
    assert fill(budgeter(), Cursor(0), 4, frames, FRAME, lambda _: "A").pages == 5


def test_each_hand_writes_its_own_pages() -> None:
    two = budgeter(A=20.0, B=10.0)
    assert fill(two, Cursor(0), 0, {}, FRAME, lambda _: "B").pages == 10
    assert fill(two, Cursor(0), 0, {}, FRAME, lambda index: "A" if index < 3 else "B").pages == 3 + 4


def test_letters_agreed_on_for_a_page_hold_there() -> None:
    assert fill(budgeter(), Cursor(0), 0, {}, FRAME, lambda _: "A", agreed={0: 60.0}).pages == 1 + 2


def test_a_text_that_does_not_end_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(filling, "MOST_PAGES", 3)
    with pytest.raises(CopydeskError, match="more than 3 pages"):
        fill(budgeter(), Cursor(0), 0, {}, FRAME, lambda _: "A")
