"""Lines filled as far as they go, one after another."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.casting.line_breaking import Lines, line_end, line_through, lines_taken, reached
from copydesk.book.casting.page_casting import Caster
from copydesk.book.flow import CountedDivision, Flow
from copydesk.book.layout.page_frame import Cursor, SplitLine
from copydesk.book.text.copy_text import lay_text
from copydesk.book.text.counted_text import lay_counts
from copydesk.book.text.exemplar import read_exemplar
from copydesk.book.text.hyphenation import divider
from copydesk.book.text.letter_widths import RELATIVE, WordWidths, width_table
from texts import copy_of, flows, frames, texts

if TYPE_CHECKING:
    from copydesk.book.text.copy_text import CopyText


def shown(copy: CopyText, measure: float) -> list[str]:
    lines = Lines(copy, measure)
    return [copy.line_text(start, end) for start, end in pairwise([*lines.starts, copy.pieces])]


def test_a_line_is_filled_as_far_as_it_goes() -> None:
    assert shown(copy_of("the ford lay under snow"), 8) == ["the ford", "lay", "under", "snow"]
    assert shown(copy_of("the ford lay under snow"), 12) == ["the ford lay", "under snow"]


def test_the_word_space_at_a_lines_end_takes_no_room() -> None:
    assert shown(copy_of("aaaa bbbb"), 4) == ["aaaa", "bbbb"]


def test_a_word_too_wide_stands_alone() -> None:
    assert shown(copy_of("the extraordinarily ford"), 6) == ["the", "extraordinarily", "ford"]


def test_a_verse_line_has_its_own_line_and_turns_over_when_too_long() -> None:
    text = "| short\n| a verse line that is too long\n| end"
    assert shown(copy_of(text), 13) == ["short", "a verse line", "that is too", "long", "end"]


def test_a_rubric_that_shares_the_last_line_before_it() -> None:
    text = "# One\nwords\n# Two\nmore words"
    assert shown(copy_of(text, flow=Flow(rubrics="share")), 9) == ["One", "words Two", "more", "words"]


def test_words_broken_anywhere_fill_every_line_but_the_last_to_the_letter() -> None:
    text = "the ford lay under the snow and the mill stood still all week"
    lines = shown(copy_of(text, broken=True), 10)
    assert all(len(line) == 10 or line.count(" ") for line in lines)
    assert all(9 <= len(line) <= 10 for line in lines[:-1])
    assert lines[0] == "the ford l"


def test_words_broken_by_syllable_leave_room_for_their_mark() -> None:
    widths = WordWidths(RELATIVE)
    copy = lay_text(read_exemplar("the parchment maker"), widths, Flow(), divide=divider("en"), hyphen=widths["-"])
    just = widths["the"] + widths.space + widths["parch"] + widths["-"]
    assert shown(copy, just) == ["the parch-", "ment", "maker"]
    assert shown(copy, just - 0.01)[0] == "the"


def test_an_empty_text_has_no_lines() -> None:
    lines = Lines(copy_of(""), 10)
    assert len(lines) == 0
    assert lines.advance(0, 5, 0) == (0, 0)
    assert lines.count(0, 0) == 0


def test_counts_fill_their_lines_evenly() -> None:
    copy = lay_counts([CountedDivision("", letters=100), CountedDivision("", letters=5)], Flow())
    lines = Lines(copy, 34.5 * copy.grain)
    assert [start / copy.grain for start in lines.starts] == [0, 34.5, 69, 100]


def test_lines_asked_for_only_as_needed_are_the_same_lines() -> None:
    copy = copy_of("the ford lay under snow and the mill stood still " * 9)
    whole, needed = Lines(copy, 17), Lines.as_needed(copy, 17)
    assert needed.advance(0, 7, copy.pieces) == whole.advance(0, 7, copy.pieces)
    assert needed.count(3, 70) == whole.count(3, 70)


@given(texts, flows, st.integers(3, 40), st.booleans(), st.sampled_from(("equal", "relative")))
@settings(max_examples=80, deadline=None)
def test_no_line_is_too_long_and_none_could_take_more(
    text: str, flow: Flow, measure: int, broken: bool, table: str
) -> None:
    copy = copy_of(text, flow=flow, table=table, broken=broken)  # type: ignore[arg-type]
    lines = Lines(copy, measure)
    edges = {run.start for run in copy.runs} | {copy.pieces}
    for start, end in pairwise([*lines.starts, copy.pieces]):
        assert end > start
        space = 0 if end in copy.inner else copy.space
        width = copy.sums[end] - copy.sums[start] - space
        assert width <= measure + 1e-5 or end == start + 1
        if end not in edges:
            more = copy.sums[end + 1] - copy.sums[start] - (0 if end + 1 in copy.inner else copy.space)
            assert more > measure - 1e-5
    assert edges - {copy.pieces} <= set(lines.starts)


@given(texts, flows, st.integers(3, 40), st.booleans(), st.data())
@settings(max_examples=80, deadline=None)
def test_lines_from_the_middle_are_those_of_breaking_from_there(
    text: str, flow: Flow, measure: int, broken: bool, data: st.DataObject
) -> None:
    copy = copy_of(text, flow=flow, broken=broken)
    lines = Lines(copy, measure)
    piece = data.draw(st.integers(0, copy.pieces))
    limit = data.draw(st.integers(piece, copy.pieces))
    most = data.draw(st.integers(0, 12))
    at, filled = piece, 0
    while filled < most and at < limit:
        at = line_end(copy, at, measure, lines.run_end(at))
        filled += 1
    assert lines.advance(piece, most, limit) == (at, filled)
    assert lines.count(piece, limit) == lines.advance(piece, 10**9, limit)[1]


def test_a_new_paragraph_begins_a_new_line() -> None:
    copy = copy_of("aa bb\n\ncc dd ee")
    assert reached(copy, 0, [1.0], 100.0) == 2
    assert reached(copy, 0, [1.0, 1.0], 5.0) == 4


@pytest.mark.parametrize("pieces", [46, 47, 48, 49, 50, 97, 130])
def test_a_line_is_filled_however_many_words_it_holds(pieces: int) -> None:
    copy = copy_of(" ".join(["a"] * 400))
    assert reached(copy, 0, [1.0] * 3, 2.0 * pieces - 1.0) == 3 * pieces
    assert reached(copy, 0, [1.0] * 9, 2.0 * pieces - 1.0) == min(9 * pieces, 400)


@given(texts, flows, st.booleans(), st.data())
@settings(max_examples=150)
def test_it_goes_as_far_as_the_page_cast(text: str, flow: object, broken: bool, data: st.DataObject) -> None:
    copy = copy_of(text, flow=flow, broken=broken)  # type: ignore[arg-type]
    frame = data.draw(frames(data.draw(st.integers(1, 2)), data.draw(st.integers(1, 8))))
    width = data.draw(st.floats(4.0, 40.0))
    start = data.draw(st.integers(0, copy.pieces))
    caster = Caster(Lines.as_needed(copy, width), (), anywhere=True)
    cast = caster.page(Cursor(start), frame, recto=True, limit=copy.pieces)
    assert reached(copy, start, frame.text_lines(), width) == cast.end.piece


@given(texts, flows, st.booleans(), st.data())
@settings(max_examples=150)
def test_the_lines_a_text_takes_are_the_fewest_that_reach_its_end(
    text: str, flow: object, broken: bool, data: st.DataObject
) -> None:
    copy = copy_of(text, flow=flow, broken=broken)  # type: ignore[arg-type]
    width, start = data.draw(st.floats(4.0, 40.0)), data.draw(st.integers(0, copy.pieces))
    shares = [*data.draw(st.lists(st.floats(0.2, 1.0), max_size=8)), 1.0]
    lines = lines_taken(copy, start, copy.pieces, shares, width)
    given_lines = [*shares, *[shares[-1]] * lines]
    assert reached(copy, start, given_lines[:lines], width) == copy.pieces
    assert not lines or reached(copy, start, given_lines[: lines - 1], width) < copy.pieces


@given(texts, flows, st.booleans(), st.data())
@settings(max_examples=150)
def test_nothing_is_planned_into_room_it_cannot_have(
    text: str, flow: object, broken: bool, data: st.DataObject
) -> None:
    copy = copy_of(text, flow=flow, broken=broken, widest=data.draw(st.sampled_from((None, 4.0))))  # type: ignore[arg-type]
    frame, width = data.draw(frames(2, 6)), data.draw(st.floats(4.0, 40.0))
    caster = Caster(Lines.as_needed(copy, width), (), anywhere=True)
    lines = caster.page_lines(Cursor(0), frame, recto=True, limit=copy.pieces)
    shares = frame.shares()
    for line in lines:
        share = shares[line.column - 1][line.line - 1]
        taken = copy.sums[line.end] - copy.sums[line.start] - (0 if line.end in copy.inner else copy.space)
        stretches = share.stretches if isinstance(share, SplitLine) else (share,)
        taken -= copy.space * (len(stretches) - 1)  # the hole stands where a space between two words would
        assert taken <= width * sum(stretches) + 1e-3 or (share == 1.0 and line.end == line.start + 1)


def test_a_narrow_line_without_room_for_the_next_word_stays_empty() -> None:
    copy = copy_of("nineletter ab cd ef")
    assert line_end(copy, 0, 7.0, 4, 20.0) == 0
    assert line_end(copy, 1, 7.0, 4, 20.0) == 3
    assert line_end(copy, 0, 7.0, 4) == 1  # no wider line will come
    assert reached(copy, 0, [0.3, 0.3, 1.0], 20.0) == 4


def test_a_narrow_line_takes_a_part_of_a_word_where_words_are_broken() -> None:
    copy = copy_of("nineletter ab cd ef", broken=True)
    assert copy.line_text(0, line_end(copy, 0, 7.0, copy.pieces, 20.0)) == "ninelet"


def test_a_narrow_line_of_a_counted_text_holds_no_part_of_a_word() -> None:
    copy = lay_counts([CountedDivision("one", words=100)], Flow())
    assert line_end(copy, 0, 560.0, copy.pieces, 3000.0) == 0
    assert line_end(copy, 0, 580.0, copy.pieces, 3000.0) == 580


def test_a_word_that_a_line_holds_is_not_cut() -> None:
    copy = copy_of("ab twentyletterslongxyz ef", widest=15.0)  # the long word has 20 letters
    assert shown(copy, 20.0) == ["ab", "twentyletterslongxyz", "ef"]
    assert shown(copy, 19.0) == ["ab twentyletterslon", "gxyz ef"]


@given(st.lists(st.text("abcdefghij", min_size=1, max_size=30), min_size=1, max_size=30), st.floats(8.0, 40.0))
@settings(max_examples=150)
def test_only_words_wider_than_the_line_are_cut(words: list[str], width: float) -> None:
    copy = copy_of(" ".join(words), widest=0.75 * width)
    lines = Lines(copy, width)
    for start in lines.starts:
        if start in copy.inner:
            assert len(words[copy.word(start)]) > width


def test_a_wide_word_is_broken_by_syllables_before_it_is_cut_anywhere() -> None:
    widths = WordWidths(width_table("equal"))

    def divide(word: str) -> tuple[int, ...]:
        return (4, 8) if len(word) > 8 else ()

    copy = lay_text(read_exemplar("evermorerunning"), widths, Flow(), divide=divide, hyphen=1.0, widest=7.5)
    assert shown(copy, 10.0) == ["evermore-", "running"]


def test_a_line_goes_on_beyond_a_hole_where_both_sides_hold_a_word() -> None:
    copy = copy_of("abcd efgh ijklmnop qr")
    assert line_through(copy, 0, SplitLine((0.4, 0.5)), 20.0, 4) == 2  # abcd, and efgh beyond the hole
    assert line_through(copy, 0, 0.5, 20.0, 4) == 2
    assert line_through(copy, 1, SplitLine((0.3, 0.4)), 20.0, 4) == 3


def test_the_larger_side_is_taken_alone_where_it_holds_more() -> None:
    copy = copy_of("abcd efgh ijklmnop qr")
    assert line_through(copy, 0, SplitLine((0.2, 0.6)), 20.0, 4) == 2
    assert line_through(copy, 0, SplitLine((0.3, 0.7)), 20.0, 4) == 3  # abcd alone would leave room for efgh only
    assert line_through(copy, 2, SplitLine((0.3, 0.3)), 20.0, 4) == 2


def test_a_split_line_is_not_taken_for_another_of_the_same_largest_side() -> None:
    assert SplitLine((0.3, 0.5)) != SplitLine((0.5, 0.3))
    assert SplitLine((0.3, 0.5)) == SplitLine((0.3, 0.5))
    assert SplitLine((0.3, 0.5)) == 0.5
    assert hash(SplitLine((0.3, 0.5))) == hash(0.5)


@pytest.mark.parametrize("pieces", [47, 48, 49, 96, 97, 130])
def test_lines_of_very_many_words_are_found_again_and_again(pieces: int) -> None:
    copy = copy_of(" ".join("a" * 400))
    assert list(Lines(copy, pieces * 2 - 1).starts) == list(range(0, 400, pieces))
