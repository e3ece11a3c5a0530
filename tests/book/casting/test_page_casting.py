"""Text cast through the lines of pages, around spaces, flaws and all rules of beginning."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.casting.line_breaking import Lines
from copydesk.book.casting.page_casting import Caster
from copydesk.book.flow import CountedDivision, Flow
from copydesk.book.layout.page_frame import Anchored, CastLine, Cursor, Frame, PageCast, Placement, Shape, SplitLine
from copydesk.book.text.counted_text import lay_counts
from texts import anchored, copy_of, flows, frames, shapes, texts

if TYPE_CHECKING:
    from copydesk.book.text.copy_text import CopyText

EACH = " ".join(f"w{number:02d}" for number in range(100))  # words of three letters: four to a line of 15


class Cast(NamedTuple):
    number: int
    page: PageCast
    lines: list[CastLine]


def cast_all(
    copy: CopyText, measure: float, frame: Frame, anchors: list[Anchored] | None = None, pages: int = 8
) -> list[Cast]:
    caster, cursor, found = Caster(Lines(copy, measure * copy.grain), anchors or []), Cursor(0), []
    for index in range(pages):
        recto = index % 2 == 0
        lines = caster.page_lines(cursor, frame, recto=recto, limit=copy.pieces)
        page = caster.page(cursor, frame, recto=recto, limit=copy.pieces)
        found.append(Cast(index, page, lines))
        cursor = page.end
    return found


def places(cast: Cast) -> list[tuple[int, int]]:
    return [(line.column, line.line) for line in cast.lines]


def test_text_runs_down_each_column_in_turn() -> None:
    first, second, *_ = cast_all(copy_of(EACH), 15, Frame(2, 3))
    assert places(first) == [(1, 1), (1, 2), (1, 3), (2, 1), (2, 2), (2, 3)]
    assert (first.page.end.piece, first.page.columns) == (24, (0, 12))
    assert (first.page.lines, first.page.room) == (6, 6)
    assert second.page.start.piece == 24


def test_a_miniature_takes_its_lines_of_one_column() -> None:
    first, *_ = cast_all(copy_of(EACH), 15, Frame(2, 5), [Anchored(4, Shape("m", 2, False, 0))])
    assert first.page.placed == (Placement("m", 1, 2, 2, 0),)
    assert places(first)[:4] == [(1, 1), (1, 4), (1, 5), (2, 1)]
    assert (first.page.lines, first.page.room) == (8, 8)


def test_a_miniature_across_takes_its_lines_of_all_columns() -> None:
    first, *_ = cast_all(copy_of(EACH), 15, Frame(2, 5), [Anchored(4, Shape("m", 2, True, 0))])
    assert first.page.placed == (Placement("m", 0, 2, 2, 0),)
    assert places(first) == [(1, 1), (1, 4), (1, 5), (2, 1), (2, 4), (2, 5)]


def test_a_miniature_without_room_goes_to_the_next_column_while_the_text_goes_on() -> None:
    first, *_ = cast_all(copy_of(EACH), 15, Frame(2, 5), [Anchored(16, Shape("m", 3, False, 0))])
    assert first.page.placed == (Placement("m", 2, 1, 3, 0),)
    assert places(first)[4:] == [(1, 5), (2, 4), (2, 5)]


def test_a_miniature_across_met_in_the_second_column_goes_to_the_next_page() -> None:
    first, second, *_ = cast_all(copy_of(EACH), 15, Frame(2, 4), [Anchored(20, Shape("m", 2, True, 0))])
    assert first.page.placed == ()
    assert first.page.end.waiting == (Shape("m", 2, True, 0),)
    assert second.page.placed == (Placement("m", 0, 1, 2, 0),)


def test_a_space_higher_than_the_column_takes_all_of_it() -> None:
    first, *_ = cast_all(copy_of(EACH), 15, Frame(2, 4), [Anchored(0, Shape("m", 99, False, 0))])
    assert first.page.placed == (Placement("m", 1, 1, 4, 0),)
    assert places(first)[0] == (2, 1)


def test_an_initial_indents_its_paragraphs_first_lines() -> None:
    first, *_ = cast_all(copy_of(EACH), 15, Frame(1, 6), [Anchored(0, Shape("i", 2, False, 0.5))])
    assert [line.end - line.start for line in first.lines] == [2, 2, 4, 4, 4, 4]
    assert (first.page.lines, first.page.room) == (6, 6)


def test_an_initial_without_room_keeps_its_paragraph_back() -> None:
    text = f"{EACH[:47]}\n\n{EACH}"  # twelve words, three lines
    copy = copy_of(text, new_line_at=[12])
    first, *_ = cast_all(copy, 15, Frame(2, 4), [Anchored(12, Shape("i", 2, False, 0.5))])
    assert places(first) == [(1, 1), (1, 2), (1, 3), (2, 1), (2, 2), (2, 3), (2, 4)]
    assert first.page.placed == (Placement("i", 2, 1, 2, 0.5),)
    assert (first.page.lines, first.page.room) == (7, 8)


@pytest.mark.parametrize(("columns", "lines", "end"), [(1, 3, 12), (2, 7, 24)])
def test_a_paragraph_kept_back_stays_with_its_initial_once_that_is_ruled(columns: int, lines: int, end: int) -> None:
    copy = copy_of(f"{EACH[:47]}\n\n{EACH}", new_line_at=[12])
    caster = Caster(Lines(copy, 15), [Anchored(12, Shape("i", 2, False, 0.5))])
    own = (Placement("i", 2, 1, 2, 0.5),) if columns == 2 else ()  # else it is ruled overleaf
    frame = Frame(columns, 4, own, ruled=True)
    page = caster.page(Cursor(0), frame, recto=True, limit=copy.pieces, fixed=frozenset("i"))
    assert (page.lines, page.end.piece) == (lines, end)


def test_a_paragraph_that_comes_past_its_ruled_initial_goes_on() -> None:
    copy = copy_of(f"{EACH[:47]}\n\n{EACH}", new_line_at=[12])
    caster = Caster(Lines(copy, 15), [Anchored(12, Shape("i", 2, False, 0.5))])
    ruled = Frame(1, 5, (Placement("i", 1, 1, 2, 0.5),), ruled=True)
    page = caster.page(Cursor(0), ruled, recto=True, limit=copy.pieces, fixed=frozenset("i"))
    assert (page.lines, page.end.piece) == (5, 16)


def test_a_second_initial_waits_until_the_first_is_past() -> None:
    copy = copy_of("aa\n\nbb\n\ncc dd ee", new_line_at=[0, 1])
    anchors = [Anchored(0, Shape("a", 3, False, 0.2)), Anchored(1, Shape("b", 2, False, 0.2))]
    first, *_ = cast_all(copy, 15, Frame(1, 8), anchors)
    assert [placement.from_line for placement in first.page.placed] == [1, 4]
    assert places(first) == [(1, 1), (1, 4), (1, 5)]


def test_a_border_takes_nothing() -> None:
    first, *_ = cast_all(copy_of(EACH), 15, Frame(1, 4), [Anchored(6, Shape("b", 0, False, 0))])
    assert (first.page.lines, first.page.room) == (4, 4)
    assert [placement.lines for placement in first.page.placed] == [0]


@pytest.mark.parametrize(
    ("rule", "where"),
    [
        ("line", (0, 1, 3)),
        ("column", (0, 2, 1)),
        ("page", (1, 1, 1)),
        ("recto", (2, 1, 1)),
    ],
)
def test_where_a_division_may_begin(rule: str, where: tuple[int, int, int]) -> None:
    copy = copy_of("# A\nfirst\n# B\nsecond", flow=Flow(starts={2: rule}))  # type: ignore[dict-item]
    cast = cast_all(copy, 15, Frame(2, 5))
    begins = {line.start: (page.number, line.column, line.line) for page in cast for line in page.lines}
    assert begins[2] == where


def test_a_division_that_begins_a_column_begins_it_under_a_space() -> None:
    copy = copy_of("# A\nfirst", flow=Flow(divisions="page"))
    first, *_ = cast_all(copy, 15, Frame(1, 5), [Anchored(0, Shape("m", 2, False, 0))])
    assert places(first) == [(1, 3), (1, 4)]


def test_a_held_page_begins_with_its_piece_wherever_its_division_would_begin() -> None:
    copy = copy_of("# A\nfirst\n# B\nsecond\n# C\nthird", flow=Flow(divisions="recto"))
    caster = Caster(Lines(copy, 15), [])
    verso = caster.page(Cursor(2, held=True), Frame(1, 5), recto=False, limit=copy.pieces)
    assert (verso.lines, verso.end.piece) == (2, 4)
    assert caster.page(Cursor(2), Frame(1, 5), recto=False, limit=copy.pieces).lines == 0


def test_a_line_ends_where_the_text_for_the_page_ends() -> None:
    copy = copy_of(EACH)
    page = Caster(Lines(copy, 15), []).page(Cursor(0), Frame(1, 9), recto=True, limit=10)
    assert (page.end.piece, page.lines) == (10, 3)


def test_lines_already_written_are_passed_over() -> None:
    frame = Frame(2, 4, (Placement("m", 1, 2, 2, 0),))
    caster = Caster(Lines(copy_of(EACH), 15), [])
    lines = caster.page_lines(Cursor(8), frame, recto=True, limit=100, skip=3)
    assert (lines[0].column, lines[0].line, lines[0].start) == (2, 2, 8)
    assert caster.page(Cursor(8), frame, recto=True, limit=100, skip=3).lines == 6


def test_more_lines_written_than_the_page_has_fill_it() -> None:
    page = Caster(Lines(copy_of(EACH), 15), []).page(Cursor(8), Frame(2, 4), recto=True, limit=100, skip=10**9)
    assert (page.lines, page.end.piece) == (8, 8)


def test_lines_shortened_and_lost_by_flaws() -> None:
    frame = Frame(1, 4, (), ((1, 2, 0.5), (1, 3, 0.0)))
    page = Caster(Lines(copy_of(EACH), 15), [])
    lines = page.page_lines(Cursor(0), frame, recto=True, limit=100)
    assert [(line.line, line.end - line.start) for line in lines] == [(1, 4), (2, 2), (4, 4)]
    assert page.page(Cursor(0), frame, recto=True, limit=100).room == 3


@pytest.mark.parametrize(
    "wrong",
    [
        Placement("x", 1, -3, 2, 0.0),
        Placement("x", 9, 1, 2, 0.0),
        Placement("x", -1, 1, 2, 0.0),
        Placement("x", 1, 10**12, 10**12, 0.0),
        Placement("x", 1, 9, -4, 0.0),
    ],
)
def test_spaces_fixed_where_no_lines_are_take_none(wrong: Placement) -> None:
    page = Caster(Lines(copy_of(EACH), 15), []).page(Cursor(0), Frame(1, 4, (wrong,)), recto=True, limit=100)
    assert page.room == 4


def test_a_space_is_clipped_to_the_page() -> None:
    assert list(Frame(2, 4).lines_of(Placement("x", 2, 3, 10**12, 0))) == [(2, 3), (2, 4)]
    assert list(Frame(2, 2).lines_of(Placement("x", 0, 0, 2, 0))) == [(1, 1), (2, 1)]


def test_a_full_page_of_spaces_leaves_no_room_and_loses_no_text() -> None:
    page = Caster(Lines(copy_of(EACH), 15), []).page(
        Cursor(4), Frame(1, 4, (Placement("m", 0, 1, 4, 0),)), recto=True, limit=100
    )
    assert (page.room, page.lines, page.end.piece) == (0, 0, 4)


def test_counts_are_cast_like_text() -> None:
    copy = lay_counts([CountedDivision("", letters=1000)], Flow())
    first, second, *_ = cast_all(copy, 34, Frame(2, 10))
    assert (first.page.lines, first.page.end.piece) == (20, 20 * 34 * 100)
    assert second.page.lines == 10


def taken(frame: Frame, placements: tuple[Placement, ...]) -> dict[tuple[int, int], float]:
    """Share of each line that is left for text, worked out apart from the program."""
    left = {(column, line): 1.0 for column in range(1, frame.columns + 1) for line in range(1, frame.lines + 1)}
    for placement in placements:
        for place in frame.lines_of(placement):
            left[place] = min(left[place], 1 - placement.share if placement.share else 0.0)
    for column, line, share in frame.flaws:
        left[column, line] = min(left[column, line], share)
    return left


def check_page(copy: CopyText, measure: float, cast: Cast, frame: Frame) -> None:
    page, lines = cast.page, cast.lines
    left = taken(frame, (*frame.fixed, *page.placed))
    assert page.room == sum(share > 0 for share in left.values())
    assert len(lines) == page.lines <= page.room
    edges = [page.start.piece, *(line.end for line in lines)]
    assert [line.start for line in lines] == edges[:-1]
    assert edges[-1] == page.end.piece
    assert places(cast) == sorted(set(places(cast)))
    for line in lines:
        share = left[line.column, line.line]
        room = (sum(share.stretches) if isinstance(share, SplitLine) else share) * measure
        space = 0 if line.end in copy.inner else copy.space
        assert room > 0
        assert copy.sums[line.end] - copy.sums[line.start] - space <= room + 1e-5 or (share, line.end) == (
            1.0,
            line.start + 1,
        )


def check_spaces(frame: Frame, cast: Cast) -> None:
    """No space put on the page meets another, a fixed one or a flaw."""
    lines = [place for placement in cast.page.placed for place in frame.lines_of(placement)]
    assert len(lines) == len(set(lines))
    assert all(taken(frame, frame.fixed)[place] == 1.0 for place in lines)


@given(texts, flows, st.integers(1, 3), st.integers(1, 8), st.integers(4, 30), st.booleans(), st.data())
@settings(max_examples=150, deadline=None)
def test_pages_tile_any_text_around_any_spaces(
    text: str, flow: Flow, columns: int, height: int, measure: int, broken: bool, data: st.DataObject
) -> None:
    copy = copy_of(text, flow=flow, broken=broken)
    anchors = data.draw(anchored(copy))
    caster, cursor = Caster(Lines(copy, measure), anchors), Cursor(0)
    rules = {run.start: run.starts for run in copy.runs}
    placed: list[str] = []
    index = 0
    while cursor.piece < copy.pieces or cursor.waiting:
        assert index < 400, "the text never ends"
        frame = data.draw(frames(columns, height)) if index < 3 else Frame(columns, height)
        recto = index % 2 == 0
        page = caster.page(cursor, frame, recto=recto, limit=copy.pieces)
        cast = Cast(index, page, caster.page_lines(cursor, frame, recto=recto, limit=copy.pieces))
        assert page.start == cursor
        check_page(copy, measure, cast, frame)
        check_spaces(frame, cast)
        for at, line in enumerate(cast.lines):
            first_of_column = at == 0 or cast.lines[at - 1].column != line.column
            match rules.get(line.start):
                case "column":
                    assert first_of_column
                case "page":
                    assert at == 0
                case "recto":
                    assert at == 0
                    assert recto
        placed += [placement.id for placement in page.placed]
        cursor, index = page.end, index + 1
    met = [each.shape.id for each in anchors if each.piece < copy.pieces]
    assert sorted(placed) == sorted(met)


@given(texts, flows, st.integers(1, 2), st.integers(1, 8), st.integers(4, 30), st.data())
@settings(max_examples=100, deadline=None)
def test_a_page_cast_from_anywhere_to_anywhere_keeps_within_its_text(
    text: str, flow: Flow, columns: int, height: int, measure: int, data: st.DataObject
) -> None:
    copy = copy_of(text, flow=flow)
    anchors = data.draw(anchored(copy))
    start = data.draw(st.integers(0, copy.pieces))
    limit = data.draw(st.integers(start, copy.pieces))
    skip = data.draw(st.integers(0, 5))
    frame = data.draw(frames(columns, height))
    waiting = tuple(shape._replace(id=f"w{at}") for at, shape in enumerate(data.draw(st.lists(shapes, max_size=2))))
    first = sum(anchor.piece < start for anchor in anchors)
    cursor = Cursor(start, first, waiting, held=data.draw(st.booleans()))
    caster = Caster(Lines(copy, measure), anchors)
    recto = data.draw(st.booleans())
    page = caster.page(cursor, frame, recto=recto, limit=limit, skip=skip)
    lines = caster.page_lines(cursor, frame, recto=recto, limit=limit, skip=skip)
    assert start <= page.end.piece <= limit
    skipped = min(skip, page.room)
    assert page.lines == skipped + len(lines)
    edges = [start, *(line.end for line in lines)]
    assert [line.start for line in lines] == edges[:-1]
    assert edges[-1] == page.end.piece
    known = {shape.id for shape in waiting} | {anchor.shape.id for anchor in anchors[first : page.end.anchor]}
    assert {placement.id for placement in page.placed} | {shape.id for shape in page.end.waiting} == known


@given(texts, st.integers(4, 30), st.integers(1, 8), st.data())
@settings(max_examples=60, deadline=None)
def test_a_fixed_space_is_not_brought_again_by_the_text(
    text: str, measure: int, height: int, data: st.DataObject
) -> None:
    copy = copy_of(text)
    anchors = data.draw(anchored(copy))
    fixed = frozenset(data.draw(st.sets(st.sampled_from([each.shape.id for each in anchors] or [""]))))
    page = Caster(Lines(copy, measure), anchors).page(
        Cursor(0), Frame(2, height), recto=True, limit=copy.pieces, fixed=fixed
    )
    assert not fixed & {placement.id for placement in page.placed}
    assert not fixed & {shape.id for shape in page.end.waiting}
