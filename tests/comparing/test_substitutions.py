"""Words that stand for others, by their letters or their division."""

from __future__ import annotations

import pytest

from copydesk.comparing.compare import compare
from mill_text import MILL, only


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
