"""Widths of letters and words."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.text.letter_widths import EQUAL, RELATIVE, WordWidths, letter_count, natural_width, width_table

WORDS = st.text(st.characters(exclude_categories=["Zs", "Zl", "Zp", "Cs"]), min_size=1, max_size=12)


def test_a_word_is_as_wide_as_its_letters() -> None:
    assert RELATIVE.width_of("mill") == pytest.approx(1.78 + 3 * 0.64, abs=0.002)
    assert EQUAL.width_of("mill") == 4


def test_equal_counts_letters_and_word_spaces() -> None:
    assert EQUAL.space == 1
    assert EQUAL.width_of("the ford below") == 14
    assert natural_width(["the", "ford", "below"], WordWidths(EQUAL)) == 14
    assert letter_count(["the", "ford", "below"]) == 14


@pytest.mark.parametrize(
    ("accented", "plain"), [("é", "e"), ("Ǻ", "A"), ("n\u0303", "n"), ("ﬁ", "fi"), ("q\u0305", "q"), ("Ǉ", "LJ")]
)
def test_an_accented_letter_takes_the_room_of_its_base(accented: str, plain: str) -> None:
    assert RELATIVE.width_of(accented) == RELATIVE.width_of(plain)


@pytest.mark.parametrize("unseen", ["\u0301", "\u200b", "\u00ad", "\u200d", "\u0007", "\u05b0"])
def test_what_takes_no_room_counts_nothing(unseen: str) -> None:
    assert RELATIVE.width_of(unseen) == 0
    assert EQUAL.width_of(unseen) == 0


@pytest.mark.parametrize("wide", ["漢", "カ", "한", "Ａ"])
def test_wide_characters_count_double(wide: str) -> None:
    assert RELATIVE.width_of(wide) == 2
    assert EQUAL.width_of(wide) == 1


def test_letters_of_other_alphabets_are_average() -> None:
    assert RELATIVE.width_of("жλש") == 3
    assert RELATIVE.width_of("Ж") > 1.5


def test_the_words_table_leaves_out_the_space_after_the_word() -> None:
    widths = WordWidths(RELATIVE)
    assert widths["ford"] == RELATIVE.width_of("ford")
    assert widths["the"] + widths.space + widths["ford"] == RELATIVE.width_of("the ford")
    assert set(widths) == {"the", "ford"}


def test_tables_by_name() -> None:
    assert width_table("relative") is RELATIVE
    assert width_table("equal") is EQUAL


def mean_width(words: list[str], widths: WordWidths) -> float:
    """The mean width of a letter or word-space in these words; 1 in ordinary English."""
    return natural_width(words, widths) / letter_count(words)


def test_no_words_have_no_width() -> None:
    assert natural_width([], WordWidths(RELATIVE)) == 0


def test_mean_width_tells_a_wide_text_from_a_narrow_one() -> None:
    widths = WordWidths(RELATIVE)
    assert mean_width(["MAMMOTH", "WOMEN"], widths) > 1.5
    assert mean_width(["till", "I", "fill", "it"], widths) < 0.8
    assert mean_width(["till", "I", "fill", "it"], WordWidths(EQUAL)) == 1


@given(st.lists(WORDS, max_size=20))
@settings(max_examples=60)
def test_widths_add_up_without_rounding(words: list[str]) -> None:
    widths = WordWidths(RELATIVE)
    one_by_one = 0.0
    for word in words:
        one_by_one += widths[word]
    assert one_by_one == sum(widths[word] for word in reversed(words))
    assert natural_width(words, widths) == RELATIVE.width_of(" ".join(words))


@given(WORDS)
@settings(max_examples=60)
def test_composed_and_decomposed_spellings_are_equally_wide(word: str) -> None:
    composed, decomposed = (unicodedata.normalize(form, word) for form in ("NFC", "NFD"))
    if not any(unicodedata.east_asian_width(letter) in "WF" for letter in composed + decomposed):
        assert RELATIVE.width_of(composed) == RELATIVE.width_of(decomposed)
