"""The next page on which something is to be done is the one that an account of every page finds."""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import Anchor, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.tracking.views.next_page import next_to_write, next_with_space
from copydesk.tracking.views.page_view import PageAccount, page_account
from small_book import SmallBook

if TYPE_CHECKING:
    from collections.abc import Callable

PAGES = ("1r", "1v", "2r", "2v", "3r")


def by_accounts(book: SmallBook, after: int, wanted: Callable[[PageAccount], bool]) -> int | None:
    pages = book.state.collation.pages
    places = [(after + step) % pages for step in range(1, pages + 1)]
    return next((index for index in places if wanted(page_account(book.state, index))), None)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.tuples(st.sampled_from(PAGES), st.sampled_from(("rule", "begin", "write"))), max_size=6),
    st.sampled_from((-1, 0, 3, 7, 23)),
    st.sampled_from((0, 30, 900)),
)
def test_the_pages_found_are_those_that_accounts_of_all_pages_find(
    steps: list[tuple[str, str]], after: int, words: int
) -> None:
    spaces = (
        SpacePlan("ford", "miniature", Anchor(page="2v"), lines=4),
        SpacePlan("last", "miniature", Anchor(page="12r"), lines=4),
    )
    book = SmallBook(words=words, spaces=spaces)
    for page, step in steps:
        with suppress(CopydeskError):  # what a desk would not take, such as ruling a page twice
            if step == "rule":
                book.do(book.commands.rule(Page.parse(page)))
            else:
                book.write(page, 2 if step == "begin" else None)
    assert next_to_write(book.state, after) == by_accounts(book, after, lambda account: account.next_act.is_writing)
    assert next_with_space(book.state, after) == by_accounts(book, after, lambda account: account.spaces_waiting > 0)


def test_a_page_with_a_space_and_no_text_is_to_be_ruled() -> None:
    book = SmallBook(words=30, spaces=(SpacePlan("last", "miniature", Anchor(page="12r"), lines=4),))
    assert next_to_write(book.state, 2) == Page.parse("12r").index


def test_nothing_to_do_is_none() -> None:
    book = SmallBook(words=30)
    book.write("1r")
    assert next_to_write(book.state, -1) is None
    assert next_with_space(book.state, -1) is None
