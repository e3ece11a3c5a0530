"""How far a text goes on given lines, against casting the same page."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.casting.advance_lines import line_shares, lines_taken, reached
from copydesk.book.casting.line_breaking import Lines
from copydesk.book.casting.page_casting import Caster
from copydesk.book.layout.page_frame import Cursor, Frame, Placement
from texts import copy_of, flows, frames, texts


def test_a_bare_page_has_all_its_lines() -> None:
    assert line_shares(Frame(2, 3)) == [1.0] * 6


def test_spaces_and_flaws_take_lines_or_parts_of_them() -> None:
    initial, picture = Placement("i", 1, 1, 2, 0.25), Placement("m", 2, 3, 1, 0.0)
    frame = Frame(2, 3, (initial, picture), ((1, 3, 0.5), (2, 1, 0.0)))
    assert line_shares(frame) == [0.75, 0.75, 0.5, 1.0]


def test_a_new_paragraph_begins_a_new_line() -> None:
    copy = copy_of("aa bb\n\ncc dd ee")
    assert reached(copy, 0, [1.0], 100.0) == 2
    assert reached(copy, 0, [1.0, 1.0], 5.0) == 4


@pytest.mark.parametrize("pieces", [46, 47, 48, 49, 50, 97, 130])
def test_a_line_is_filled_however_many_words_it_holds(pieces: int) -> None:
    copy = copy_of(" ".join(["a"] * 400))
    assert reached(copy, 0, [1.0] * 3, 2.0 * pieces - 1.0) == 3 * pieces
    assert reached(copy, 0, [1.0] * 9, 2.0 * pieces - 1.0) == min(9 * pieces, 400)


@given(texts, flows, st.booleans(), st.data())
@settings(max_examples=150)
def test_it_goes_as_far_as_the_page_cast(text: str, flow: object, broken: bool, data: st.DataObject) -> None:
    copy = copy_of(text, flow=flow, broken=broken)  # type: ignore[arg-type]
    frame = data.draw(frames(data.draw(st.integers(1, 2)), data.draw(st.integers(1, 8))))
    width = data.draw(st.floats(4.0, 40.0))
    start = data.draw(st.integers(0, copy.pieces))
    caster = Caster(Lines.as_needed(copy, width), (), anywhere=True)
    cast = caster.page(Cursor(start), frame, recto=True, limit=copy.pieces)
    assert reached(copy, start, line_shares(frame), width) == cast.end.piece


@given(texts, flows, st.booleans(), st.data())
@settings(max_examples=150)
def test_the_lines_a_text_takes_are_the_fewest_that_reach_its_end(
    text: str, flow: object, broken: bool, data: st.DataObject
) -> None:
    copy = copy_of(text, flow=flow, broken=broken)  # type: ignore[arg-type]
    width, start = data.draw(st.floats(4.0, 40.0)), data.draw(st.integers(0, copy.pieces))
    shares = data.draw(st.lists(st.floats(0.2, 1.0), min_size=1, max_size=9))
    lines = lines_taken(copy, start, copy.pieces, shares, width)
    given_lines = [*shares, *[shares[-1]] * lines]
    assert reached(copy, start, given_lines[:lines], width) == copy.pieces
    assert not lines or reached(copy, start, given_lines[: lines - 1], width) < copy.pieces
