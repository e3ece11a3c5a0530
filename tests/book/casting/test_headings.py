"""A heading is not left alone at the foot of a column; what follows it there, and what that costs."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.casting.line_breaking import Lines
from copydesk.book.casting.page_casting import Caster
from copydesk.book.flow import Flow
from copydesk.book.layout.page_frame import Anchored, Cursor, Frame, PageCast, Shape
from texts import anchored, copy_of, frames, texts

if TYPE_CHECKING:
    from copydesk.book.text.copy_text import CopyText


def text(before: int, after: int = 5, headings: int = 1) -> str:
    """So many lines of four words, headings of a line each, and lines after them."""
    paragraph = " ".join(["abc"] * 4)
    verse = "\n".join([f"| {paragraph}"] * before)
    heads = "\n".join(f"# Head {at}" for at in range(headings))
    later = "\n".join([f"| {paragraph}"] * after)
    return f"# One\n{verse}\n\n{heads}\n{later}"


def pages(copy: CopyText, frame: Frame, anchors: list[Anchored] | None = None) -> list[PageCast]:
    caster, cursor, found = Caster(Lines(copy, 15.0), anchors or []), Cursor(0), []
    for index in range(6):
        found.append(caster.page(cursor, frame, recto=index % 2 == 0, limit=copy.pieces))
        cursor = found[-1].end
    return found


@pytest.mark.parametrize(("keep", "lines", "kept"), [(0, 10, 0), (1, 9, 1), (2, 9, 1), (5, 9, 1)])
def test_a_heading_goes_to_the_next_page_where_it_would_stand_alone(keep: int, lines: int, kept: int) -> None:
    first = pages(copy_of(text(8), flow=Flow(keep_with_next=keep)), Frame(1, 10))[0]
    assert (first.lines, first.kept, first.room) == (lines, kept, 10)


@pytest.mark.parametrize(("before", "kept"), [(8, 1), (7, 2), (6, 3), (5, 0)])
def test_it_takes_as_many_lines_with_it_as_the_book_asks_for(before: int, kept: int) -> None:
    first = pages(copy_of(text(before), flow=Flow(keep_with_next=3)), Frame(1, 10))[0]
    assert (first.kept, first.lines) == (kept, 10 - kept)


def test_headings_that_follow_one_another_stay_together() -> None:
    first = pages(copy_of(text(7, headings=2)), Frame(1, 10))[0]
    assert (first.kept, first.lines) == (2, 8)


def test_an_initial_that_begins_the_text_counts_with_it() -> None:
    copy = copy_of(text(6))
    initial = Anchored(copy.headings[list(copy.headings)[1]], Shape("i", 3, False, 0.2))
    assert pages(copy, Frame(1, 10), [initial])[0].kept == 3


def test_a_short_text_after_it_is_enough() -> None:
    assert pages(copy_of(text(7, after=1), flow=Flow(keep_with_next=5)), Frame(1, 10))[0].kept == 0


def test_a_heading_that_no_column_holds_begins_one() -> None:
    first, second, *_ = pages(copy_of(text(1, after=9), flow=Flow(keep_with_next=9)), Frame(1, 5))
    assert (first.lines, first.kept) == (2, 3)
    assert second.lines == 5


def test_a_heading_before_a_held_page_stays_where_it_must() -> None:
    copy = copy_of(text(8))
    caster = Caster(Lines(copy, 15.0), [])
    limit = list(copy.headings.values())[1]
    page = caster.page(Cursor(0), Frame(1, 10), recto=True, limit=limit)
    assert (page.end.piece, page.kept) == (limit, 0)


@given(texts, st.integers(0, 3), st.data())
@settings(max_examples=150)
def test_no_heading_stands_alone_at_the_foot_of_an_even_column(text: str, keep: int, data: st.DataObject) -> None:
    copy = copy_of(text, flow=Flow(keep_with_next=keep))
    frame = Frame(data.draw(st.integers(1, 2)), data.draw(st.integers(2, 6)))
    caster, cursor = Caster(Lines(copy, 24.0), []), Cursor(0)
    for index in range(12):
        lines = caster.page_lines(cursor, frame, recto=index % 2 == 0, limit=copy.pieces)
        page = caster.page(cursor, frame, recto=index % 2 == 0, limit=copy.pieces)
        assert page.lines == len(lines)
        assert page.end.piece == (lines[-1].end if lines else cursor.piece)
        for column in range(1, frame.columns + 1):
            own = [line for line in lines if line.column == column]
            for heading, after in copy.headings.items():
                if keep and own and own[0].start < heading < own[-1].end:
                    assert own[-1].end > after or own[-1].end == copy.pieces
        cursor = page.end


@given(texts, st.data())
@settings(max_examples=150)
def test_all_text_comes_to_some_page_however_its_headings_are_kept(text: str, data: st.DataObject) -> None:
    copy = copy_of(text, flow=Flow(keep_with_next=data.draw(st.integers(0, 9))))
    anchors = data.draw(anchored(copy))
    caster, cursor = Caster(Lines(copy, 15.0), anchors), Cursor(0)
    for index in range(200):
        frame = data.draw(frames(2, 4)) if index < 3 else Frame(2, 4)
        cursor = caster.page(cursor, frame, recto=index % 2 == 0, limit=copy.pieces).end
    assert cursor.piece == copy.pieces


@pytest.mark.parametrize(("lines", "stands_on"), [(7, 0), (6, 0), (5, 0), (4, 0), (8, 1), (9, 1)])
def test_a_picture_does_not_part_a_heading_from_its_text(lines: int, stands_on: int) -> None:
    copy = copy_of(text(1, after=20), flow=Flow(keep_with_next=2))
    picture = Anchored(list(copy.headings.values())[1], Shape("p", lines, False, 0.0))
    found = pages(copy, Frame(1, 12), [picture])
    on = next(at for at, page in enumerate(found) if page.placed)
    assert (on, found[0].lines, found[0].kept) == (stands_on, 12 - lines * (not stands_on), 0)


@given(texts, st.integers(0, 3), st.data())
@settings(max_examples=100)
def test_a_page_ruled_as_planned_holds_the_same_text(text: str, keep: int, data: st.DataObject) -> None:
    copy = copy_of(text, flow=Flow(keep_with_next=keep))
    after = [piece for piece in copy.headings.values() if piece < copy.pieces and data.draw(st.booleans())]
    pictures = [Anchored(piece, Shape(f"p{piece}", data.draw(st.integers(1, 6)), False, 0.0)) for piece in after]
    others = {each.piece: each for each in data.draw(anchored(copy))}
    anchors = sorted([*others.values(), *pictures], key=lambda each: (each.piece, each.shape.share > 0))
    frame = Frame(data.draw(st.integers(1, 2)), data.draw(st.integers(2, 9)))
    caster, cursor, planned = Caster(Lines(copy, 15.0), anchors), Cursor(0), []
    for index in range(12):
        planned.append(caster.page(cursor, frame, recto=index % 2 == 0, limit=copy.pieces))
        cursor = planned[-1].end
    ruled = data.draw(st.sets(st.integers(0, 11)))
    fixed = frozenset(each.id for index in ruled for each in planned[index].placed)
    for index, page in enumerate(planned):
        still = page.start._replace(waiting=tuple(each for each in page.start.waiting if each.id not in fixed))
        now = frame._replace(fixed=page.placed, ruled=True) if index in ruled else frame
        again = caster.page(still, now, recto=index % 2 == 0, limit=copy.pieces, fixed=fixed)
        assert (again.end.piece, again.lines) == (page.end.piece, page.lines), index
