"""Advice of the handbooks."""

from __future__ import annotations

import pytest

from copydesk.book.layout.page_advice import letters_advice, margin_advice, page_advice, script_advice, unit_advice
from copydesk.book.layout.page_layout import PageLayout, lay_out
from copydesk.book.plan import Columns, Margins, PageSize, Ruling, Script

SMALL = Script("small", nib=0.5)


def laid(inner: float, head: float, outer: float, foot: float, lines: int = 32) -> PageLayout:
    return lay_out(PageSize(170, 240, Margins(inner, head, outer, foot)), Columns(1), Ruling(lines), SMALL)


def test_a_usual_page_calls_for_no_advice() -> None:
    assert page_advice(laid(18, 24, 36, 48), SMALL, 34) == ()


@pytest.mark.parametrize(("letters", "said"), [(20, "too few"), (24.9, "too few"), (60, "too many")])
def test_letters_a_line_outside_johnstons_bounds_are_spoken_of(letters: float, said: str) -> None:
    assert said.removeprefix("too ") in str(letters_advice(letters))


@pytest.mark.parametrize("letters", [None, 25, 34.5, 50])
def test_letters_a_line_within_them_are_not(letters: float | None) -> None:
    assert letters_advice(letters) is None


def test_narrow_margins_are_spoken_of() -> None:
    assert "Margins take 22% of the page" in margin_advice(laid(10, 14, 10, 14))[0]


def test_margins_that_grow_the_wrong_way_are_spoken_of() -> None:
    assert "1½ : 2 : 3 : 4" in margin_advice(laid(36, 48, 18, 24))[-1]


def test_letters_that_would_meet_are_spoken_of() -> None:
    assert "5.25 mm" in str(script_advice(laid(18, 24, 36, 48, lines=40), SMALL))
    assert script_advice(laid(18, 24, 36, 48), SMALL) is None
    assert script_advice(laid(18, 24, 36, 48, lines=40), Script()) is None


def test_very_close_and_very_wide_lines_are_spoken_of_in_the_books_unit() -> None:
    assert "closer" in str(unit_advice(laid(18, 24, 36, 48, lines=50)))
    assert "wider" in str(unit_advice(laid(18, 24, 36, 48, lines=10), "in"))
    assert " in " in str(unit_advice(laid(18, 24, 36, 48, lines=10), "in"))


def test_all_advice_comes_together() -> None:
    assert len(page_advice(laid(36, 14, 18, 14, lines=60), SMALL, 80)) == 5
