"""One declaration of a report: its JSON, its tables, and the lists that show a part of it."""

from __future__ import annotations

from typing import NamedTuple

import pytest

from copydesk.book.columns import MISSING, Cell, Column, Report, given
from small_book import SmallBook


class Shelf(NamedTuple):
    """What a row of the report is about."""

    wood: str
    books: int
    longest: str | None


SHELVES: Report[Shelf] = Report(
    "shelves",
    "One row a shelf.",
    (
        Column("longest_title", Cell.TEXT, "its longest title", "longest", "longest", optional=True),
        Column("wood", Cell.TEXT, "its wood", heading="wood"),
        Column("books", Cell.NUMBER, "books on it", csv=lambda each: each.books * 2),
    ),
    last=("longest_title",),
)
OAK, ASH = Shelf("oak", 1_200, "A Long Tale"), Shelf("ash", 7, None)


def test_a_row_has_its_keys_in_the_order_of_the_columns() -> None:
    assert SHELVES.all_data([OAK, ASH]) == [
        {"longest_title": "A Long Tale", "wood": "oak", "books": 1200},
        {"wood": "ash", "books": 7},
    ]
    assert SHELVES.keys == ("longest_title", "wood", "books")
    assert SHELVES.csv_row(ASH) == [None, "ash", 14]


def test_people_read_the_columns_with_a_heading_the_long_ones_last() -> None:
    assert SHELVES.laid_out([OAK, ASH], SmallBook().plan) == ["wood  longest", "oak   A Long Tale", "ash"]


def test_a_list_shows_some_of_the_columns_in_its_own_order() -> None:
    assert SHELVES.without("wood").headings() == ("longest",)
    chosen = SHELVES.only("books", "longest_title")
    assert chosen.laid_out([OAK, ASH], SmallBook().plan) == ["books  longest", "1,200  A Long Tale", "    7"]


def test_plain_data_may_leave_keys_out_but_have_no_others() -> None:
    report = Report("plain", "Plain.", (given("a", Cell.NUMBER, "a"), given("b", Cell.NUMBER, "b")))
    assert report.columns[1].data({"a": 1}) is MISSING
    assert report.data({"a": 1}) == {"a": 1}
    with pytest.raises(KeyError, match="no column is declared for c"):
        report.data({"a": 1, "c": 3})
