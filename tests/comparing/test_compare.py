"""A page beside its exemplar: kinds, places, what to write instead, wrong places, pages partly typed."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.comparing.compare import compare
from copydesk.comparing.faults import KINDS, Comparison
from copydesk.comparing.normalization import Allowances

PROSE = (
    "When the frost came down to the mill the wheel stood still and the miller went out with a lantern to see "
    "whether the ice had taken hold of the lower sluice or only of the pond above it. He found the sluice open, "
    "the water running black beneath a skin of ice, and beside the water a heron that had waited all night for "
    "the thaw. Nobody in the valley would believe him afterwards, though he swore to it on his mother's spoons. "
    "In the spring the heron came again, and brought another, and they built in the dead ash behind the barn."
)
MILL = PROSE.split()
LINES = (0, 11, 22, 33, 44, 55, 66, 77, 88)
FILLER = [f"word{number}" for number in range(400)]


def copied_without(begin: int, end: int) -> list[str]:
    return MILL[:begin] + MILL[end:]


MILLER, WHEEL, LANTERN = MILL.index("miller"), MILL.index("wheel"), MILL.index("lantern")


def only(outcome: Comparison) -> tuple[str, int, str, str]:
    """Kind, word, what stands and what should of the one fault."""
    (fault,) = outcome.faults
    return fault.kind, fault.word, fault.stands, fault.should


def test_a_true_copy_is_clean() -> None:
    outcome = compare(MILL, MILL, 0)
    assert outcome.clean
    assert outcome.sentence == f"no fault in {len(MILL)} words"
    assert (outcome.began, outcome.reached) == (0, len(MILL))


def test_omission() -> None:
    assert only(compare(copied_without(MILLER, MILLER + 2), MILL, 0)) == ("omission", MILLER, "", "miller went")


def test_eye_skip_to_the_same_word() -> None:
    heron, again = MILL.index("heron"), MILL.index("heron", MILL.index("heron") + 1)
    outcome = compare(copied_without(heron + 1, again + 1), MILL, 0)
    kind, word, stands, should = only(outcome)
    assert (kind, word, stands) == ("eye-skip", heron + 1, "")
    assert should == " ".join(MILL[heron + 1 : again + 1])
    assert outcome.faults[0].cause == "same word"
    assert 'leapt from "heron" to the next "heron"' in outcome.faults[0].sentence


@pytest.mark.parametrize(
    ("exemplar", "copy", "cause"),
    [
        (
            "she told of the nation and of every relation they had",
            "she told of the nation they had",
            "like ending",
        ),
        ("he took one lantern and oil to the lantana in a barn", "he took one lantana in a barn", "like beginning"),
    ],
)
def test_eye_skip_to_a_like_word(exemplar: str, copy: str, cause: str) -> None:
    (fault,) = compare(copy.split(), exemplar.split(), 0).faults
    assert (fault.kind, fault.cause) == ("eye-skip", cause)


def test_a_skip_at_the_pages_head_goes_back_to_the_page_before() -> None:
    heron, again = MILL.index("heron"), MILL.index("heron", MILL.index("heron") + 1)
    outcome = compare(MILL[again + 1 :], MILL, heron + 1)
    assert only(outcome)[:2] == ("eye-skip", heron + 1)


def test_repetition_places_the_second_writing() -> None:
    outcome = compare(MILL[:20] + MILL[15:], MILL, 0)
    assert only(outcome) == ("repetition", 20, " ".join(MILL[15:20]), "")
    assert outcome.faults[0].at == 20


def test_a_page_that_repeats_the_end_of_the_page_before() -> None:
    outcome = compare(MILL[25:60], MILL, 32)
    assert only(outcome) == ("repetition", 25, " ".join(MILL[25:32]), "")
    assert outcome.began == 25


def test_haplography() -> None:
    exemplar = [*MILL[:10], "slow", "slow", *MILL[10:]]
    assert only(compare([*MILL[:10], "slow", *MILL[10:]], exemplar, 0)) == ("haplography", 11, "", "slow")


@pytest.mark.parametrize(
    ("right", "copy", "kind", "cause"),
    [
        ("the miller went", "the miler went", "haplography", "letters written once"),
        ("the miller went", "the millller went", "repetition", "letters written twice"),
        ("the miller went", "the millre went", "transposition", "letters turned"),
        ("the miller went", "the miler's went", "substitution", "like word"),
        ("the miller went", "the millar went", "substitution", "one letter for another"),
        ("the miller went", "the mller went", "substitution", "letter dropped"),
        ("the miller went", "the milxler went", "substitution", "letter added"),
        ("the miller went", "the blacksmith went", "substitution", "another word"),
    ],
)
def test_faults_within_a_word(right: str, copy: str, kind: str, cause: str) -> None:
    page = " ".join(MILL)
    outcome = compare(page.replace(right, copy).split(), MILL, 0)
    assert [(fault.kind, fault.cause) for fault in outcome.faults] == [(kind, cause)]
    assert outcome.faults[0].should == "miller"
    assert outcome.faults[0].stands == copy.split()[1]


def test_words_in_another_order() -> None:
    swapped = [*MILL[:WHEEL], MILL[WHEEL + 1], "wheel", *MILL[WHEEL + 2 :]]
    assert only(compare(swapped, MILL, 0)) == ("transposition", WHEEL, "stood wheel", "wheel stood")
    late = [*MILL[:WHEEL], *MILL[WHEEL + 1 : WHEEL + 5], "wheel", *MILL[WHEEL + 5 :]]
    assert only(compare(late, MILL, 0))[:2] == ("transposition", WHEEL)
    block = [*MILL[:WHEEL], *MILL[WHEEL + 2 : WHEEL + 4], "wheel", "stood", *MILL[WHEEL + 4 :]]
    assert only(compare(block, MILL, 0))[:2] == ("transposition", WHEEL)
    about = [*MILL[:WHEEL], "still", "stood", "wheel", *MILL[WHEEL + 3 :]]
    assert only(compare(about, MILL, 0))[:2] == ("transposition", WHEEL)


def test_swapped_and_miswritten_makes_two_faults() -> None:
    copied = [*MILL[:MILLER], "wemt", "miller", *MILL[MILLER + 2 :]]
    assert [fault.kind for fault in compare(copied, MILL, 0).faults] == ["transposition", "substitution"]


def test_addition_and_its_causes() -> None:
    plain = compare([*MILL[:10], "crooked", *MILL[10:]], MILL, 0)
    assert only(plain) == ("addition", 10, "crooked", "")
    early = compare([*MILL[:10], MILL[13], *MILL[10:]], MILL, 0)
    assert (early.faults[0].kind, early.faults[0].cause) == ("addition", "anticipation")
    gloss = compare([*MILL[:10], "a", "mill-wheel", *MILL[10:]], MILL, 0, glosses=["a mill-wheel"])
    assert (gloss.faults[0].kind, gloss.faults[0].cause) == ("addition", "gloss taken in")


def test_words_divided_and_joined() -> None:
    page = " ".join(MILL)
    assert only(compare(page.replace("lantern", "lan tern").split(), MILL, 0))[0] == "word divided"
    assert only(compare(page.replace("lower sluice", "lowersluice").split(), MILL, 0))[0] == "words joined"


def test_a_word_divided_at_a_line_end_is_no_fault() -> None:
    copied = " ".join(MILL).replace("lantern", "lan- tern").split()
    assert compare(copied, MILL, 0).clean
    exact = Allowances(punctuation=False)
    assert compare(copied, MILL, 0, allow=exact).clean
    bare, at = " ".join(MILL).replace("lantern", "lan tern").split(), MILL.index("lantern")
    places = [(1, 1)] * (at + 1) + [(1, 2)] * (len(MILL) - at)
    assert not compare(bare, MILL, 0, places=places).clean
    assert compare(bare, MILL, 0, places=places, allow=Allowances(bare_divisions=True)).clean


def test_a_line_skipped_is_as_long_as_the_exemplars_line() -> None:
    copied = copied_without(22, 33)
    assert only(compare(copied, MILL, 0, exemplar_lines=LINES))[:2] == ("line skipped", 22)
    assert only(compare(copied, MILL, 0))[0] == "omission"


def test_a_fall_to_the_same_spot_in_the_next_line() -> None:
    exemplar = ["".join(chr(97 + number * step % 26) for step in (7, 11, 5, 3)) for number in range(72)]
    outcome = compare(exemplar[:20] + exemplar[28:], exemplar, 0, exemplar_lines=range(0, 72, 8))
    (fault,) = outcome.faults
    assert (fault.kind, fault.cause, fault.word) == ("line skipped", "same spot in a later line", 20)


def test_a_line_out_of_its_place() -> None:
    copied = MILL[:11] + MILL[22:44] + MILL[11:22] + MILL[44:]
    (fault,) = compare(copied, MILL, 0, exemplar_lines=LINES).faults
    assert (fault.kind, fault.cause, fault.word, fault.at) == ("line displaced", "whole line", 11, 33)
    assert (fault.stands, fault.should) == (" ".join(MILL[11:22]), "")


def test_a_leaf_skipped() -> None:
    exemplar = MILL + FILLER
    copied = exemplar[:150] + exemplar[300:360]
    outcome = compare(copied, exemplar, 0, exemplar_leaves=(0, 150, 300, 450))
    assert only(outcome)[:2] == ("leaf skipped", 150)


def test_a_leaf_skipped_at_the_turn_of_the_page_is_no_wrong_place() -> None:
    exemplar = MILL + FILLER
    outcome = compare(exemplar[300:360], exemplar, 150, exemplar_leaves=(0, 150, 300, 450))
    assert outcome.wrong_place is None
    assert only(outcome)[:2] == ("leaf skipped", 150)


def test_a_line_taken_twice_is_a_repetition_with_its_cause() -> None:
    (fault,) = compare(MILL[:33] + MILL[22:], MILL, 0, exemplar_lines=LINES).faults
    assert (fault.kind, fault.cause) == ("repetition", "line taken twice")


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


def test_half_a_word_is_pardoned_only_while_typing() -> None:
    copied = [*MILL[:LANTERN], "lan"]
    assert compare(copied, MILL, 0).clean
    assert only(compare(copied, MILL, 0, whole=True))[0] == "substitution"
    assert compare([*MILL[:LANTERN], "lan-"], MILL, 0, whole=True).reached == LANTERN + 1


def test_a_whole_page_must_reach_its_end() -> None:
    assert compare(MILL[:40], MILL, 0, whole=True).clean
    assert only(compare(MILL[:40], MILL, 0, whole=True, end=43)) == ("omission", 40, "", " ".join(MILL[40:43]))
    assert compare(MILL[:40], MILL, 0, end=43).clean


def test_places_of_faults() -> None:
    copied = copied_without(MILLER, MILLER + 2)
    (fault,) = compare(copied, MILL, 0, places=lambda at: (2, at // 5 + 1)).faults
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
