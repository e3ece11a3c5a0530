"""Spaces that go with the text, found by the text of a page, are those that looking at each one finds."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.tracking.state.text_state import LooseSpaces


@settings(max_examples=60, deadline=None)
@given(
    st.dictionaries(st.text("abcdef", min_size=1), st.integers(0, 40)),
    st.integers(0, 45),
    st.integers(0, 45),
)
def test_those_between_are_those_that_begin_there_in_the_order_of_the_text(
    pieces: dict[str, int], start: int, end: int
) -> None:
    loose = LooseSpaces(pieces)
    assert dict(loose) == pieces
    found = loose.between(start, end)
    assert set(found) == {name for name, piece in pieces.items() if start <= piece < end}
    assert [pieces[name] for name in found] == sorted(pieces[name] for name in found)
