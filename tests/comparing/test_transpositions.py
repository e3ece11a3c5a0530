"""Words and lines out of their place."""

from __future__ import annotations

from copydesk.comparing.compare import compare
from mill_text import LINES, MILL, MILLER, WHEEL, only


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


def test_a_line_out_of_its_place() -> None:
    copied = MILL[:11] + MILL[22:44] + MILL[11:22] + MILL[44:]
    (fault,) = compare(copied, MILL, 0, exemplar_lines=LINES).faults
    assert (fault.kind, fault.cause, fault.word, fault.at) == ("line displaced", "whole line", 11, 33)
    assert (fault.stands, fault.should) == (" ".join(MILL[11:22]), "")
