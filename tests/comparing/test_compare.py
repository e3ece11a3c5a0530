"""A page beside its exemplar: kinds, places, what to write instead, wrong places, pages partly typed."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.comparing.compare import compare
from copydesk.comparing.faults import KINDS
from copydesk.comparing.normalization import Allowances
from mill_text import FILLER, MILL, MILLER, copied_without, only


def test_a_true_copy_is_clean() -> None:
    outcome = compare(MILL, MILL, 0)
    assert outcome.clean
    assert outcome.sentence == f"no fault in {len(MILL)} words"
    assert (outcome.began, outcome.reached) == (0, len(MILL))


@pytest.mark.parametrize("place", [0, 150, 340])
def test_a_page_from_another_place_offers_that_place(place: int) -> None:
    exemplar = MILL + FILLER
    outcome = compare(exemplar[place : place + 60], exemplar, 230)
    assert outcome.wrong_place is not None
    assert outcome.wrong_place.word == place
    assert not outcome.clean
    assert outcome.faults == ()
    assert str(place) in outcome.sentence


def test_a_far_place_is_found_in_a_long_exemplar() -> None:
    exemplar = [f"w{number}" for number in range(9000)]
    outcome = compare(exemplar[8000:8060], exemplar, 100)
    assert outcome.wrong_place is not None
    assert outcome.wrong_place.word == 8000


def test_words_that_are_nowhere_in_the_exemplar() -> None:
    outcome = compare([f"other{number}" for number in range(40)], MILL, 0)
    assert not outcome.clean
    assert outcome.wrong_place is None
    assert "nothing like this copy" in outcome.sentence


def test_many_faults_in_the_right_place_ask_after_the_allowances() -> None:
    copied = [word if at % 3 else f"{word}xx" for at, word in enumerate(MILL)]
    outcome = compare(copied, MILL, 0)
    assert outcome.wrong_place is None
    assert len(outcome.faults) > len(MILL) // 4
    assert "allowed spellings" in outcome.sentence


def test_a_whole_page_must_reach_its_end() -> None:
    assert compare(MILL[:40], MILL, 0, whole=True).clean
    assert only(compare(MILL[:40], MILL, 0, whole=True, end=43)) == ("omission", 40, "", " ".join(MILL[40:43]))
    assert compare(MILL[:40], MILL, 0, end=43).clean


def test_places_of_faults() -> None:
    copied = copied_without(MILLER, MILLER + 2)
    (fault,) = compare(copied, MILL, 0, places=[(2, at // 5 + 1) for at in range(len(copied))]).faults
    assert (fault.column, fault.line) == (2, (MILLER - 1) // 5 + 1)
    (unplaced,) = compare(copied, MILL, 0).faults
    assert (unplaced.column, unplaced.line) == (0, 0)
    (short,) = compare(copied, MILL, 0, places=[(1, 9)]).faults
    assert (short.column, short.line) == (1, 9)


def test_marks_alone_are_passed_over_and_come_back_in_the_words() -> None:
    exemplar = [*MILL[:15], "¶", *MILL[15:]]
    assert compare(MILL, exemplar, 0).clean
    (fault,) = compare([*MILL[:14], *MILL[17:]], exemplar, 0).faults
    assert fault.should == f"{MILL[14]} ¶ {MILL[15]} {MILL[16]}"


def test_pointing_counts_where_the_workshop_says_so() -> None:
    copied = " ".join(MILL).replace("open,", "open").split()
    assert compare(copied, MILL, 0).clean
    (fault,) = compare(copied, MILL, 0, allow=Allowances(punctuation=False)).faults
    assert (fault.kind, fault.cause) == ("substitution", "pointing or capitals")


@pytest.mark.parametrize("copied", [[], ["·", "¶"]])
def test_nothing_to_compare(copied: list[str]) -> None:
    outcome = compare(copied, MILL, 30)
    assert outcome.clean
    assert (outcome.words, outcome.began, outcome.reached) == (0, 30, 30)


def test_an_exemplar_without_words_or_a_start_past_its_end() -> None:
    assert not compare(["frost"], [], 0).clean
    assert not compare(["frost"], MILL, 5000).clean


WORDS = st.lists(st.sampled_from(["et", "aqua", "magna", "aquam", "a", "m", "non", "nona", "&", "·"]), max_size=30)


@settings(max_examples=120, deadline=None)
@given(WORDS, WORDS, st.integers(0, 30), st.booleans())
def test_any_words_can_be_compared(copied: list[str], exemplar: list[str], start: int, whole: bool) -> None:
    outcome = compare(copied, exemplar, start, whole=whole, exemplar_lines=range(0, len(exemplar), 5))
    assert all(fault.kind in KINDS and fault.sentence for fault in outcome.faults)
    assert all(0 <= fault.at <= len(copied) and 0 <= fault.word <= len(exemplar) for fault in outcome.faults)
    assert 0 <= outcome.began <= outcome.reached <= len(exemplar)


@settings(max_examples=80, deadline=None)
@given(WORDS, st.integers(0, 30))
def test_words_beside_themselves_are_clean(exemplar: list[str], start: int) -> None:
    assert compare(exemplar[start:], exemplar, start).clean
