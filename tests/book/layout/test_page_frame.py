"""The room that a page's lines have for text."""

from __future__ import annotations

from copydesk.book.layout.page_frame import Frame, Placement


def test_a_bare_page_has_all_its_lines() -> None:
    assert Frame(2, 3).text_lines() == [1.0] * 6


def test_spaces_and_flaws_take_lines_or_parts_of_them() -> None:
    initial, picture = Placement("i", 1, 1, 2, 0.25), Placement("m", 2, 3, 1, 0.0)
    frame = Frame(2, 3, (initial, picture), ((1, 3, 0.5), (2, 1, 0.0)))
    assert frame.text_lines() == [0.75, 0.75, 0.5, 1.0]
