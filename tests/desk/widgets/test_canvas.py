from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from copydesk.desk.widgets.canvas import Canvas, cells_of


def text(canvas: Canvas) -> list[str]:
    return ["".join(piece.text for piece in row) for row in canvas.rows()]


def test_text_is_cut_to_its_room_and_to_the_canvas() -> None:
    canvas = Canvas(6, 2)
    assert canvas.put(1, 0, "abcdef", "ink", 3) == 3
    assert canvas.put(4, 1, "xyz", "ink") == 2
    canvas.put(0, 5, "nowhere", "ink")
    assert text(canvas) == [" abc  ", "    xy"]


def test_pieces_keep_their_tones() -> None:
    canvas = Canvas(5, 1)
    canvas.put(0, 0, "ab", "ink")
    canvas.put(3, 0, "c", "wrong")
    assert canvas.rows() == [[("ab", "ink"), (" ", ""), ("c", "wrong"), (" ", "")]]


def test_boxes_of_three_rows_two_and_one_name_what_is_in_them() -> None:
    canvas = Canvas(9, 6)
    canvas.box(0, 0, 9, 3, "mill", "space")
    canvas.box(0, 3, 9, 2, "key", "space")
    canvas.box(0, 5, 6, 1, "weirs", "space")
    assert text(canvas) == ["┌───────┐", "│mill   │", "└───────┘", "┌key────┐", "└───────┘", "[weir]   "]


def test_wide_letters_take_two_cells_and_marks_none() -> None:
    canvas = Canvas(6, 1)
    assert canvas.put(0, 0, "水e\u0301x", "ink") == 4
    assert text(canvas) == ["水e\u0301x  "]
    canvas.put(1, 0, "a", "ink")
    assert text(canvas) == [" ae\u0301x  "]
    assert Canvas(1, 1).put(0, 0, "水", "ink") == 0


@given(
    st.lists(
        st.tuples(st.integers(0, 12), st.integers(0, 3), st.text("ab水e\u0301 ─", max_size=9), st.sampled_from("xy"))
    )
)
def test_every_row_is_as_wide_as_the_canvas_whatever_is_drawn(strokes: list[tuple[int, int, str, str]]) -> None:
    canvas = Canvas(10, 3)
    for x, y, words, tone in strokes:
        canvas.put(x, y, words, tone)
    assert [sum(map(cells_of, row)) for row in text(canvas)] == [10, 10, 10]
