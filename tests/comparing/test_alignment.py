"""Laying words beside words: every word used once, runs in order, the exemplar free to go on."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.comparing.alignment import MatchingRun, align, chain, locate, shared_runs
from copydesk.comparing.word_alignment import AlignedRun, align_words

FEW_WORDS = st.lists(st.sampled_from(["a", "b", "ab", "ba", "abba", "c", "cab"]), max_size=14)
TEXT = [f"w{number}" for number in range(300)]


def assert_steps_meet(steps: list[AlignedRun], copy: list[str], text: list[str], begin: int | None = None) -> None:
    """Steps use up the copy, follow one another without a gap, and hold what they say."""
    at, place = 0, steps[0].text_from if steps else 0
    for step in steps:
        assert (step.copy_from, step.text_from) == (at, place)
        at, place = step.copy_to, step.text_to
        copied, right = copy[step.copy_from : step.copy_to], text[step.text_from : step.text_to]
        if step.what == "same":
            assert copied == right
        elif step.what in ("joined", "divided"):
            assert "".join(copied) == "".join(right)
        elif step.what == "changed":
            assert len(copied) == len(right) == 1
            assert copied != right
        else:
            assert (len(copied) == 0) == (step.what == "missing")
            assert (len(right) == 0) == (step.what == "added")
    assert at == len(copy)


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
