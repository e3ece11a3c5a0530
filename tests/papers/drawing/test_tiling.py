"""Spreading a large drawing over sheets of paper."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.papers.drawing.paper_sheets import PAPERS, paper_named
from copydesk.papers.drawing.shapes import Box, DrawnLine, Ring, Words, reach
from copydesk.papers.drawing.tiling import MARGIN, OVERLAP, pdf_of, tiles_for

A4 = PAPERS["a4"]


def test_what_fits_takes_one_upright_sheet() -> None:
    tiles = tiles_for(194, 281, A4)
    assert (tiles.count, tiles.paper) == (1, A4)


def test_a_wide_drawing_turns_the_paper() -> None:
    tiles = tiles_for(281, 194, A4)
    assert (tiles.count, tiles.paper) == (1, A4.turned)


def test_a_little_more_takes_another_sheet() -> None:
    assert tiles_for(194, 281.1, A4).count == 2
    assert tiles_for(300, 300, A4).count == 4


@given(st.floats(10, 1500), st.floats(10, 1500), st.sampled_from(list(PAPERS.values())))
@settings(max_examples=100)
def test_the_sheets_cover_the_drawing_and_share_strips(width: float, height: float, paper) -> None:  # type: ignore[no-untyped-def]
    tiles = tiles_for(width, height, paper)
    left, top = tiles.corner(tiles.rows - 1, tiles.columns - 1)
    assert left + tiles.width >= width - 1e-6
    assert top + tiles.height >= height - 1e-6
    assert {tiles.paper.width, tiles.paper.height} == {paper.width, paper.height}
    for row in range(tiles.rows):
        for column in range(1, tiles.columns):
            assert tiles.corner(row, column)[0] - tiles.corner(row, column - 1)[0] == pytest.approx(
                tiles.width - OVERLAP
            )


@given(st.floats(10, 1500), st.floats(10, 1500))
@settings(max_examples=100)
def test_every_cross_is_on_two_sheets_or_more(width: float, height: float) -> None:
    tiles = tiles_for(width, height, A4)
    assert bool(tiles.crosses()) == (tiles.count > 1)
    for x, y in tiles.crosses():
        shown = 0
        for row in range(tiles.rows):
            for column in range(tiles.columns):
                left, top = tiles.corner(row, column)
                shown += left < x < left + tiles.width and top < y < top + tiles.height
        assert shown >= 2


def test_nothing_drawn_gives_an_empty_sheet() -> None:
    assert pdf_of([], A4).startswith(b"%PDF")


def test_papers_answer_in_any_case() -> None:
    assert paper_named(" letter ") is PAPERS["letter"]


def test_printers_keep_their_margin() -> None:
    assert tiles_for(1000, 1000, A4).width == 210 - 2 * MARGIN


def test_marks_know_how_far_they_reach() -> None:
    assert reach(DrawnLine(3, 4, 1, 2, "cut")) == (1, 2, 3, 4)
    assert reach(Box(1, 2, 3, 4, "edge")) == (1, 2, 4, 6)
    assert reach(Ring(5, 5, 1, "prick")) == (4, 4, 6, 6)
    assert reach(Words(5, 5, "ab", 2)) == (1, 1, 9, 9)
