"""Laying words beside words: every word used once, runs in order, the exemplar free to go on."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.comparing.alignment import MatchingRun, align, chain, locate, shared_runs
from copydesk.comparing.word_alignment import align_words
from mill_text import FEW_WORDS, TEXT, assert_steps_meet


@settings(max_examples=100, deadline=None)
@given(FEW_WORDS, FEW_WORDS, st.integers(0, 14))
def test_aligned_words_meet_end_to_end(copy: list[str], text: list[str], start: int) -> None:
    assert_steps_meet(align(copy, text, min(start, len(text))), copy, text)


@settings(max_examples=60, deadline=None)
@given(FEW_WORDS)
def test_the_same_words_agree(words: list[str]) -> None:
    assert {step.what for step in align_words(words, words)} <= {"same"}


def test_runs_hold_the_page_over_a_long_loss() -> None:
    runs = chain(shared_runs(TEXT[:20] + TEXT[250:270], TEXT), 0)
    assert runs == [MatchingRun(0, 0, 20), MatchingRun(20, 250, 20)]


def test_a_few_words_far_off_do_not_draw_the_page_there() -> None:
    copy = [*TEXT[:20], *TEXT[200:203], *TEXT[20:40]]
    assert [run.place for run in chain(shared_runs(copy, TEXT), 0)] == [0, 20]


def test_runs_never_overlap_where_words_are_written_twice() -> None:
    copy = TEXT[:30] + TEXT[20:50]
    runs = chain(shared_runs(copy, TEXT), 0)
    assert sum(run.length for run in runs) == 50
    assert all(one.place + one.length <= other.place for one, other in pairwise(runs))


@pytest.mark.parametrize("place", [0, 137, 380])
def test_words_are_located_though_some_are_wrong(place: int) -> None:
    text = [f"w{number}" for number in range(400)]
    copied = [*text[place : place + 8], "slip", *text[place + 8 : place + 20]]
    assert locate(copied, text) in range(place - 1, place + 1)


def test_words_of_no_place_are_not_located() -> None:
    text = [f"w{number}" for number in range(400)]
    assert locate([f"v{number}" for number in range(20)], text) is None
    assert locate(["w1", "w2"], text) is None
    assert locate([], text) is None
