"""Words too many: written twice, added, taken from elsewhere."""

from __future__ import annotations

from copydesk.comparing.compare import compare
from mill_text import LINES, MILL, only


def test_repetition_places_the_second_writing() -> None:
    outcome = compare(MILL[:20] + MILL[15:], MILL, 0)
    assert only(outcome) == ("repetition", 20, " ".join(MILL[15:20]), "")
    assert outcome.faults[0].at == 20


def test_a_page_that_repeats_the_end_of_the_page_before() -> None:
    outcome = compare(MILL[25:60], MILL, 32)
    assert only(outcome) == ("repetition", 25, " ".join(MILL[25:32]), "")
    assert outcome.began == 25


def test_addition_and_its_causes() -> None:
    plain = compare([*MILL[:10], "crooked", *MILL[10:]], MILL, 0)
    assert only(plain) == ("addition", 10, "crooked", "")
    early = compare([*MILL[:10], MILL[13], *MILL[10:]], MILL, 0)
    assert (early.faults[0].kind, early.faults[0].cause) == ("addition", "anticipation")
    gloss = compare([*MILL[:10], "a", "mill-wheel", *MILL[10:]], MILL, 0, glosses=["a mill-wheel"])
    assert (gloss.faults[0].kind, gloss.faults[0].cause) == ("addition", "gloss taken in")


def test_a_line_taken_twice_is_a_repetition_with_its_cause() -> None:
    (fault,) = compare(MILL[:33] + MILL[22:], MILL, 0, exemplar_lines=LINES).faults
    assert (fault.kind, fault.cause) == ("repetition", "line taken twice")
