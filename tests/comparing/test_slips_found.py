"""The measured shares: slips of every kind found, named rightly and placed, and clean pages left alone.

The same figures over other texts, with more seeds, are printed by ``tests/bench/bench_comparing.py``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.comparing.compare import compare
from copydesk.comparing.faults import KINDS
from scoring import read, score, total
from slips import MAKERS, PAGE, Spoiler, disguised, place

if TYPE_CHECKING:
    from scoring import Score
    from slips import Text

SEEDS = range(40)


@pytest.fixture(scope="module")
def scores(open_text: Text) -> dict[str, Score]:
    return score(open_text, SEEDS)


def test_every_kind_is_put_to_the_test() -> None:
    assert set(MAKERS) == set(KINDS)


def test_single_slips_are_found_named_and_placed(scores: dict[str, Score]) -> None:
    whole = total(scores.values())
    assert whole.slips == len(SEEDS) * len(KINDS)
    assert whole.found >= 0.98 * whole.slips
    assert whole.named >= 0.90 * whole.slips
    assert whole.placed >= 0.98 * whole.slips


@pytest.mark.parametrize("kind", KINDS)
def test_no_kind_falls_far_behind(scores: dict[str, Score], kind: str) -> None:
    counts = scores[kind]
    assert counts.found >= 0.95 * counts.slips, counts.called
    assert counts.named >= 0.85 * counts.slips, counts.called


def test_the_scoring_can_fail(open_text: Text) -> None:
    """A page compared with the words it was given instead of the right ones scores nothing."""
    slip = Spoiler(open_text, 3).slip("substitution")
    copied = compare(slip.copied, slip.copied, 0, places=[place(at) for at in range(len(slip.copied))])
    assert copied.clean
    assert not read(slip, open_text).clean


@pytest.mark.parametrize("seed", range(25))
def test_a_clean_page_raises_no_alarm_under_the_usual_allowances(open_text: Text, seed: int) -> None:
    start = seed * 2000
    page = disguised(open_text.words[start : start + PAGE], seed)
    outcome = compare(page, open_text.words, start, exemplar_lines=open_text.lines)
    assert outcome.clean, outcome.faults
    assert outcome.reached == start + PAGE


@pytest.mark.parametrize("seed", range(10))
def test_allowed_differences_do_not_hide_a_slip(open_text: Text, seed: int) -> None:
    slip = Spoiler(open_text, seed).slip("eye-skip")
    copied = [*slip.copied[: slip.at], *disguised(slip.copied[slip.at :], seed)]
    places = [place(at) for at in range(len(copied))]
    outcome = compare(copied, slip.exemplar, slip.start, places=places)
    assert [fault.kind for fault in outcome.faults] == ["eye-skip"]
    assert abs(outcome.faults[0].line - place(slip.at)[1]) <= 1


@pytest.mark.parametrize("stop", [1, 2, 5, 40, 299])
def test_a_page_partly_typed_has_no_omission(open_text: Text, stop: int) -> None:
    outcome = compare(open_text.words[100 : 100 + stop], open_text.words, 100)
    assert outcome.clean
    assert (outcome.began, outcome.reached) == (100, 100 + stop)
