"""How far a space stands from its text, at every door; and pictures that keep the order of the text."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.flow import CountedDivision, ExemplarLoan, Flow
from copydesk.book.plan import Anchor, Columns, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.desk.wording.space_rows import space_lines
from copydesk.tracking.decoration.space_columns import SPACES
from copydesk.tracking.decoration.space_report import SpaceReport, apart_words, space_reports
from copydesk.tracking.decoration.text_distance import TextDistance
from copydesk.tracking.state.book_state import BookState
from small_book import SmallBook

NOON = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)


def reports(book: SmallBook) -> dict[str, SpaceReport]:
    return {each.account.plan.id: each for each in space_reports(book.state, NOON)}


def picture(name: str, word: int, lines: int) -> SpacePlan:
    return SpacePlan(name, "miniature", Anchor(word=word), lines)


def told(book: SmallBook, name: str) -> tuple[Any, ...]:
    report = reports(book)[name]
    row = SPACES.data(report)
    return row["page"], row["text_page"], row["lines_from_text"], apart_words(report, book.plan)


def test_a_space_beside_its_text_is_not_apart_from_it() -> None:
    book = SmallBook(spaces=(picture("mill", 0, 4), picture("weir", 32, 2), picture("ford", 101, 3)))
    assert told(book, "mill") == ("1r", "1r", 0, "")
    assert told(book, "weir") == ("1v", "1r", 0, "on 1r, just before it")
    assert told(book, "ford")[2:] == (0, "")  # its word stands within the line above it


def test_a_space_that_waits_for_room_says_how_many_lines_it_is_from_its_text() -> None:
    book = SmallBook(spaces=(picture("mill", 40, 5),))
    first = book.state.budget.pages[0]
    assert first.start <= 40 < first.end
    page, text, lines, said = told(book, "mill")
    assert (page, text) == ("1v", "1r")
    assert said == f"on 1r, {lines} lines before it"
    row = next(line for line in space_lines(reports(book)["mill"], book.plan) if line.head == "Its text")
    assert row.says == said


def test_a_picture_at_the_foot_stands_just_before_the_text_overleaf() -> None:
    book = SmallBook(spaces=(picture("mill", 0, 4),))
    report = reports(book)["mill"]._replace(distance=TextDistance(Page.at(1), 0))
    assert apart_words(report, book.plan) == "on 1v, just after it"


def test_one_column_after_another_counts_too() -> None:
    book = SmallBook(spaces=(picture("mill", 18, 8),), columns=Columns(2, 4.0))
    page, text, lines, said = told(book, "mill")
    assert (page, text) == ("1r", "1r")
    assert said == f"{lines} lines before it"


def test_a_space_tied_to_a_page_has_no_text() -> None:
    book = SmallBook(spaces=(SpacePlan("rim", "miniature", Anchor(page="1v"), 3),))
    assert told(book, "rim") == ("1v", None, None, "")


LARGE, SMALL = picture("large", 30, 8), picture("small", 36, 2)


def test_a_picture_that_waits_is_not_overtaken_by_a_later_smaller_one() -> None:
    book = SmallBook(spaces=(LARGE, SMALL))
    assert [(name, str(each.account.page)) for name, each in reports(book).items()] == [
        ("large", "1v"),
        ("small", "1v"),
    ]
    places = {each.id: each.from_line for each in book.state.budget.pages[1].placed}
    assert places["large"] < places["small"]


def test_it_is_where_the_book_lets_pictures_stand_as_they_fit() -> None:
    book = SmallBook(spaces=(LARGE, SMALL), flow=Flow(pictures="as they fit"))
    assert {name: str(each.account.page) for name, each in reports(book).items()} == {"small": "1r", "large": "1v"}


def test_an_initial_does_not_wait_for_a_picture() -> None:
    initial = SpacePlan("i", "initial", Anchor(word=38), 2)
    book = SmallBook(spaces=(LARGE, initial))
    assert str(reports(book)["i"].account.page) == "1r"


class Counted(SmallBook):
    """A book of counts."""

    def __init__(self, **changes: Any) -> None:
        super().__init__(
            exemplar=ExemplarLoan(), divisions=(CountedDivision("one", 300), CountedDivision("two", 300)), **changes
        )
        self.exemplar = None  # type: ignore[assignment]
        self.state = BookState(self.plan, None, self.ledger)


@pytest.mark.parametrize(("at", "refused"), [("division 2 paragraph 3", True), ("division 2 paragraph 1", False)])
def test_a_paragraph_that_the_counts_do_not_know_is_refused(at: str, refused: bool) -> None:
    book = Counted()

    def add() -> object:
        return book.commands.space("owl", "added", at=at, kind="miniature", lines=2)

    if not refused:
        assert add()
        return
    with pytest.raises(CopydeskError, match="paragraph 3 of division 2 cannot be found in a text that is counted"):
        add()
