"""From an alignment to faults: what is allowed is none."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.comparing.compare import compare
from copydesk.comparing.normalization import Allowances

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
MILLER, WHEEL, LANTERN = MILL.index("miller"), MILL.index("wheel"), MILL.index("lantern")


def only(outcome: Comparison) -> tuple[str, int, str, str]:
    """Kind, word, what stands and what should of the one fault."""
    (fault,) = outcome.faults
    return fault.kind, fault.word, fault.stands, fault.should


def test_a_word_divided_at_a_line_end_is_no_fault() -> None:
    copied = " ".join(MILL).replace("lantern", "lan- tern").split()
    assert compare(copied, MILL, 0).clean
    exact = Allowances(punctuation=False)
    assert compare(copied, MILL, 0, allow=exact).clean
    bare, at = " ".join(MILL).replace("lantern", "lan tern").split(), MILL.index("lantern")
    places = [(1, 1)] * (at + 1) + [(1, 2)] * (len(MILL) - at)
    assert not compare(bare, MILL, 0, places=places).clean
    assert compare(bare, MILL, 0, places=places, allow=Allowances(bare_divisions=True)).clean


def test_half_a_word_is_pardoned_only_while_typing() -> None:
    copied = [*MILL[:LANTERN], "lan"]
    assert compare(copied, MILL, 0).clean
    assert only(compare(copied, MILL, 0, whole=True))[0] == "substitution"
    assert compare([*MILL[:LANTERN], "lan-"], MILL, 0, whole=True).reached == LANTERN + 1
