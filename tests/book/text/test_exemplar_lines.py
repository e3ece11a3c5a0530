"""Where the exemplar's own lines and leaves begin."""

from __future__ import annotations

from copydesk.book.text.exemplar import read_exemplar
from copydesk.book.text.exemplar_lines import leaf_starts, line_starts

NOTED = "{1r} a b {1r 2} c d {1r 3} e f {1r 9} g h {1v} i j {1v 4} k l {2r} m {2r 2} n o"
"""Two words a line; lines 1 to 3 of 1r follow one another, 9 stands alone, so does 4 of 1v."""


def test_a_side_of_a_leaf_begins_where_the_leaf_noted_changes() -> None:
    exemplar = read_exemplar(NOTED)
    assert leaf_starts(exemplar, 0, 15) == [0, 8, 12]
    assert 8 in leaf_starts(exemplar, 5, 9)


def test_only_lines_known_to_follow_one_another_are_given() -> None:
    assert line_starts(read_exemplar(NOTED), 0, 15) == [0, 2, 4, 12, 13]


def test_the_last_line_of_a_page_is_followed_by_the_next_page_where_its_number_is_told() -> None:
    exemplar = read_exemplar(NOTED)
    assert line_starts(exemplar, 0, 15, lines_a_page=9) == [0, 2, 4, 6, 8, 12, 13]
    assert line_starts(exemplar, 0, 15, lines_a_page=30) == [0, 2, 4, 12, 13]


def test_a_stretch_gives_its_own_lines_and_no_far_ones() -> None:
    assert line_starts(read_exemplar(NOTED), 12, 15) == [12, 13]
    assert line_starts(read_exemplar("no place is noted"), 0, 4) == []
    assert leaf_starts(read_exemplar("no place is noted"), 0, 4) == []
