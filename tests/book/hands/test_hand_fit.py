"""Fitting a hand's set to its pages."""

from __future__ import annotations

import math
import random
from bisect import bisect_right
from dataclasses import replace
from itertools import accumulate

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.hands.hand_filter import unseen
from copydesk.book.hands.hand_fit import (
    Usage,
    capacity_from_end,
    capacity_from_usage,
    from_pages,
    moved,
    ragged_loss,
    weighted_mean,
)
from copydesk.book.hands.hand_set import LASTS, STATED_DOUBT, HandSet
from copydesk.book.text.letter_widths import EQUAL, RELATIVE, WordWidths

TEXT = (
    "the mill by the ford had stood idle since the frost and nobody in the village could say who held the key "
    "nor why the wheel which had turned through three dry summers should stop in a wet spring and so they went "
    "down one evening with lanterns and a ladder to look over the wall and saw that the race was full of reeds "
)
WORDS = (TEXT * 6).split()


class Text:
    """Words to be cast by filling each line, told apart from the caster that is being built."""

    def __init__(self, words: list[str], widths: WordWidths) -> None:
        self.space = widths.space
        self.sums = [0.0, *accumulate(widths[word] + widths.space for word in words)]

    def held(self, letters: float, lines: int, start: int = 0) -> int:
        at = start
        for _ in range(lines):
            end = bisect_right(self.sums, self.sums[at] + letters + self.space, at) - 1
            at = min(max(end, at + 1), len(self.sums) - 1)
        return at - start

    def needed(self, letters: float, words: int) -> int:
        lines = at = 0
        while at < words:
            at += self.held(letters, 1, at)
            lines += 1
        return lines


def full_pages(letters: float, pages: int, lines: int = 20) -> list[Usage]:
    return [Usage(lines, letters - 0.05, letters + 0.05) for _ in range(pages)]


@given(st.floats(18, 60), st.integers(2, 12))
@settings(max_examples=50, deadline=None)
def test_the_capacity_found_casts_the_page_as_it_fell(letters: float, lines: int) -> None:
    text = Text(WORDS, WordWidths(RELATIVE))
    words = text.held(letters, lines)
    found = capacity_from_end(lambda room: text.held(room, lines), words, lines, about=30)
    assert found.low <= letters * 1.0002
    assert letters <= found.high
    assert text.held(found.middle, lines) == words
    assert found.high - found.low < 12


@given(st.floats(18, 60), st.integers(20, 200))
@settings(max_examples=50, deadline=None)
def test_the_line_count_alone_says_less(letters: float, words: int) -> None:
    text = Text(WORDS, WordWidths(RELATIVE))
    lines = text.needed(letters, words)
    found = capacity_from_usage(lambda room: text.needed(room, words), lines, about=30)
    assert found.low <= letters * 1.0002
    assert letters <= found.high * 1.0002


def test_lines_that_were_all_short_say_nothing() -> None:
    verse = capacity_from_usage(lambda _: 4, 4, about=30)
    assert verse.high == math.inf or verse.low == 0.0
    assert not verse.tells
    assert from_pages(HandSet.from_letters(30), [verse]) == HandSet.from_letters(30)


def test_one_word_a_line_says_nothing_of_how_little_would_do() -> None:
    found = capacity_from_usage(lambda letters: 3 if letters < 25 else 2, 3, about=30)
    assert found.low == 0.0
    assert not found.tells


def test_a_capacity_far_from_where_one_looked_is_found() -> None:
    found = capacity_from_usage(lambda letters: math.ceil(600 / letters), 5, about=8)
    assert found.low == pytest.approx(120, rel=2e-4)
    assert found.high == pytest.approx(150, rel=2e-4)


def test_the_ragged_end_is_half_a_word_where_all_words_are_alike() -> None:
    assert ragged_loss(["milled"] * 9, WordWidths(EQUAL)) == 3.5
    assert ragged_loss([], WordWidths(EQUAL)) == 0


def test_a_wide_word_counts_more_in_the_ragged_end() -> None:
    widths = WordWidths(EQUAL)
    assert ragged_loss(["a", "abcdefghijklm"], widths) > ragged_loss(["abcdefg", "abcdefg"], widths)


def test_the_first_page_already_moves_the_guess() -> None:
    before = HandSet.from_letters(34)
    after = from_pages(before, full_pages(31, 1))
    assert after.source == "pages"
    assert after.pages == 1
    assert 31 < after.letters_per_line < 32.5


def test_pages_outweigh_the_guess_in_the_end() -> None:
    before = HandSet.from_letters(34)
    after = from_pages(before, full_pages(31, 10))
    assert after.letters_per_line == pytest.approx(31, abs=0.1)
    assert after.low < 31 < after.high
    assert after.high - after.low < 1.3


def test_a_vague_guess_gives_way_sooner_than_a_stated_figure() -> None:
    vague = HandSet.from_script(nib=0.4, x_height=4.5, measure=60)
    stated = HandSet.from_letters(vague.letters_per_line)
    page = full_pages(31, 1)
    assert abs(from_pages(vague, page).letters_per_line - 31) < abs(from_pages(stated, page).letters_per_line - 31)


def test_a_short_stretch_weighs_less_than_a_page() -> None:
    before = HandSet.from_letters(32)
    mostly_wide = [Usage(30, 29.9, 30.1), Usage(5, 33.9, 34.1)]
    assert from_pages(before, mostly_wide).letters_per_line < 32


def test_a_page_that_says_little_weighs_little() -> None:
    before = HandSet.from_letters(32)
    sharp_and_blunt = [Usage(30, 29.9, 30.1), Usage(30, 24, 44)]
    assert from_pages(before, sharp_and_blunt).letters_per_line < 31


def test_pages_of_another_measure_carry_over() -> None:
    before = HandSet.from_letters(34, measure=60, nib=0.5)
    there = [Usage(20, 61.9, 62.1, measure=120, nib=0.5)] * 6
    assert from_pages(before, there).letters_per_line == pytest.approx(31, abs=0.2)
    finer = [Usage(20, 61.9, 62.1, measure=60, nib=0.25)] * 6
    assert from_pages(before, finer).letters_per_line == pytest.approx(31, abs=0.2)


def test_a_steady_hand_does_not_move() -> None:
    wobble = [31.2, 30.8, 31.1, 30.9, 31.2, 30.8, 31.0, 31.1, 30.9]
    hand = from_pages(HandSet.from_letters(31), [Usage(20, each, each + 0.1) for each in wobble])
    assert hand.per_page == 0
    assert hand.letters_per_line == pytest.approx(31.05, abs=0.15)


def test_a_hand_that_closes_up_is_followed() -> None:
    closing = [Usage(20, 28 + 0.4 * page, 28.1 + 0.4 * page) for page in range(12)]
    hand = from_pages(HandSet.from_letters(28), closing)
    assert hand.per_page == pytest.approx(0.4, abs=0.02)
    assert hand.letters_per_line == pytest.approx(28.05 + 0.4 * 12, abs=0.2)


def test_how_it_moved_ends_where_it_stands() -> None:
    before = HandSet.from_letters(34)
    pages = full_pages(31, 3) + full_pages(32, 3)
    path = moved(before, pages)
    assert [hand.pages for hand in path] == [1, 2, 3, 4, 5, 6]
    assert path[-1] == from_pages(before, pages)
    assert moved(before, pages, last=2) == path[-2:]
    assert moved(before, []) == ()


def test_a_long_book_is_looked_back_on_only_so_far() -> None:
    hand = from_pages(HandSet.from_letters(34), full_pages(38, 100) + full_pages(31, 240))
    assert hand.pages == 340
    assert hand.letters_per_line == pytest.approx(31, abs=0.01)


def test_no_pages_leave_the_set_as_it_was() -> None:
    before = HandSet.from_letters(34)
    assert from_pages(before, []) == before
    assert from_pages(before, [Usage(0, 20, 21)]) == before


def test_a_hand_never_seen_is_less_sure_over_many_pages_than_over_few() -> None:
    before = HandSet.from_letters(34)
    unknown = replace(before, ahead=unseen(before))
    assert unknown.over(1).sd == pytest.approx(STATED_DOUBT)
    assert unknown.over(60).sd > unknown.over(10).sd > unknown.over(1).sd


def test_a_hand_seen_to_move_is_expected_to_go_on_for_a_while() -> None:
    pages = [Usage(30, letters, letters + 0.1) for letters in (34 * 1.005**page for page in range(40))]
    closer = from_pages(HandSet.from_letters(34), pages)
    assert 0.02 < closer.over(20).mean < 0.005 * 9.5
    assert closer.over(20).mean < closer.over(60).mean < 0.005 / (1 - LASTS)


def test_a_steady_hand_is_surer_of_what_is_to_come_than_one_that_wanders() -> None:
    before, level, chance = HandSet.from_letters(34), 34.0, random.Random(4)
    steady, wandering = [], []
    for _ in range(40):
        level *= chance.gauss(1, 0.02)
        steady.append(Usage(30, *(2 * [34 * chance.gauss(1, 0.01)])))
        wandering.append(Usage(30, *(2 * [level * chance.gauss(1, 0.01)])))
    assert from_pages(before, steady).over(40).sd < 0.5 * from_pages(before, wandering).over(40).sd


@given(st.lists(st.floats(20, 50), min_size=1, max_size=9), st.floats(0.1, 10))
@settings(max_examples=40)
def test_the_unit_does_not_matter(letters: list[float], factor: float) -> None:
    before = HandSet.from_letters(30)
    pages = [Usage(20, each, each + 0.2) for each in letters]
    scaled = [Usage(20, each * factor, (each + 0.2) * factor) for each in letters]
    found, other = from_pages(before, pages), from_pages(before.scaled(factor), scaled)
    assert other.letters_per_line == pytest.approx(found.letters_per_line * factor)
    assert other.error == pytest.approx(found.error * factor, rel=1e-6)


def test_a_mean_of_equals_has_the_scatter_assumed_until_told() -> None:
    one = weighted_mean([30.0], [0.25])
    assert one.value == 30
    assert one.error == pytest.approx(0.5)
    assert weighted_mean([30.0] * 8, [0.25] * 8).error < 0.5 / math.sqrt(8)
