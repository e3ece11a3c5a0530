"""Places of a text known by its counts only."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.flow import CountedDivision, Flow
from copydesk.book.text.counted_places import first_at, first_place, last_at, last_place, letters_doubt
from copydesk.book.text.counted_text import lay_counts

FROST = CountedDivision("On frost", words=800)
THAW = CountedDivision("On thaw", letters=5700)
REEDS = CountedDivision("On reeds", lines=100)
NOTHING = CountedDivision("Left out", words=0)
DIVISIONS = (FROST, THAW, NOTHING, REEDS)
COPY = lay_counts(DIVISIONS, Flow(), exemplar_letters=57.0)


@pytest.mark.parametrize(
    ("said", "near", "end"),
    [
        ("division 1 word 1", 0, 1),
        ("Division 1, word 800", 0, 800),
        ("word 12", 30, 12),
        ("word 12", 900, 812),
        ("division 1 letter 2280", 0, 400),
        ("division 2 letter 570", 0, 900),
        ("division 2 end", 0, 1800),
        ("end", 5, 800),
        ("division 4 line 50", 0, 2300),
        ("line 100", 2000, 2800),
    ],
)
def test_the_text_is_found_to_its_end(said: str, near: int, end: int) -> None:
    assert last_at(COPY, DIVISIONS, said, near) == end


def test_what_begins_at_a_place_begins_with_it() -> None:
    assert first_at(COPY, DIVISIONS, "division 1 word 1", 0) == 0
    assert first_at(COPY, DIVISIONS, "division 2 word 1", 0) == 800
    assert first_at(COPY, DIVISIONS, "line 51", 2000) == 2300


def test_places_are_told_in_the_unit_they_were_counted_in() -> None:
    assert last_place(COPY, DIVISIONS, 812) == "division 2 letter 68"
    assert last_place(COPY, DIVISIONS, 800) == "division 1 end"
    assert first_place(COPY, DIVISIONS, 800) == "division 2 letter 1"
    assert first_place(COPY, DIVISIONS, 2300) == "division 4 line 51"


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ("the frost lay long", "known by its counts only"),
        ("word", "is no place in it"),
        ("word -3", "is no place in it"),
        ("division 7 word 1", "the text has divisions 1 to 4"),
        ("division 1 word 801", "has words 1 to 800, so there is no word 801"),
        ("division 1 word 0", "there is no word 0"),
        ("division 1 line 3", "is not counted in lines"),
        ("division 3 word 1", "is not counted in words"),
    ],
)
def test_what_is_no_place_is_refused_in_a_sentence(said: str, why: str) -> None:
    with pytest.raises(CopydeskError, match=why):
        last_at(COPY, DIVISIONS, said, 0)


def test_nothing_begins_where_a_division_ends() -> None:
    with pytest.raises(CopydeskError, match="where a division ends"):
        first_at(COPY, DIVISIONS, "division 1 end", 0)


def test_the_fewer_words_the_less_sure_their_letters() -> None:
    few, many = (letters_doubt(COPY, DIVISIONS, 0, words) / words for words in (50, 800))
    assert few == pytest.approx(4 * many)
    assert letters_doubt(COPY, DIVISIONS, 850, 900) == 0  # letters were counted
    assert letters_doubt(COPY, DIVISIONS, 1900, 2300) == pytest.approx(57 / math.sqrt(6))


def test_a_text_of_nothing_has_only_its_end() -> None:
    copy = lay_counts((NOTHING,), Flow())
    assert last_at(copy, (NOTHING,), "end", 0) == 0
    assert last_place(copy, (NOTHING,), 0) == "division 1 end"
    assert first_place(copy, (NOTHING,), 0) == "division 1 word 1"


@given(st.integers(0, 1799))
@settings(max_examples=60)
def test_what_is_told_is_read_back(word: int) -> None:
    assert last_at(COPY, DIVISIONS, last_place(COPY, DIVISIONS, word + 1), 0) == word + 1
    assert first_at(COPY, DIVISIONS, first_place(COPY, DIVISIONS, word), 0) == word


@given(st.text(max_size=30), st.integers(-5, 5000))
@settings(max_examples=60)
def test_whatever_is_said_gives_a_word_of_the_text_or_a_sentence(said: str, near: int) -> None:
    try:
        found = last_at(COPY, DIVISIONS, said, near)
    except CopydeskError as refused:
        assert str(refused)
    else:
        assert 0 <= found <= COPY.words
