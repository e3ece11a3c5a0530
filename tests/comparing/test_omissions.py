"""Words left out: each loss by its name and its likely cause."""

from __future__ import annotations

import pytest

from copydesk.comparing.compare import compare
from mill_text import FILLER, LINES, MILL, MILLER, copied_without, only


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


def test_haplography() -> None:
    exemplar = [*MILL[:10], "slow", "slow", *MILL[10:]]
    assert only(compare([*MILL[:10], "slow", *MILL[10:]], exemplar, 0)) == ("haplography", 11, "", "slow")


def test_a_line_skipped_is_as_long_as_the_exemplars_line() -> None:
    copied = copied_without(22, 33)
    assert only(compare(copied, MILL, 0, exemplar_lines=LINES))[:2] == ("line skipped", 22)
    assert only(compare(copied, MILL, 0))[0] == "omission"


def test_a_fall_to_the_same_spot_in_the_next_line() -> None:
    exemplar = ["".join(chr(97 + number * step % 26) for step in (7, 11, 5, 3)) for number in range(72)]
    outcome = compare(exemplar[:20] + exemplar[28:], exemplar, 0, exemplar_lines=range(0, 72, 8))
    (fault,) = outcome.faults
    assert (fault.kind, fault.cause, fault.word) == ("line skipped", "same spot in a later line", 20)


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
