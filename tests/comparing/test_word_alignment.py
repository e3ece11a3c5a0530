"""Short stretches aligned word by word."""

from __future__ import annotations

from hypothesis import example, given, settings

from copydesk.comparing.word_alignment import MOST_CELLS, align_words
from mill_text import FEW_WORDS, TEXT, assert_steps_meet


@settings(max_examples=150, deadline=None)
@given(FEW_WORDS, FEW_WORDS)
@example(["a", "a", "a", "ab", "a"], ["b", "b", "b", "ab"])
def test_words_paired_meet_end_to_end(copy: list[str], text: list[str]) -> None:
    steps = align_words(copy, text)
    assert_steps_meet(steps, copy, text)
    assert sum(step.text_to - step.text_from for step in steps) == len(text)


@settings(max_examples=100, deadline=None)
@given(FEW_WORDS, FEW_WORDS)
def test_an_open_end_leaves_words_over_and_never_loses_them(copy: list[str], text: list[str]) -> None:
    steps = align_words(copy, text, open_end=True)
    assert_steps_meet(steps, copy, text)
    assert not steps or steps[-1].what != "missing"


def test_one_gap_is_preferred_to_two() -> None:
    text = ["the", "eel", "the", "reed", "the", "sluice", "stood"]
    steps = align_words(["the", "sluice", "stood"], text)
    assert [step.what for step in steps if step.what != "same"] == ["missing"]


def test_two_words_changed_do_not_sweep_away_what_agrees_between() -> None:
    steps = align_words(["x", "b", "y"], ["a", "b", "c"])
    assert [step.what for step in steps] == ["changed", "same", "changed"]


def test_long_stretches_are_paired_by_words() -> None:
    copy = [f"c{number}" if number % 3 else f"w{number}" for number in range(70)]
    assert len(copy) * len(copy) > MOST_CELLS
    steps = align_words(copy, TEXT[:70])
    assert_steps_meet(steps, copy, TEXT[:70])
    assert sum(step.copy_to - step.copy_from for step in steps if step.what == "same") == 24
