"""Every fault of the book: its page today, whose writing it is in, how it stands."""

from __future__ import annotations

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import Columns
from copydesk.book.structure.page import Page
from copydesk.tracking.checking.fault_report import FAULTS, FaultAccount, choose_faults, fault_accounts
from copydesk.tracking.commands import leaf_commands as leaf_acts
from text_book import TextBook


def a_book() -> TextBook:
    """Two pages by two hands; three faults on the second, one on the first."""
    book = TextBook(columns=Columns(2, 5.0))
    book.write("1r")
    book.write("1v", to_line=12)
    book.write("1v", hand="B")
    for page, kind, column, line in (
        ("1v", "addition", 2, 4),
        ("1v", "omission", 1, 3),
        ("1v", "a blot", None, None),
        ("1r", "omission", 2, 9),
    ):
        book.do(book.commands.fault(Page.parse(page), kind, column=column, line=line, should="mill"), "B")
    book.do(book.commands.mend(Page.parse("1r"), "4", "interlined"), "A")
    return book


def told(accounts: list[FaultAccount]) -> list[tuple[str, str, str, str]]:
    return [(each.label, each.fault.kind, each.written_by, each.state) for each in accounts]


def test_they_stand_in_the_order_of_the_book_with_the_hand_that_wrote() -> None:
    assert told(fault_accounts(a_book().state)) == [
        ("1r", "omission", "A", "settled"),
        ("1v", "a blot", "", "open"),
        ("1v", "omission", "A", "open"),
        ("1v", "addition", "B", "open"),
    ]


def test_choosing_by_page_hand_kind_and_state() -> None:
    accounts = fault_accounts(a_book().state)
    assert len(choose_faults(accounts, state="open")) == 3
    assert [each.label for each in choose_faults(accounts, hand="A", kind="Omission")] == ["1r", "1v"]
    assert len(choose_faults(accounts, page="1v", hand="B")) == 1
    assert choose_faults(accounts) == accounts
    with pytest.raises(CopydeskError, match="not a state of a fault"):
        choose_faults(accounts, state="mended")


def test_a_fault_whose_leaf_is_cut_away_is_gone_and_others_keep_their_skin() -> None:
    book = a_book()
    book.do(leaf_acts.cancel_leaf(book.state, 1))
    assert {(each.label, each.state) for each in fault_accounts(book.state)} == {("1r", "gone"), ("1v", "gone")}
    book = a_book()
    book.do(leaf_acts.add_leaf(book.state, 1, before=True))
    assert {each.label for each in fault_accounts(book.state)} == {"2r", "2v"}


def test_one_as_data() -> None:
    data = FAULTS.data(fault_accounts(a_book().state)[0])
    assert list(data) == [
        *(
            "fault",
            "number",
            "page",
            "kind",
            "cause",
            "column",
            "line",
            "word",
            "stands",
            "should",
            "state",
            "written_by",
        ),
        *("found_by", "found_at", "remedy", "settled_by", "settled_at"),
    ]
    assert (data["state"], data["remedy"], data["written_by"], data["found_by"]) == ("settled", "interlined", "A", "B")
    assert (data["column"], data["line"]) == (2, 9)


def test_the_row_of_a_fault_says_where_it_stands() -> None:
    state = a_book().state
    rows = [dict(zip(FAULTS.headings(), FAULTS.cells(each, state.book), strict=True)) for each in fault_accounts(state)]
    assert [row["line"] for row in rows] == [9, "", 3, 4]
