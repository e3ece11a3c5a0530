"""Which gatherings lie open: as many as fit, and every row of the screen used once."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from copydesk.desk.widgets.gathering_layout import GatheringLayout
from copydesk.desk.widgets.grid_rows import CLOSED, GridRoom, Hidden, Rows, ShownRow
from copydesk.desk.widgets.page_cell import CellForm

ROOMS = st.builds(
    lambda forms, height: GridRoom(len(forms), height, lambda number: GatheringLayout((), 0, forms[number], 0)),
    st.lists(st.sampled_from(list(CellForm)), min_size=1, max_size=30),
    st.integers(1, 70),
)


@given(ROOMS, st.data())
def test_the_cursors_gathering_lies_open_and_nothing_is_shown_twice(room: GridRoom, data: st.DataObject) -> None:
    here, before = (data.draw(st.integers(0, room.gatherings - 1)) for _ in range(2))
    first = room.first_open(before, here)
    assert first <= here <= room.last_open(first)
    rows = room.half_open(first, verso=data.draw(st.booleans()))
    shown = [row for row in rows if isinstance(row, ShownRow)]
    assert len(rows) <= room.height
    expect_counted(room, rows)
    assert len(set(shown)) == len(shown)
    assert shown == sorted(shown)
    assert any(row.gathering == here for row in shown)


def expect_counted(room: GridRoom, rows: Rows) -> None:
    """That the row for it, where there is one, counts the gatherings that are not shown; where none is, all are."""
    shown = {row.gathering for row in rows if isinstance(row, ShownRow)}
    hidden = Hidden(min(shown), room.gatherings - 1 - max(shown))
    told = [row for row in rows if isinstance(row, Hidden)]
    assert told in ([], [hidden])
    if not told and any(hidden):
        assert len(rows) >= room.height - 2


@given(ROOMS, st.data())
def test_a_block_stays_while_the_cursor_is_inside_it(room: GridRoom, data: st.DataObject) -> None:
    first = data.draw(st.integers(0, room.gatherings - 1))
    here = data.draw(st.integers(first, room.last_open(first)))
    assert room.first_open(first, here) == first


@given(ROOMS, st.data())
def test_a_screen_of_lines_has_the_cursors_gathering_and_is_full(room: GridRoom, data: st.DataObject) -> None:
    here, before = (data.draw(st.integers(0, room.gatherings - 1)) for _ in range(2))
    rows = room.closed(room.first_line(before, here))
    assert (here, CLOSED) in rows
    assert len(rows) == min(room.height, room.gatherings)
    expect_counted(room, rows)


def test_what_is_hidden_is_said_in_words() -> None:
    assert str(Hidden(3, 8)) == "3 more above, 8 more below"
    assert str(Hidden(0, 1)) == "1 more below"


@given(st.sampled_from(list(CellForm)), st.integers(1, 30), st.booleans())
def test_a_screen_too_low_for_a_gathering_shows_the_page_under_the_cursor(
    form: CellForm, height: int, verso: bool
) -> None:
    layout = GatheringLayout((), 0, form, 0)
    rows = GridRoom(1, height, lambda _: layout).half_open(0, verso=verso)
    first = layout.side_rows + 2 if verso else 1
    wanted = range(first, first + layout.side_rows)
    shown = [row.row for row in rows if isinstance(row, ShownRow) and row.row in wanted]
    assert len(shown) >= min(height - 1, layout.side_rows)
