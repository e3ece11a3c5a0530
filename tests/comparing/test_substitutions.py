"""Words that stand for others, by their letters or their division."""

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


def only(outcome: Comparison) -> tuple[str, int, str, str]:
    """Kind, word, what stands and what should of the one fault."""
    (fault,) = outcome.faults
    return fault.kind, fault.word, fault.stands, fault.should


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


def test_words_divided_and_joined() -> None:
    page = " ".join(MILL)
    assert only(compare(page.replace("lantern", "lan tern").split(), MILL, 0))[0] == "word divided"
    assert only(compare(page.replace("lower sluice", "lowersluice").split(), MILL, 0))[0] == "words joined"
