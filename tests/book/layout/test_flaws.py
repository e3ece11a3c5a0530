"""Lines around a hole or a short edge."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.layout.flaws import TouchedLine, flaw_place, flaw_problem, room_around, shares_left
from copydesk.book.layout.page_frame import SplitLine
from copydesk.book.layout.page_layout import PageLayout, Rectangle, lay_out
from copydesk.book.plan import Columns, Flaw, Margins, PageSize, Ruling, Script
from copydesk.book.structure.page import Side

LAYOUT = lay_out(PageSize(170, 240, Margins(18, 24, 36, 48)), Columns(2, 10), Ruling(32), Script())
HOLE = Flaw(11, from_head=120, from_fold=60, width=15, height=9)


def lines_touched(layout: PageLayout, flaw: Flaw, side: Side) -> tuple[TouchedLine, ...]:
    """The lines one flaw alone touches."""
    return room_around(layout, (flaw,), side)


def test_a_hole_lies_mirrored_on_the_verso() -> None:
    assert flaw_place(LAYOUT, HOLE, Side.RECTO) == Rectangle(60, 120, 15, 9)
    assert flaw_place(LAYOUT, HOLE, Side.VERSO) == Rectangle(95, 120, 15, 9)


def test_a_hole_takes_the_end_of_lines_on_the_recto_and_their_beginning_on_the_verso() -> None:
    # bands of 5.25 mm from 24: lines 19 (118.5 to 123.75) and 20 (123.75 to 129) meet 120 to 129
    assert lines_touched(LAYOUT, HOLE, Side.RECTO) == ((1, 19, ((0, 42),)), (1, 20, ((0, 42),)))
    assert lines_touched(LAYOUT, HOLE, Side.VERSO) == ((2, 19, ((11, 53),)), (2, 20, ((11, 53),)))


def test_a_flaw_in_the_margin_or_the_gap_takes_nothing() -> None:
    for flaw in (Flaw(1, 0, 0, 18, 240), Flaw(1, 0, 0, 170, 24), Flaw(1, 100, 71, 10, 20), Flaw(1, 192, 20, 50, 30)):
        assert lines_touched(LAYOUT, flaw, Side.RECTO) == lines_touched(LAYOUT, flaw, Side.VERSO) == ()


def test_the_larger_stretch_beside_a_hole_is_kept() -> None:
    (touched,) = lines_touched(LAYOUT, Flaw(1, 25, 18 + 30, 3, 3), Side.RECTO)
    assert (touched.largest, touched.stretches) == ((0, 30), ((0, 30), (33, 53)))
    (touched,) = lines_touched(LAYOUT, Flaw(1, 25, 18 + 10, 3, 3), Side.RECTO)
    assert (touched.largest, touched.stretches) == ((13, 53), ((0, 10), (13, 53)))


def test_a_missing_edge_takes_whole_lines() -> None:
    edge = Flaw(1, from_head=180, from_fold=0, width=170, height=60)
    touched = lines_touched(LAYOUT, edge, Side.RECTO)
    assert {each.line for each in touched} == {30, 31, 32}
    assert all(each.largest == (0, 0) for each in touched)
    assert len(touched) == 6


def test_several_flaws_are_written_around_together() -> None:
    flaws = (Flaw(1, 24, 18, 20, 5), Flaw(1, 24, 51, 20, 20))
    touched = room_around(LAYOUT, flaws, Side.RECTO)
    assert touched[0] == (1, 1, ((20, 33),))
    assert touched[1] == (1, 2, ((0, 33),))


def test_shares_leave_out_stretches_too_short_for_words() -> None:
    assert shares_left(LAYOUT, (HOLE,), Side.RECTO) == ((1, 19, 42 / 53), (1, 20, 42 / 53))
    assert shares_left(LAYOUT, (Flaw(1, 24, 18, 44, 5),), Side.RECTO) == ((1, 1, 0.0),)


def test_a_hole_in_the_middle_leaves_both_sides_that_hold_words() -> None:
    hole = Flaw(1, 25, 18 + 30, 3, 3)
    ((column, line, share),) = shares_left(LAYOUT, (hole,), Side.RECTO, both_sides=True)
    assert isinstance(share, SplitLine)
    assert (column, line, share, share.stretches) == (1, 1, 30 / 53, (30 / 53, 20 / 53))
    assert shares_left(LAYOUT, (hole,), Side.RECTO) == ((1, 1, 30 / 53),)
    narrow = Flaw(1, 25, 18 + 45, 3, 3)  # 5 mm are less than a fifth of the measure
    assert not isinstance(shares_left(LAYOUT, (narrow,), Side.RECTO, both_sides=True)[0][2], SplitLine)


@pytest.mark.parametrize(
    ("flaw", "why"),
    [
        (Flaw(3, 0, 0, 0, 5), "needs a width and a height"),
        (Flaw(3, -1, 0, 5, 5), "begins outside the leaf"),
        (
            Flaw(3, 0, 160, 15, 5),
            "ends 175 mm from the fold and 5 mm from the head edge, beyond a leaf of 170 × 240 mm",
        ),
    ],
)
def test_a_flaw_off_the_leaf_is_spoken_of(flaw: Flaw, why: str) -> None:
    assert why in str(flaw_problem(170, 240, flaw))


def test_a_flaw_on_the_leaf_is_not() -> None:
    assert flaw_problem(170, 240, HOLE) is None


@given(st.floats(0, 200), st.floats(0, 150), st.floats(0.5, 20), st.floats(0.5, 40))
@settings(max_examples=100)
def test_both_sides_lose_the_same_lines_in_mirrored_columns(
    head: float, fold: float, width: float, height: float
) -> None:
    flaw = Flaw(1, head, fold, width, height)
    recto, verso = (lines_touched(LAYOUT, flaw, side) for side in (Side.RECTO, Side.VERSO))
    assert sorted((each.column, each.line, round(each.largest[1] - each.largest[0], 6)) for each in recto) == sorted(
        (3 - each.column, each.line, round(each.largest[1] - each.largest[0], 6)) for each in verso
    )


@given(st.floats(0, 200), st.floats(0, 150), st.floats(0.5, 20), st.floats(0.5, 40))
@settings(max_examples=100)
def test_what_is_left_lies_on_no_flaw(head: float, fold: float, width: float, height: float) -> None:
    flaw = Flaw(1, head, fold, width, height)
    place = flaw_place(LAYOUT, flaw, Side.VERSO)
    for each in lines_touched(LAYOUT, flaw, Side.VERSO):
        left = LAYOUT.column_lefts(Side.VERSO)[each.column - 1]
        upper, lower = LAYOUT.line_band(each.line)
        assert place.top < lower
        assert place.bottom > upper
        assert (
            left + last <= place.left + 1e-6 or left + first >= place.right - 1e-6 for first, last in each.stretches
        )
