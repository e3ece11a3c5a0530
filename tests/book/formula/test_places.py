from __future__ import annotations

import pytest

from copydesk.book.formula.parts import Misread
from copydesk.book.formula.places import Context, read_places


@pytest.mark.parametrize(
    ("text", "places", "unplaced"),
    [
        ("2, 4–6 and 8", (2, 4, 5, 6, 8), 0),
        ("fifth", (5,), 0),
        ("5th to 7th", (5, 6, 7), 0),
        ("last but one", (9,), 0),
        ("last three leaves", (8, 9, 10), 0),
        ("two outer bifolia", (1, 2, 9, 10), 0),
        ("innermost sheet", (5, 6), 0),
        ("second bifolium", (2, 9), 0),
        ("conjugate of leaf 3", (8,), 0),
        ("3 and its conjugate", (3, 8), 0),
        ("all before 4", (1, 2, 3), 0),
        ("2 leaves after 4", (5, 6), 0),
        ("two leaves", (), 2),
        ("a bifolium", (), 2),
        ("A3", (3,), 0),
    ],
)
def test_leaves_of_a_gathering_of_ten(text: str, places: tuple[int, ...], unplaced: int) -> None:
    read = read_places(text, 0, len(text), Context(10, ("A",)))
    assert read is not None
    assert (read.places, read.unplaced, read.end) == (places, unplaced, len(text))


@pytest.mark.parametrize("text", ["", "blank", "some bifolia", "B3", "outer bifolia", "3^8"])
def test_what_names_no_leaf(text: str) -> None:
    assert read_places(text, 0, len(text), Context(10, ("A",))) is None


def test_a_part_that_belongs_to_the_next_remark_is_left_to_it() -> None:
    text = "3, 5 cancelled"
    read = read_places(text, 0, len(text), Context(8), lambda stop: text.startswith(" cancelled", stop))
    assert read is not None
    assert (read.places, read.end) == ((3,), 1)


def test_a_range_that_goes_back_is_refused() -> None:
    with pytest.raises(Misread, match="goes back"):
        read_places("6 to 4", 0, 6, Context(8))
