"""A short tale that copies are compared with, and what is asked of the comparison."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hypothesis import strategies as st

if TYPE_CHECKING:
    from copydesk.comparing.faults import Comparison
    from copydesk.comparing.word_alignment import AlignedRun

PROSE = (
    "When the frost came down to the mill the wheel stood still and the miller went out with a lantern to see "
    "whether the ice had taken hold of the lower sluice or only of the pond above it. He found the sluice open, "
    "the water running black beneath a skin of ice, and beside the water a heron that had waited all night for "
    "the thaw. Nobody in the valley would believe him afterwards, though he swore to it on his mother's spoons. "
    "In the spring the heron came again, and brought another, and they built in the dead ash behind the barn."
)
MILL = PROSE.split()
MILLER, WHEEL, LANTERN = MILL.index("miller"), MILL.index("wheel"), MILL.index("lantern")
LINES = (0, 11, 22, 33, 44, 55, 66, 77, 88)
FILLER = [f"word{number}" for number in range(400)]
FEW_WORDS = st.lists(st.sampled_from(["a", "b", "ab", "ba", "abba", "c", "cab"]), max_size=14)
TEXT = [f"w{number}" for number in range(300)]


def copied_without(begin: int, end: int) -> list[str]:
    """The tale, these words left out."""
    return MILL[:begin] + MILL[end:]


def only(outcome: Comparison) -> tuple[str, int, str, str]:
    """Kind, word, what stands and what should of the one fault."""
    (fault,) = outcome.faults
    return fault.kind, fault.word, fault.stands, fault.should


def assert_steps_meet(steps: list[AlignedRun], copy: list[str], text: list[str], begin: int | None = None) -> None:
    """Steps use up the copy, follow one another without a gap, and hold what they say."""
    at, place = 0, steps[0].text_from if steps else 0
    for step in steps:
        assert (step.copy_from, step.text_from) == (at, place)
        at, place = step.copy_to, step.text_to
        copied, right = copy[step.copy_from : step.copy_to], text[step.text_from : step.text_to]
        if step.what == "same":
            assert copied == right
        elif step.what in ("joined", "divided"):
            assert "".join(copied) == "".join(right)
        elif step.what == "changed":
            assert len(copied) == len(right) == 1
            assert copied != right
        else:
            assert (len(copied) == 0) == (step.what == "missing")
            assert (len(right) == 0) == (step.what == "added")
    assert at == len(copy)
