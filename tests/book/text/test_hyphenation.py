"""Where words may be broken by the language's rules."""

from __future__ import annotations

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.text.hyphenation import anywhere, divider


def test_an_english_word_is_broken_between_its_syllables() -> None:
    cuts = divider("en")("parchment")
    assert [("parchment"[:cut], "parchment"[cut:]) for cut in cuts] == [("parch", "ment")]


@pytest.mark.parametrize("word", ["", "a", "ox", "—", "漢字", "123"])
def test_some_words_cannot_be_broken(word: str) -> None:
    assert not divider("en")(word)


def test_cuts_lie_inside_the_word_and_rise() -> None:
    divide = divider("en_GB")
    for word in ("manuscript", "illumination", "gathering,", "Mississippi"):
        cuts = list(divide(word))
        assert cuts == sorted(set(cuts))
        assert all(0 < cut < len(word) for cut in cuts)


@pytest.mark.parametrize("language", ["xx", "tlh", ""])
def test_a_language_without_rules_is_refused(language: str) -> None:
    with pytest.raises(CopydeskError, match="no rules are known for breaking words"):
        divider(language)


def test_anywhere_is_between_any_two_letters() -> None:
    assert list(anywhere("ford")) == [1, 2, 3]
    assert list(anywhere("")) == list(anywhere("a")) == []


def test_a_mark_is_not_parted_from_its_letter() -> None:
    assert [("e\u0301tude"[:cut], "e\u0301tude"[cut:]) for cut in anywhere("e\u0301tude")][:2] == [
        ("e\u0301", "tude"),
        ("e\u0301t", "ude"),
    ]
    assert list(anywhere("\u0301\u0302")) == []
