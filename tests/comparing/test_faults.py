"""What a comparison gives back: kinds, words quoted, and when a page is clean."""

from __future__ import annotations

from dataclasses import replace

import pytest

from copydesk.comparing.faults import KIND_WORDS, KINDS, Comparison, WrongPlace, quoted


def test_every_kind_is_explained_once() -> None:
    assert tuple(KIND_WORDS) == KINDS


@pytest.mark.parametrize(
    ("words", "said"),
    [(0, '""'), (8, '"w0 w1 w2 w3 w4 w5 w6 w7"'), (9, '"w0 w1 w2 w3 ... w6 w7 w8"')],
)
def test_a_long_run_is_quoted_by_its_beginning_and_end(words: int, said: str) -> None:
    assert quoted([f"w{number}" for number in range(words)]) == said


def test_a_page_from_another_place_or_from_nowhere_is_not_clean() -> None:
    found = Comparison(3, (), None, "no fault in 3 words", 0, 3)
    assert found.clean
    assert not replace(found, wrong_place=WrongPlace(40, "elsewhere")).clean
    assert not replace(found, known=False).clean
