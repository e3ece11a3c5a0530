"""Sentences that say what is wrong and where."""

from __future__ import annotations

import pytest

from copydesk.book.common.errors import CopydeskError, Problem


@pytest.mark.parametrize(
    ("problem", "says"),
    [
        (Problem("book.yaml", 4, 7, "is wrong"), "book.yaml:4:7: is wrong"),
        (Problem("book.yaml", 4, 0, "is wrong"), "book.yaml:4: is wrong"),
        (Problem("book.yaml", 0, 0, "is wrong"), "book.yaml: is wrong"),
        (Problem("", 0, 0, "is wrong"), "is wrong"),
    ],
)
def test_a_problem_names_its_place_as_far_as_it_is_known(problem: Problem, says: str) -> None:
    assert str(problem) == says


def test_a_refusal_carries_every_problem() -> None:
    refused = CopydeskError("one", Problem("a.txt", 1, 2, "two"))
    assert [str(problem) for problem in refused.problems] == ["one", "a.txt:1:2: two"]
    assert str(refused) == "one\na.txt:1:2: two"


def test_problems_sort_by_place() -> None:
    later, sooner = Problem("a", 10, 1, "z"), Problem("a", 9, 1, "a")
    assert sorted([later, sooner]) == [sooner, later]
