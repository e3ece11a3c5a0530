from __future__ import annotations

import pytest

from copydesk.book.plan import Flaw
from copydesk.book.structure.page import Page
from copydesk.desk.widgets.grid_cells import cell_of
from copydesk.tracking.views.page_view import page_account
from small_book import SmallBook

EDGE = Flaw(1, 120.0, 85.0, 10.0, 20.0)  # a short corner, clear of the lines


def figures(book: SmallBook, page: str) -> str:
    return cell_of(page_account(book.state, Page.parse(page).index), 9).figures


@pytest.mark.parametrize("page", ["1r", "1v"])
def test_both_pages_of_a_flawed_leaf_bear_the_mark(page: str) -> None:
    assert figures(SmallBook(flaws=(EDGE,)), page) == "0/10 ○"
    assert figures(SmallBook(flaws=(EDGE,)), "2r") == "0/10"


def test_a_page_that_does_not_begin_where_the_one_before_ends_bears_a_mark_that_is_no_colour() -> None:
    book = SmallBook(flaws=(Flaw(2, 120.0, 85.0, 10.0, 20.0),))
    book.do(book.commands.write(Page.parse("1r"), ends="w48 w49"))
    book.do(book.commands.write(Page.parse("1v"), begins="w53 w54"))
    book.do(book.commands.write(Page.parse("2r"), begins="w91 w92"))
    assert [figures(book, page) for page in ("1r", "1v", "2r")] == ["10/10", "10/10 ≠", "10/10 ≠○"]


def test_a_flawed_blank_page_bears_it_alone_and_one_over_keeps_its_figure() -> None:
    assert figures(SmallBook(words=0, flaws=(EDGE,)), "1r") == "○"
    over = SmallBook(words=1000, flaws=(EDGE,))
    over.do(over.commands.hold(Page.parse("1v"), "w70"))
    page = over.state.budget.pages[0]
    assert figures(over, "1r") == f"0/{page.planned}+{page.planned - 10}○"
