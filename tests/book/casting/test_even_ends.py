"""Lines of a paragraph chosen together; ``tests/against`` holds them against all ways there are."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.casting.even_ends import LONGEST
from copydesk.book.casting.line_breaking import Lines, lines_taken, reached
from copydesk.book.casting.line_budget import Budgeter, PagesToFill, Pin
from copydesk.book.casting.page_casting import Caster
from copydesk.book.flow import Flow
from copydesk.book.layout.page_frame import Cursor, Frame
from texts import anchored, copy_of, flows, frames, poem_flows, poems, texts

if TYPE_CHECKING:
    from copydesk.book.text.copy_text import CopyText

EVEN = Flow(line_ends="even")
PROSE = "the ford lay under snow and the mill stood still all week for nobody would cross the river by night " * 3


def even(copy: CopyText) -> CopyText:
    return copy._replace(flow=copy.flow._replace(line_ends="even"))


def shorts(copy: CopyText, starts: list[int], measure: float) -> list[float]:
    return [measure - copy.sums[end] + copy.sums[start] + copy.space for start, end in pairwise([*starts, copy.pieces])]


def test_no_line_is_much_shorter_than_another() -> None:
    copy = copy_of(PROSE)
    plain, chosen = list(Lines(copy, 24).starts), list(Lines(even(copy), 24).starts)
    assert len(plain) == len(chosen)
    assert max(shorts(copy, chosen, 24)[:-1]) < max(shorts(copy, plain, 24)[:-1])


def test_headings_verse_and_counts_stay_as_they_come() -> None:
    text = "# A heading that is so long that it wants three lines\n\n| a verse that is so long that it wants three"
    copy = copy_of(text)
    assert list(Lines(even(copy), 20).starts) == list(Lines(copy, 20).starts)


def test_words_broken_anywhere_fill_their_lines_as_they_do() -> None:
    chosen = copy_of(PROSE, broken=True, flow=EVEN)
    assert list(Lines(chosen, 20).starts) == list(Lines(copy_of(PROSE, broken=True), 20).starts)


def test_a_paragraph_with_a_word_that_no_line_holds_stays_as_it_comes() -> None:
    copy = copy_of(PROSE + "x" * 50 + " " + PROSE, widest=20)
    assert copy.forced
    assert list(Lines(even(copy), 20).starts) == list(Lines(copy, 20).starts)


def test_so_does_a_paragraph_longer_than_any() -> None:
    copy = copy_of("ab cde f " * (LONGEST // 3 + 1))
    assert list(Lines(even(copy), 20).starts) == list(Lines(copy, 20).starts)
    assert Lines.as_needed(even(copy), 20).advance(1, 3, copy.pieces) == Lines.as_needed(copy, 20).advance(
        1, 3, copy.pieces
    )


@given(texts, flows, st.integers(4, 40), st.data())
@settings(max_examples=150, deadline=None)
def test_a_text_takes_as_many_lines_as_it_does_as_it_comes(
    text: str, flow: Flow, measure: int, data: st.DataObject
) -> None:
    copy = copy_of(text, flow=flow, table="relative")
    start = data.draw(st.integers(0, copy.pieces))
    end = data.draw(st.integers(start, copy.pieces))
    plain, whole, needed = Lines(copy, measure), Lines(even(copy), measure), Lines.as_needed(even(copy), measure)
    assert len(whole) == len(plain)
    assert whole.count(start, end) == needed.count(start, end) == plain.count(start, end)
    assert lines_taken(even(copy), start, end, (1.0,), measure) == plain.count(start, end)


@given(texts, flows, st.integers(4, 40), st.data())
@settings(max_examples=150, deadline=None)
def test_from_any_line_on_the_same_lines_follow_and_a_later_beginning_never_ends_sooner(
    text: str, flow: Flow, measure: int, data: st.DataObject
) -> None:
    copy = even(copy_of(text, flow=flow, table="relative"))
    whole, needed = Lines(copy, measure), Lines.as_needed(copy, measure)
    most = data.draw(st.integers(1, 9))
    limit = data.draw(st.integers(0, copy.pieces))
    for piece in [*whole.starts, data.draw(st.integers(0, copy.pieces))]:
        assert whole.advance(piece, most, limit, limit) == needed.advance(piece, most, limit, limit)
        assert whole.advance(piece, most, limit) == needed.advance(piece, most, limit)
    ends = [Lines.as_needed(copy, measure).advance(piece, 1, copy.pieces)[0] for piece in range(copy.pieces)]
    assert ends == sorted(ends)


@given(texts, flows, st.data())
@settings(max_examples=100, deadline=None)
def test_it_goes_as_far_as_the_page_cast(text: str, flow: Flow, data: st.DataObject) -> None:
    copy = even(copy_of(text, flow=flow))
    frame = data.draw(frames(data.draw(st.integers(1, 2)), data.draw(st.integers(1, 8))))
    width = data.draw(st.floats(4.0, 40.0))
    start = data.draw(st.integers(0, copy.pieces))
    cast = Caster(Lines.as_needed(copy, width), (), anywhere=True).page(
        Cursor(start), frame, recto=True, limit=copy.pieces
    )
    assert reached(copy, start, frame.text_lines(), width) == cast.end.piece


@given(st.one_of(texts, poems), poem_flows, st.integers(1, 2), st.integers(1, 7), st.integers(8, 30), st.data())
@settings(max_examples=200, deadline=None)
def test_recording_pages_as_planned_moves_nothing(
    text: str, flow: Flow, columns: int, lines: int, measure: int, data: st.DataObject
) -> None:
    copy = even(copy_of(text, flow=flow, table="relative"))
    anchors = data.draw(anchored(copy)) if data.draw(st.booleans()) else []
    budgeter = Budgeter(copy, {"A": measure}, anchors)
    task = PagesToFill(14, Frame(columns, lines), {}, {}, lambda _: "A")
    budget = budgeter.work(task)
    at = 0
    for index, page in enumerate(budget.pages):
        cast = budget.casts[index]
        assert cast is not None
        assert page.start == at
        traced = budgeter.caster("A").page_lines(cast.start, task.frame, recto=index % 2 == 0, limit=page.end)
        assert [line.end for line in traced if line.start < line.end][-1:] in ([], [page.end])
        at = page.end
    bearing = [index for index, page in enumerate(budget.pages) if page.start < page.end]
    if anchors or not bearing:
        return
    index = data.draw(st.sampled_from(bearing))
    page = budget.pages[index]
    for pin in (Pin(page.start), Pin(page.start, page.end, page.planned, whole=True)):
        again = budgeter.work(task._replace(pins={index: pin}))
        assert budgeter.work(task._replace(pins={index: pin}), budget).pages == again.pages
        assert [each.start for each in again.pages] == [each.start for each in budget.pages]
        for before in range(index):
            one, other = budget.casts[before], again.casts[before]
            assert one is not None
            assert other is not None
            assert one.columns == other.columns


@given(texts, st.integers(1, 5), st.integers(8, 24), st.data())
@settings(max_examples=100, deadline=None)
def test_work_done_again_comes_to_the_same_wherever_a_page_is_held(
    text: str, lines: int, measure: int, data: st.DataObject
) -> None:
    copy = even(copy_of(text))
    budgeter = Budgeter(copy, {"A": measure}, [])
    task = PagesToFill(12, Frame(1, lines), {}, {}, lambda _: "A")
    before = budgeter.work(task)
    for _ in range(3):
        index, piece = data.draw(st.integers(0, 11)), data.draw(st.integers(0, copy.pieces))
        task = task._replace(pins={**task.pins, index: Pin(piece)})
        before = budgeter.work(task, before)
        assert before.pages == budgeter.work(task).pages
