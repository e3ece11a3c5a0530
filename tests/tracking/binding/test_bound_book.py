"""The book sewn and bound: recorded once, by whom and when, and told wherever the making is told."""

from __future__ import annotations

import pytest

from copydesk.book.common.errors import AlreadyDoneError
from copydesk.book.plan import Workshop
from copydesk.book.structure.page import Page
from copydesk.tracking.binding.bound_book import bind_book, binding_of
from copydesk.tracking.binding.colophon import BLANK, COLOPHON, colophon
from copydesk.tracking.log.entry_text import describe
from small_book import SmallBook


def last(book: SmallBook) -> str:
    return colophon(book.state).sentences[-1]


def test_by_the_binder_of_the_plan_or_the_one_named() -> None:
    book = SmallBook()
    assert binding_of(book.state) is None
    assert last(book) == f"Sewn and bound by {BLANK}."
    entry = book.do(bind_book(book.state, " Jory Pell ", "green goat"))
    found = binding_of(book.state)
    assert found is not None
    assert (found.who, str(found.day)) == ("Jory Pell", "2026-03-02")
    assert last(book) == "Sewn and bound by Jory Pell on 2 March 2026."
    assert describe(entry, book.state) == 'the book sewn and bound by Jory Pell, noted by A, note "green goat"'
    with pytest.raises(AlreadyDoneError, match="bound on"):
        bind_book(book.state)
    book.undo(entry)
    assert binding_of(book.state) is None
    named = SmallBook(workshop=Workshop(binder="Tamsin"))
    named.do(bind_book(named.state))
    assert last(named) == "Sewn and bound by Tamsin on 2 March 2026."
    data = COLOPHON.data((colophon(named.state), ""))
    assert (data["bound_by"], data["bound_on"]) == ("Tamsin", "2026-03-02")


def test_who_put_faults_right_and_the_days_of_each_work() -> None:
    book = SmallBook()
    page = Page.parse("1r")
    book.write("1r")
    fault = book.do(book.commands.fault(page, "omission", line=2, should="w3"), "B")
    book.do(book.commands.mend(page, fault.entry, "interlined", ""), "A")
    made = colophon(book.state)
    (mended,) = made.mended
    assert (mended.hand, mended.where, str(mended.first), str(mended.last)) == ("A", "1r", "2026-03-02", "2026-03-02")
    assert made.wrote[0].first == made.wrote[0].last == mended.first
