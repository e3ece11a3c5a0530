"""The text laid out: pieces, widths, runs, and the way from words to pieces and back."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.flow import CountedDivision, Flow
from copydesk.book.plan import Change
from copydesk.book.text.copy_text import LETTERS_A_WORD, CopyText, LineRun
from copydesk.book.text.counted_text import lay_counts
from copydesk.book.text.letter_widths import RELATIVE
from texts import copy_of, flows, texts

TEXT = "# Of frost\nThe mill stood.\n\nAll week.\n| a verse\n| line two\n# Of thaw\nWater ran."


def starts(copy: CopyText) -> list[tuple[int, str]]:
    return [(run.start, run.starts) for run in copy.runs]


def test_widths_are_summed_with_their_word_spaces() -> None:
    copy = copy_of("the ford lay")
    assert list(copy.sums) == [0, 4, 9, 13]
    assert (copy.pieces, copy.words, copy.letters, copy.mean, copy.space) == (3, 3, 13, 1.0, 1.0)


def test_relative_widths_are_those_of_the_table() -> None:
    copy = copy_of("mill Wm", table="relative")
    assert copy.sums[2] == RELATIVE.width_of("mill") + RELATIVE.width_of("Wm") + 2 * RELATIVE.space
    assert copy.mean == copy.sums[2] / 8


def test_every_part_begins_a_line_of_its_own() -> None:
    assert starts(copy_of(TEXT)) == [(word, "line") for word in (0, 2, 5, 7, 9, 11, 13)]


def test_where_divisions_begin() -> None:
    flow = Flow(divisions="page", starts={2: "recto"})
    assert [each for each in starts(copy_of(TEXT, flow=flow)) if each[1] != "line"] == [(0, "page"), (11, "recto")]


def test_a_rubric_may_share_the_line_before_it_but_not_with_verse() -> None:
    text = "# One\nfirst words\n# Two\nmore\n| verse\n# Three\nend"
    shared = starts(copy_of(text, flow=Flow(rubrics="share")))
    assert [start for start, _ in shared] == [0, 1, 4, 5, 6, 7]


def test_paragraphs_that_run_on() -> None:
    text = "one two\n\nthree four\n\n| verse\n\nfive"
    assert starts(copy_of(text, flow=Flow(paragraphs="run on"))) == [(0, "line"), (4, "line"), (5, "line")]


def test_divisions_that_run_on_take_their_rubric_and_text_along() -> None:
    flow = Flow(divisions="run on", paragraphs="run on")
    assert starts(copy_of("# One\nfirst\n# Two\nsecond", flow=flow)) == [(0, "line")]
    assert len(starts(copy_of("# One\nfirst\n# Two\nsecond", flow=Flow(divisions="run on")))) == 1


def test_an_initial_begins_a_line_whatever_runs_on() -> None:
    copy = copy_of("one two\n\nthree four", flow=Flow(paragraphs="run on"), new_line_at=[2])
    assert starts(copy) == [(0, "line"), (2, "line")]


def test_an_initial_within_a_paragraph_breaks_its_line() -> None:
    copy = copy_of("one two three four\n\nfive six", new_line_at=[2, 4, 9])
    assert starts(copy) == [(0, "line"), (2, "line"), (4, "line")]
    assert copy.runs[1].kind == "prose"


def test_an_empty_exemplar() -> None:
    copy = copy_of("")
    assert (copy.pieces, copy.words, copy.letters, copy.mean, copy.runs) == (0, 0, 0, 1.0, ())
    assert (copy.piece(5), copy.word(0), copy.text(0, 0), copy.line_text(0, 0)) == (0, 0, [], "")


@pytest.mark.parametrize("word", [-5, -1, 10**30])
def test_positions_outside_the_text_give_its_ends(word: int) -> None:
    for copy in (copy_of("one two three"), copy_of("one two three", broken=True), lay_counts(COUNTED, Flow())):
        assert copy.piece(word) == (0 if word < 0 else copy.pieces)


def test_marks_over_letters_take_no_room() -> None:
    copy = copy_of("e\u0301te\u0301 \u200bford")
    assert (copy.letters, copy.mean, list(copy.sums)) == (9, 1.0, [0, 4, 9])


def test_words_broken_anywhere_are_pieces_of_one_letter() -> None:
    copy = copy_of("ford lay", broken=True)
    assert list(copy.sums) == [0, 1, 2, 3, 5, 6, 7, 9]
    assert [copy.word(piece) for piece in range(8)] == [0, 0, 0, 0, 1, 1, 1, 2]
    assert [copy.piece(word) for word in (0, 1, 2)] == [0, 4, 7]


def test_a_word_broken_across_two_pages_belongs_to_the_one_it_ends_on() -> None:
    copy = copy_of("the ford lay", broken=True)
    assert copy.text(0, 5) == ["the"]
    assert copy.text(5, copy.pieces) == ["ford", "lay"]
    assert copy.line_text(0, 5) == "the fo"
    assert copy.line_text(5, copy.pieces) == "rd lay"
    assert copy.line_text(4, 6) == "or"


def test_only_words_too_wide_for_any_line_are_broken_where_words_stay_whole() -> None:
    copy = copy_of("the extraordinarily ford", widest=10)
    assert copy.pieces == 1 + len("extraordinarily") + 1
    assert copy.line_text(0, 6) == "the extra"
    assert copy_of("the extraordinarily ford", widest=15).pieces == 3


def test_a_changed_text_is_laid_out_as_it_is_written() -> None:
    copy = copy_of("one two three four", changes=[Change(1, 3, "deux")])
    assert copy.text(0, copy.pieces) == ["one", "deux", "four"]
    assert [copy.word(piece) for piece in range(4)] == [0, 1, 3, 4]
    assert copy.words == 4


@given(texts, flows, st.booleans())
@settings(max_examples=80, deadline=None)
def test_pieces_and_words_agree_for_any_text(text: str, flow: Flow, broken: bool) -> None:
    copy = copy_of(text, flow=flow, broken=broken)
    assert [copy.word(copy.piece(word)) for word in range(copy.words + 1)] == list(range(copy.words + 1))
    assert list(copy.sums) == sorted(copy.sums)
    assert copy.text(0, copy.pieces) == text.replace("#", " ").replace("|", " ").split()
    assert [run.start for run in copy.runs] == sorted({run.start for run in copy.runs})
    assert bool(copy.runs) == bool(copy.pieces)
    if copy.runs:
        assert copy.runs[0].start == 0
        assert not any(run.start in copy.inner for run in copy.runs)


@given(texts, st.data())
@settings(max_examples=60, deadline=None)
def test_any_cuts_of_a_broken_text_join_to_the_text(text: str, data: st.DataObject) -> None:
    copy = copy_of(text, broken=True)
    cuts = sorted(data.draw(st.lists(st.integers(0, copy.pieces), max_size=6)))
    edges = [0, *cuts, copy.pieces]
    pairs = list(pairwise(edges))
    assert [word for start, end in pairs for word in copy.text(start, end)] == copy.text(0, copy.pieces)
    letters = "".join(copy.line_text(start, end) for start, end in pairs).replace(" ", "")
    assert letters == "".join(copy.text(0, copy.pieces))


COUNTED = (
    CountedDivision("On frost", words=240),
    CountedDivision("On thaw", letters=500),
    CountedDivision("End", lines=3),
)


def test_a_text_known_by_counts() -> None:
    copy = lay_counts(COUNTED, Flow(), exemplar_letters=40)
    letters = [round(240 * LETTERS_A_WORD), 500, 120]
    words = [240, round(500 / LETTERS_A_WORD), round(120 / LETTERS_A_WORD)]
    assert copy.letters == sum(letters)
    assert copy.words == sum(words)
    assert copy.pieces == 100 * sum(letters)
    assert starts(copy) == [(0, "line"), (100 * letters[0], "line"), (100 * sum(letters[:2]), "line")]
    assert copy.divisions == (0, words[0], sum(words[:2]))
    assert [copy.word(run.start) for run in copy.runs] == list(copy.divisions)
    assert copy.text(0, copy.pieces) == []
    assert copy.line_text(0, 100) == ""


def test_counted_divisions_begin_as_they_are_told() -> None:
    divisions = (
        CountedDivision("a", letters=10, starts="page"),
        CountedDivision("b", letters=10),
        CountedDivision("c", letters=10, starts="run on"),
        CountedDivision("d", letters=0),
        CountedDivision("e", letters=10),
    )
    copy = lay_counts(divisions, Flow(divisions="column", starts={5: "recto"}))
    assert copy.runs == (
        LineRun(0, "page", 1, "counted"),
        LineRun(1000, "column", 2, "counted"),
        LineRun(3000, "recto", 5, "counted"),
    )
    assert len(copy.divisions) == 5


@given(st.lists(st.integers(0, 3000), max_size=6), st.data())
def test_counted_words_and_pieces_agree(counts: list[int], data: st.DataObject) -> None:
    copy = lay_counts([CountedDivision("", words=count) for count in counts], Flow())
    assert copy.words == sum(counts)
    word = data.draw(st.integers(0, copy.words))
    assert copy.word(copy.piece(word)) == word
    piece = data.draw(st.integers(0, copy.pieces))
    assert 0 <= copy.word(piece) <= copy.words


def test_no_divisions_at_all() -> None:
    copy = lay_counts((), Flow())
    assert (copy.pieces, copy.words, copy.piece(4), copy.word(0)) == (0, 0, 0, 0)
