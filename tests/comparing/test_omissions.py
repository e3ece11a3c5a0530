"""Words left out: each loss by its name and its likely cause."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.comparing.compare import compare

if TYPE_CHECKING:
    from copydesk.comparing.faults import Comparison

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
