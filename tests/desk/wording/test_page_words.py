"""The panel of a page: what is to be ruled, and what lies beside it."""

from __future__ import annotations

import pytest

from copydesk.book.plan import Columns
from copydesk.book.structure.page import Page
from copydesk.desk.wording.page_words import next_words, page_lines
from copydesk.tracking.commands.leaf_commands import cancel_leaf, lose_leaf
from copydesk.tracking.views.page_view import page_account
from small_book import SmallBook


def panel(book: SmallBook, page: str) -> dict[str, str]:
    account = page_account(book.state, Page.parse(page).index)
    return {line.head: line.says for line in page_lines(book.state, account) if line.head}


def test_lines_are_to_rule_until_they_are_ruled() -> None:
    book = SmallBook()
    assert panel(book, "1r")["Lines"].startswith("10 to rule, 10 for text, ")
    book.do(book.commands.rule(Page.parse("1r")))
    assert panel(book, "1r")["Lines"].startswith("10 ruled, 10 for text, ")


@pytest.mark.parametrize(("columns", "said"), [(1, "rule 10 lines;"), (3, "rule 10 lines across 3 columns;")])
def test_a_line_is_ruled_once_through_all_columns(columns: int, said: str) -> None:
    book = SmallBook(columns=Columns(columns, 2.0))
    assert next_words(book.state, page_account(book.state, 0)).startswith(said)


def test_what_is_beside_a_page_whose_conjugate_is_gone() -> None:
    book = SmallBook()
    assert panel(book, "1r")["1r"].endswith("beside it lies 4v")
    book.do(cancel_leaf(book.state, 4))
    assert panel(book, "1r")["1r"].endswith("beside it a stub: the leaf was cancelled")
    book.do(lose_leaf(book.state, 3))
    assert panel(book, "2r")["2r"].endswith("beside it nothing: the leaf is wanting")
