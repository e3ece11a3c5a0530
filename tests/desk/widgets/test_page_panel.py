"""The title row and the panel: nothing passes its width, and the least is said last."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from copydesk.desk.widgets.page_panel import has_room_beside, panel_size, title_pieces, wrapped
from copydesk.desk.widgets.toned_lines import plain
from copydesk.tracking.views.gathering_progress import Totals
from small_book import SmallBook

TOTALS = Totals(8000, 1234, 1200, 16, 1, ("A",))


@given(st.integers(30, 220), st.text(max_size=60))
def test_the_title_is_as_wide_as_the_screen(width: int, title: str) -> None:
    assert cell_len(plain(title_pieces(title, "bea, Bea Lindqvist", TOTALS, width))) == width


def test_the_title_groups_its_numbers_and_counts_one_as_one() -> None:
    said = plain(title_pieces("A book", "bea, Bea", TOTALS, 130))
    assert said.startswith(" A book   at the desk: bea, Bea ")
    assert said.endswith("   1,234/8,000 written   ✓1,200 checked   !16 faults open   ◇1 space waits ")
    assert plain(title_pieces("A book", "bea, Bea", TOTALS, 70)).endswith("1,234/8,000 written   ✓1,200   !16   ◇1 ")


@given(st.text("ab 字", max_size=80), st.integers(2, 30))
def test_wrapped_lines_keep_every_letter_in_their_width(text: str, width: int) -> None:
    rows = wrapped(text, width)
    assert all(cell_len(row) <= width for row in rows)
    assert "".join("".join(rows).split()) == "".join(text.split())


@pytest.mark.parametrize(
    ("sheets", "width", "wide"), [(4, 117, 0), (4, 118, 40), (4, 200, 50), (8, 120, 0), (8, 200, 50)]
)
def test_the_panel_stands_beside_while_the_cells_stay_readable(sheets: int, width: int, wide: int) -> None:
    state = SmallBook(sheets=sheets).state
    assert panel_size(width, 40, roomy=has_room_beside(state, width)).wide == wide


@pytest.mark.parametrize(("height", "high"), [(10, 0), (20, 2), (24, 6), (40, 9), (60, 14)])
def test_below_the_panel_leaves_the_gatherings_their_room(height: int, high: int) -> None:
    assert panel_size(80, height, roomy=True).high == high
