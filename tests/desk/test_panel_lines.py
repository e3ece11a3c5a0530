"""Rows of a list, and finding the next thing in it."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from copydesk.desk.wording.lines import ListRow, next_row

ROWS = [
    ListRow("a heading", None),
    ListRow("one", 1),
    ListRow("two", 2),
    ListRow("a heading", None),
    ListRow("three", 3),
]


def test_the_next_thing_wanted_is_found_from_the_beginning_again_after_the_end() -> None:
    assert next_row(ROWS, lambda each: each > 1) == 2
    assert next_row(ROWS, lambda each: each > 1, 2) == 4
    assert next_row(ROWS, lambda each: each < 3, 4) == 1
    assert next_row(ROWS, lambda each: each == 2, 2) == 2
    assert next_row(ROWS, lambda each: each > 3) is None
    assert next_row([], bool) is None


@given(st.lists(st.one_of(st.none(), st.integers(0, 3)), max_size=12), st.integers(-1, 15), st.integers(0, 3))
def test_what_is_there_is_found_wherever_one_begins(things: list[int | None], after: int, wanted: int) -> None:
    rows = [ListRow(str(thing), thing) for thing in things]
    at = next_row(rows, lambda each: each == wanted, after)
    assert (at is None) == (wanted not in things)
    assert at is None or (things[at] == wanted and wanted not in things[after + 1 : at])
