"""Cutting like rectangles edge to edge."""

from __future__ import annotations

from functools import lru_cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.materials.guillotine_cuts import MOST_SEARCHED, CutPiece, Cuts, cut_best, cut_one_way

SIDES = st.integers(1, 9)
LENGTHS = st.integers(1, 26)


def every_cut(width: int, height: int, piece: tuple[int, int], *, turning: bool = True) -> int:
    """The most pieces, trying every whole-number cut there is: slow, and plainly right."""

    @lru_cache(None)
    def most(wide: int, high: int) -> int:
        ways = {piece, piece[::-1]} if turning else {piece}
        best = int(any(wide >= way[0] and high >= way[1] for way in ways))
        for at in range(1, wide // 2 + 1):
            best = max(best, most(at, high) + most(wide - at, high))
        for at in range(1, high // 2 + 1):
            best = max(best, most(wide, at) + most(wide, high - at))
        return best

    return most(width, height)


def parts_after(cuts: Cuts, width: int, height: int) -> set[CutPiece]:
    """Carry the cuts out one by one; each must part exactly one piece from edge to edge."""
    parts = {CutPiece(0, 0, width, height)}
    for left, top, right, bottom in cuts.cuts:
        (whole,) = (
            part
            for part in parts
            if (
                left == right
                and part.left < left < part.left + part.width
                and (top, bottom - top) == (part.top, part.height)
            )
            or (
                top == bottom
                and part.top < top < part.top + part.height
                and (left, right - left) == (part.left, part.width)
            )
        )
        parts.remove(whole)
        if left == right:
            parts |= {
                whole._replace(width=left - whole.left),
                CutPiece(left, top, whole.left + whole.width - left, whole.height),
            }
        else:
            parts |= {
                whole._replace(height=top - whole.top),
                CutPiece(left, top, whole.width, whole.top + whole.height - top),
            }
    return parts


@given(LENGTHS, LENGTHS, st.tuples(SIDES, SIDES))
@settings(max_examples=150, deadline=None)
def test_no_way_of_cutting_gives_more(width: int, height: int, piece: tuple[int, int]) -> None:
    found = cut_best(width, height, piece)
    if width * height // (piece[0] * piece[1]) <= MOST_SEARCHED:
        assert len(found.pieces) == every_cut(width, height, piece)
    else:
        assert len(found.pieces) <= every_cut(width, height, piece)


@given(LENGTHS, LENGTHS, st.tuples(SIDES, SIDES))
@settings(max_examples=80, deadline=None)
def test_one_way_no_cutting_gives_more(width: int, height: int, piece: tuple[int, int]) -> None:
    assert len(cut_one_way(width, height, piece).pieces) == every_cut(width, height, piece, turning=False)


@given(st.integers(1, 300), st.integers(1, 300), st.tuples(st.integers(5, 90), st.integers(5, 90)))
@settings(max_examples=150, deadline=None)
def test_the_cuts_go_edge_to_edge_and_leave_the_pieces(width: int, height: int, piece: tuple[int, int]) -> None:
    found = cut_best(width, height, piece)
    parts = parts_after(found, width, height)
    assert set(found.pieces) <= parts
    assert len(set(found.pieces)) == len(found.pieces)
    assert all((each.width, each.height) in (piece, piece[::-1]) for each in found.pieces)


@pytest.mark.parametrize(
    ("width", "height", "piece", "most"),
    [(8, 7, (3, 2), 9), (15, 10, (4, 3), 12), (13, 11, (5, 3), 9), (14, 13, (5, 3), 11), (18, 14, (5, 3), 16)],
)
def test_cuts_near_the_middle_are_tried(width: int, height: int, piece: tuple[int, int], most: int) -> None:
    assert len(cut_best(width, height, piece).pieces) == every_cut(width, height, piece) == most


def test_a_piece_that_fills_the_whole_needs_no_cut() -> None:
    assert cut_best(30, 20, (30, 20)) == Cuts((CutPiece(0, 0, 30, 20),), ())
    assert cut_best(30, 20, (20, 30)).pieces == (CutPiece(0, 0, 30, 20),)


def test_nothing_comes_from_what_is_too_small() -> None:
    assert cut_best(29, 20, (30, 20)) == Cuts((), ())
    assert cut_one_way(30, 20, (20, 30)) == Cuts((), ())


@pytest.mark.parametrize("piece", [(3, 2), (5, 3), (7, 4)])
def test_very_many_pieces_are_cut_as_two_blocks(piece: tuple[int, int]) -> None:
    found = cut_best(101, 97, piece)
    one_block = max((101 // w) * (97 // h) for w, h in (piece, piece[::-1]))
    assert len(found.pieces) >= one_block > MOST_SEARCHED
    assert set(found.pieces) <= parts_after(found, 101, 97)
