"""Words looked for near the place where they are expected."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.common.errors import AmbiguousError, CopydeskError, WordsNotFoundError
from copydesk.book.text.word_search import bare, find_begun, find_words

WORDS = ("the ford lay under snow and the mill " * 3 + "stood alone beyond the ford").split()


def test_the_nearest_place_is_found() -> None:
    assert find_words(WORDS, "the ford", 0) == 0
    assert find_words(WORDS, "the ford", 27) == 27
    assert find_words(WORDS, "stood alone", 3) == 24


def test_case_and_points_do_not_matter() -> None:
    assert find_words(["“Well,”", "said", "he;"], "WELL said he", 0) == 0
    assert bare("“Ford,”") == "ford"
    assert bare("…") == "…"


def test_what_stands_exactly_where_expected_is_meant() -> None:
    words = ["a", "b", "a", "b", "a", "b"]
    assert find_words(words, "a b", 2) == 2


def test_places_about_equally_near_are_not_guessed_between() -> None:
    words = ("snow " * 5 + "and the ford " + "snow " * 4 + "and the ford").split()
    with pytest.raises(CopydeskError, match=r'"the ford" fits equally well in 2 places: .*; give more words'):
        find_words(words, "the ford", 9)


def test_a_place_well_nearer_than_any_other_is_taken() -> None:
    words = ["ford", *["snow"] * 30, "ford"]
    assert find_words(words, "ford", 3) == 0


def test_places_before_the_beginning_count_only_where_there_is_no_other() -> None:
    words = ["ford", *["snow"] * 10, "ford", *["snow"] * 30]
    assert find_words(words, "ford", 1, least=1) == 11
    assert find_words(words[:11], "ford", 5, least=1) == 0


def test_beyond_reach_the_whole_text_is_looked_through() -> None:
    words = ["snow"] * 50 + ["ford"]
    assert find_words(words, "ford", 0, reach=5) == 50


@pytest.mark.parametrize("phrase", ["", "   "])
def test_no_words_are_refused(phrase: str) -> None:
    with pytest.raises(CopydeskError, match="no words were given"):
        find_words(WORDS, phrase, 0)


def test_words_that_are_not_there_are_refused() -> None:
    with pytest.raises(CopydeskError, match="does not stand in the exemplar"):
        find_words(WORDS, "the river", 0)
    with pytest.raises(CopydeskError, match="does not stand in the exemplar"):
        find_words([], "ford", 0)


@given(st.lists(st.sampled_from("abc"), min_size=1, max_size=40), st.data())
def test_words_found_are_those_looked_for(words: list[str], data: st.DataObject) -> None:
    start = data.draw(st.integers(0, len(words) - 1))
    length = data.draw(st.integers(1, len(words) - start))
    phrase = words[start : start + length]
    assert find_words(words, " ".join(phrase), start) == start
    near = data.draw(st.integers(-5, 60))
    try:
        found = find_words(words, " ".join(phrase), near)
    except CopydeskError as refused:
        assert "give more words" in str(refused)
    else:
        assert words[found : found + length] == phrase
        nearer = [
            at for at in range(len(words)) if words[at : at + length] == phrase and abs(at - near) < abs(found - near)
        ]
        assert not nearer


def test_a_likely_place_goes_before_a_nearer_one_that_is_not() -> None:
    words = [f"w{at}" for at in range(60)]
    words[10] = words[40] = "the"
    assert find_words(words, "the", 12) == 10
    assert find_words(words, "the", 12, likely=range(30, 41)) == 40
    assert find_words(words, "the w41", 12, likely=range(40, 41)) == 40
    assert find_words(words, "the w11", 40, likely=range(30, 50)) == 10


def test_a_few_letters_find_a_word_that_stands_once() -> None:
    words = ["the", "river,", "and", "the", "Ferryman", "said:", "the", "rope"]
    assert find_begun(words, "ferr") == 4
    assert find_begun(words, "the ro") == 6
    assert find_begun(words, "and the") == 2
    with pytest.raises(AmbiguousError, match="stands in 3 places: word 0"):
        find_begun(words, "th")
    with pytest.raises(WordsNotFoundError):
        find_begun(words, "mill")
