"""From an alignment to faults: what is allowed is none."""

from __future__ import annotations

from copydesk.comparing.compare import compare
from copydesk.comparing.normalization import Allowances
from mill_text import LANTERN, MILL, only


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
