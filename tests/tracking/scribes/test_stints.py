"""Who wrote what: shares of the text by hand, in the order of the pages."""

from __future__ import annotations

import json

from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.structure.page import Page
from copydesk.tracking.scribes.stints import SHARES, share_rows, shares, totals
from small_book import SmallBook


def told(book: SmallBook) -> list[tuple[str, str, str]]:
    return [
        (share.hand, f"{share.first.page} {share.first.line}", f"{share.last.page} {share.last.line}")
        for share in shares(book.state)
    ]


def test_pages_one_after_another_are_one_share() -> None:
    book = SmallBook()
    for page in ("1r", "1v", "2r"):
        book.write(page)
    assert told(book) == [("A", "1r 1", "2r 10")]


def test_a_share_ends_where_another_hand_writes_on() -> None:
    book = SmallBook()
    book.write("1r", to_line=4)
    book.write("1r", hand="B")
    book.write("1v", hand="B")
    assert told(book) == [("A", "1r 1", "1r 4"), ("B", "1r 5", "1v 10")]


def test_a_page_left_for_later_parts_two_shares_of_one_hand() -> None:
    book = SmallBook()
    book.write("1r")
    book.write("2r")
    assert told(book) == [("A", "1r 1", "1r 10"), ("A", "2r 1", "2r 10")]
    book.write("1v")
    assert told(book) == [("A", "1r 1", "2r 10")]


def test_a_line_two_hands_share_counts_to_the_one_that_ended_it() -> None:
    book = SmallBook()
    book.do(book.commands.write(Page.parse("1r"), to_line=4, ends="w18 w19", within=True, minutes=12))
    book.write("1r", hand="B")
    first, second = shares(book.state)
    assert (first.within, first.lines, first.words, first.minutes) == (True, 3, 20, 12)
    assert (second.within, second.lines, second.first.line) == (False, 7, 4)
    data = SHARES.all_data(share_rows(book.state))
    assert json.loads(json.dumps(data)) == data
    assert [each["in_line"] for each in data] == [True, False]


def test_totals_are_by_hand() -> None:
    book = SmallBook()
    book.write("1r")
    book.write("1v", hand="B")
    book.write("2r")
    by_hand = {total.hand: (total.shares, total.lines) for total in totals(book.state, shares(book.state))}
    assert by_hand == {"A": (2, 20), "B": (1, 10)}
    assert shares(SmallBook().state) == []


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 6), st.sampled_from("AB"), st.integers(1, 10)), max_size=8))
def test_every_word_written_is_in_one_share(work: list[tuple[int, str, int]]) -> None:
    """Property: whatever is written, the shares hold the lines of all stints, in the order of the pages."""
    book = SmallBook()
    for index, hand, line in work:
        record = book.state.record(book.state.skin_at(index))
        if not record.whole and line > record.written:
            book.write(str(Page.at(index)), to_line=line, hand=hand)
    records = [book.state.record(book.state.skin_at(index)) for index in range(7)]
    found = shares(book.state)
    assert sum(share.lines for share in found) == sum(record.written for record in records)
    assert sum(share.words for share in found) == sum(
        stint.to_word - stint.from_word for record in records for stint in record.stints
    )
    places = [(share.first.page, share.first.text_line) for share in found]
    assert places == sorted(places)
