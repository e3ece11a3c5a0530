"""Verse: blank lines between stanzas, indents, what is over of a long verse."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.casting.line_breaking import Lines, lines_taken
from copydesk.book.casting.line_budget import Budgeter, PagesToFill, Pin
from copydesk.book.casting.page_casting import Caster
from copydesk.book.flow import Flow
from copydesk.book.layout.page_frame import Cursor, Frame
from texts import anchored, copy_of, frames, poem_flows, poems

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.layout.page_frame import CastLine
    from copydesk.book.text.copy_text import CopyText

STANZAS = "| aa bb\n| cc dd\n\n| ee ff\n| gg hh\n\n| ii jj"
LONG = "| aa bb\n| cc dd ee ff gg\n| hh ii\n| jj"


def on_page(copy: CopyText, frame: Frame, measure: float = 12, start: int = 0, skip: int = 0) -> list[CastLine]:
    caster = Caster(Lines(copy, measure), ())
    return caster.page_lines(Cursor(start), frame, recto=True, limit=copy.pieces, skip=skip)


def shown(copy: CopyText, lines: Sequence[CastLine]) -> list[str]:
    return [copy.line_text(line.start, line.end) for line in lines]


def test_blank_lines_stand_between_stanzas() -> None:
    copy = copy_of(STANZAS, flow=Flow(between_stanzas=1))
    assert shown(copy, on_page(copy, Frame(1, 9))) == ["aa bb", "cc dd", "", "ee ff", "gg hh", "", "ii jj"]
    assert len(Lines(copy, 12)) == 7


def test_none_stands_where_nobody_asked_for_it() -> None:
    copy = copy_of(STANZAS)
    assert shown(copy, on_page(copy, Frame(1, 9))) == ["aa bb", "cc dd", "ee ff", "gg hh", "ii jj"]


def test_a_stanza_that_begins_a_column_has_no_blank_line_before_it() -> None:
    copy = copy_of(STANZAS, flow=Flow(between_stanzas=2))
    lines = on_page(copy, Frame(3, 3))
    assert [(line.column, line.line) for line in lines if line.start == line.end] == [(1, 3), (2, 3)]
    assert shown(copy, lines) == ["aa bb", "cc dd", "", "ee ff", "gg hh", "", "ii jj"]


def test_a_mark_alone_leaves_a_line_blank_within_a_stanza() -> None:
    copy = copy_of("| aa\n|\n|\n| bb\n\nprose")
    assert shown(copy, on_page(copy, Frame(1, 9))) == ["aa", "", "", "bb", "prose"]


def test_a_page_begun_goes_on_with_the_blank_line() -> None:
    copy = copy_of(STANZAS, flow=Flow(between_stanzas=1))
    assert shown(copy, on_page(copy, Frame(1, 9), start=4, skip=2)) == ["", "ee ff", "gg hh", "", "ii jj"]


def test_an_indent_takes_room_from_its_verse_alone() -> None:
    copy = copy_of("| aa bb cc dd\n|    aa bb cc dd\n| aa")
    assert copy.mean == 1.0
    assert shown(copy, on_page(copy, Frame(1, 9), 11)) == ["aa bb cc dd", "aa bb cc", "dd", "aa"]


def test_further_lines_of_a_long_verse_hang() -> None:
    text = "| aa bb cc dd ee ff gg"
    assert shown(copy_of(text), on_page(copy_of(text), Frame(1, 9), 8)) == ["aa bb cc", "dd ee ff", "gg"]
    hanging = copy_of(text, flow=Flow(hanging=3))
    assert shown(hanging, on_page(hanging, Frame(1, 9), 8)) == ["aa bb cc", "dd ee", "ff gg"]
    marked = copy_of(text.replace("| ", "| {hanging 3} "))
    assert shown(marked, on_page(marked, Frame(1, 9), 8)) == ["aa bb cc", "dd ee", "ff gg"]


@pytest.mark.parametrize(("where", "lines"), [("next line", 5), ("line above", 4), ("line below", 4)])
def test_what_is_over_of_a_long_verse_goes_where_the_book_turns_it(where: str, lines: int) -> None:
    copy = copy_of(LONG, flow=Flow(long_verses=where))  # type: ignore[arg-type]
    assert len(on_page(copy, Frame(1, 9))) == lines
    assert Lines(copy, 12).count(0, copy.pieces) == lines


def test_it_keeps_a_line_of_its_own_where_the_other_has_no_room() -> None:
    for where in ("line above", "line below"):
        copy = copy_of("| aa bb cc\n| cc dd ee ff gg\n| hh ii jj", flow=Flow(long_verses=where))  # type: ignore[arg-type]
        assert len(on_page(copy, Frame(1, 9))) == 4


def test_it_is_not_turned_into_another_column_or_another_stanza() -> None:
    above = copy_of(LONG, flow=Flow(long_verses="line above"))
    assert shown(above, on_page(above, Frame(2, 1)))[1:] == ["cc dd ee ff"]
    below = copy_of(LONG, flow=Flow(long_verses="line below"))
    assert shown(below, on_page(below, Frame(1, 2))) == ["aa bb", "cc dd ee ff"]
    parted = copy_of(LONG.replace("\n| cc", "\n\n| cc"), flow=Flow(long_verses="line above"))
    assert len(on_page(parted, Frame(1, 9))) == 5


@given(poems, poem_flows, st.integers(8, 30), st.data())
@settings(max_examples=150, deadline=None)
def test_lines_counted_are_lines_broken(text: str, flow: Flow, measure: int, data: st.DataObject) -> None:
    copy = copy_of(text, flow=flow)
    whole, needed = Lines(copy, measure), Lines.as_needed(copy, measure)
    start = data.draw(st.integers(0, copy.pieces))
    end = data.draw(st.sampled_from([*(run.start for run in copy.runs), copy.pieces]))
    assert whole.count(start, end) == needed.count(start, end)
    if flow.long_verses == "next line" and start < end:
        assert whole.count(start, end) == lines_taken(copy, start, end, (1.0,), measure)


@given(poems, poem_flows, st.integers(1, 3), st.integers(1, 7), st.integers(8, 30), st.data())
@settings(max_examples=200, deadline=None)
def test_pages_tile_a_text_with_verse_and_recording_them_as_planned_moves_nothing(
    text: str, flow: Flow, columns: int, lines: int, measure: int, data: st.DataObject
) -> None:
    copy = copy_of(text, flow=flow)
    anchors = data.draw(anchored(copy)) if data.draw(st.booleans()) else []
    budgeter = Budgeter(copy, {"A": measure}, anchors)
    frame = data.draw(frames(columns, lines)) if anchors else Frame(columns, lines)
    task = PagesToFill(12, frame, {}, {}, lambda _: "A")
    budget = budgeter.work(task)
    at = 0
    for index, page in enumerate(budget.pages):
        assert page.start == at
        assert page.planned <= page.room
        cast = budget.casts[index]
        assert cast is not None
        traced = budgeter.caster("A").page_lines(
            cast.start, frame, recto=index % 2 == 0, limit=copy.pieces, fixed=frozenset()
        )
        assert len(traced) == page.planned
        at = page.end
    bearing = [index for index, page in enumerate(budget.pages) if page.start < page.end]
    if anchors or not bearing:
        return
    index = data.draw(st.sampled_from(bearing))
    page = budget.pages[index]
    held = budgeter.work(task._replace(pins={index: Pin(page.start)}))
    assert [each.start for each in held.pages] == [each.start for each in budget.pages]
    written = budgeter.work(task._replace(pins={index: Pin(page.start, page.end, page.planned, whole=True)}))
    assert [each.start for each in written.pages] == [each.start for each in budget.pages]
