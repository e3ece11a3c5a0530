"""Fits of a hand against NumPy's and SciPy's least squares, and against simulated hands whose set is known.

A simulated hand has a set of its own, from which single pages stray by ``page`` and single lines by ``line``
(standard deviations, as shares); it fills each line as far as it goes. The words are made up, with lengths and
frequencies like those of a language, by a seeded generator. What is simulated shares no code with the fit but the
rule that a line holds the words that go on it.
"""

from __future__ import annotations

import math
import random
from bisect import bisect_right
from itertools import accumulate
from typing import NamedTuple

import numpy as np
import pytest
from scipy import stats

from copydesk.book.hands.hand_fit import (
    PRIOR_FREEDOM,
    Usage,
    capacity_from_end,
    from_pages,
    line_through,
    weighted_mean,
)
from copydesk.book.hands.hand_sample import SampleLine, fit_scale, from_sample
from copydesk.book.hands.hand_set import HandSet
from copydesk.book.text.letter_widths import RELATIVE, WordWidths

WIDTHS = WordWidths(RELATIVE)
CLAIMED = 0.90


def invented_words(count: int) -> list[str]:
    rng = random.Random(20261125)
    lengths = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]
    shares = [3, 17, 21, 16, 11, 9, 8, 6, 4, 3, 1, 1]
    vocabulary = [
        "".join(rng.choices("etaoinshrdlucmfwypvbgkxjqz", k=rng.choices(lengths, shares)[0])) for _ in range(4000)
    ]
    return rng.choices(vocabulary, [1 / (rank + 3) for rank in range(len(vocabulary))], k=count)


WORDS = invented_words(30_000)
SUMS = [0.0, *accumulate(WIDTHS[word] + WIDTHS.space for word in WORDS)]


def written(start: int, rooms: list[float]) -> int:
    at = start
    for room in rooms:
        at = max(bisect_right(SUMS, SUMS[at] + room + WIDTHS.space, at) - 1, at + 1)
    return at


class SimulatedHand(NamedTuple):
    letters: float
    page: float
    line: float
    per_page: float = 0.0


def pages_of(hand: SimulatedHand, pages: int, lines: range, rng: random.Random) -> list[Usage]:
    """The pages it writes; ``letters`` is what it comes to on the page after the last."""
    at = rng.randrange(len(WORDS) // 2)
    found = []
    for number in range(pages):
        here = (hand.letters + hand.per_page * (number - pages)) * (1 + rng.gauss(0, hand.page))
        count = rng.choice(lines)
        end = written(at, [here * (1 + rng.gauss(0, hand.line)) for _ in range(count)])
        start = at
        found.append(
            capacity_from_end(
                lambda room, start=start, count=count: written(start, [room] * count) - start,  # type: ignore[misc]
                end - start,
                count,
                about=30,
            )
        )
        at = end
    return found


def holds_as_often_as_claimed(hits: int, runs: int, margin: float = 0.04) -> bool:
    """Whether ranges true to their claim, or nearly, would hit so often but for one chance in a thousand each way.

    They may miss by ``margin`` more than claimed, or hold by twice that more.
    """
    too_few = stats.binom.cdf(hits, runs, CLAIMED - margin) < 0.001
    too_many = stats.binom.sf(hits - 1, runs, min(CLAIMED + 2 * margin, 0.99)) < 0.001
    return not too_few and not too_many


def test_one_scale_is_the_least_squares_scale() -> None:
    rng = np.random.default_rng(4)
    natural = rng.uniform(25, 40, 30)
    lengths = 1.6 * natural + rng.normal(0, 1.2, 30)
    ours = fit_scale(list(natural), list(lengths))
    scale, residue, *_ = np.linalg.lstsq(natural[:, None], lengths, rcond=None)
    assert ours.value == pytest.approx(scale[0], rel=1e-12)
    assumed = (0.03 * lengths.mean()) ** 2
    variance = (PRIOR_FREEDOM * assumed + residue[0]) / (PRIOR_FREEDOM + 29)
    assert ours.error == pytest.approx(math.sqrt(variance / (natural**2).sum()), rel=1e-12)


def test_the_mean_is_the_weighted_least_squares_mean() -> None:
    rng = np.random.default_rng(5)
    variances = rng.uniform(0.2, 2, 15)
    values = 33 + rng.normal(0, 1, 15) * np.sqrt(variances)
    ours = weighted_mean(list(values), list(variances))
    root = 1 / np.sqrt(variances)
    mean, misfit, *_ = np.linalg.lstsq(root[:, None], values * root, rcond=None)
    assert ours.value == pytest.approx(mean[0], rel=1e-12)
    assert ours.scatter**2 * ours.freedom == pytest.approx(PRIOR_FREEDOM + misfit[0], rel=1e-10)


@pytest.mark.parametrize("half_life", [math.inf, 6.0, 2.5])
def test_the_line_is_the_weighted_least_squares_line(half_life: float) -> None:
    rng = np.random.default_rng(6)
    variances = rng.uniform(0.2, 2, 14)
    steps = np.arange(14) - 14
    values = 33 + 0.2 * steps + rng.normal(0, 1, 14) * np.sqrt(variances)
    ours = line_through(list(values), list(variances), half_life)
    fade = np.ones(14) if math.isinf(half_life) else 0.5 ** (-steps / half_life)
    root = np.sqrt(fade / variances)
    design = np.column_stack([np.ones(14), steps])
    (level, slope), *_ = np.linalg.lstsq(design * root[:, None], values * root, rcond=None)
    assert ours.value == pytest.approx(level, rel=1e-10)
    assert ours.slope == pytest.approx(slope, rel=1e-9)
    inverse = np.linalg.inv(design.T @ (design * (root**2)[:, None])) @ design.T * root**2
    errors = np.sqrt(np.diag(inverse @ np.diag(variances) @ inverse.T))
    assert ours.error == pytest.approx(errors[0] * ours.scatter, rel=1e-9)
    assert ours.slope_error == pytest.approx(errors[1] * ours.scatter, rel=1e-9)


def test_the_slope_and_its_error_are_the_usual_ones() -> None:
    """scipy.stats.linregress, whose error rests on the pages alone."""
    values = [30.1, 30.9, 30.4, 31.6, 31.2, 32.0, 31.7, 32.4]
    reference = stats.linregress(range(8), values)
    ours = line_through(values, [0.4] * 8)
    assert ours.slope == pytest.approx(reference.slope)
    pages_alone = math.sqrt((ours.scatter**2 * ours.freedom - PRIOR_FREEDOM) / 6)
    assert ours.slope_error * pages_alone / ours.scatter == pytest.approx(reference.stderr)


@pytest.mark.parametrize("letters", [23.4, 31.0, 41.7])
def test_a_hand_without_scatter_is_found_exactly(letters: float) -> None:
    rng = random.Random(7)
    pages = pages_of(SimulatedHand(letters, 0, 0), 12, range(30, 31), rng)
    found = from_pages(HandSet.from_letters(34), pages)
    assert found.letters_per_line == pytest.approx(letters, rel=0.006)
    assert found.low < letters < found.high


@pytest.mark.parametrize(("page", "line"), [(0.02, 0.03), (0.03, 0.02)])
@pytest.mark.parametrize(("pages", "lines"), [(2, range(30, 31)), (6, range(30, 31)), (12, range(5, 33))])
def test_ranges_of_a_steady_hand_hold_its_set(page: float, line: float, pages: int, lines: range) -> None:
    """400 simulated hands each, from pages of even or uneven length; the mean must be right, and the ranges honest."""
    rng = random.Random(f"{page}{line}{pages}")
    runs = 400
    hits, miss = 0, 0.0
    for _ in range(runs):
        hand = SimulatedHand(rng.uniform(24, 40), page, line)
        before = HandSet.from_letters(hand.letters * (1 + rng.gauss(0, 0.04)))
        found = from_pages(before, pages_of(hand, pages, lines, rng))
        hits += found.low <= hand.letters <= found.high
        miss += found.letters_per_line / hand.letters - 1
    assert holds_as_often_as_claimed(hits, runs), f"held {hits} of {runs}"
    assert abs(miss / runs) < 0.004


def test_ranges_of_a_hand_that_moves_hold_where_it_comes_to() -> None:
    """A hand that closes up by a hundredth a page, seen for sixteen pages: it is noticed and followed."""
    rng = random.Random(11)
    runs, hits, noticed, behind = 200, 0, 0, 0.0
    for _ in range(runs):
        letters = rng.uniform(24, 40)
        hand = SimulatedHand(letters, 0.02, 0.02, per_page=0.01 * letters)
        found = from_pages(HandSet.from_letters(0.85 * letters), pages_of(hand, 16, range(30, 31), rng))
        hits += found.low <= letters <= found.high
        noticed += found.per_page > 0
        behind += found.letters_per_line / letters - 1
    assert holds_as_often_as_claimed(hits, runs), f"held {hits} of {runs}"
    assert noticed > 0.95 * runs
    assert abs(behind / runs) < 0.01


@pytest.mark.parametrize("per_page", [-0.003, 0.002, 0.005])
@pytest.mark.parametrize("pages", [6, 12, 24])
def test_ranges_hold_a_hand_that_moves_too_slowly_to_be_seen(per_page: float, pages: int) -> None:
    """A few thousandths a page, mostly far from being told from chance: the ranges must allow for it all the same."""
    rng = random.Random(f"{per_page}{pages}")
    runs, hits = 200, 0
    for _ in range(runs):
        letters = rng.uniform(24, 40)
        hand = SimulatedHand(letters, 0.025, 0.02, per_page=per_page * letters)
        began = letters * (1 - per_page * pages)
        before = HandSet.from_letters(began * (1 + rng.gauss(0, 0.04)))
        found = from_pages(before, pages_of(hand, pages, range(30, 31), rng))
        hits += found.low <= letters <= found.high
    assert holds_as_often_as_claimed(hits, runs), f"held {hits} of {runs}"


def test_a_steady_hand_is_seldom_said_to_move() -> None:
    rng = random.Random(12)
    noticed = 0
    for _ in range(200):
        hand = SimulatedHand(32, 0.02, 0.02)
        noticed += from_pages(HandSet.from_letters(32), pages_of(hand, 12, range(20, 21), rng)).per_page != 0
    assert stats.binom.sf(noticed - 1, 200, 0.05) > 0.001


@pytest.mark.parametrize("lines", [2, 5, 20])
@pytest.mark.parametrize("measured", [True, False])
def test_ranges_from_a_sample_hold_the_hand(lines: int, measured: bool) -> None:
    """The pages will be closer or wider than the sample, by 3 hundredths as a standard deviation."""
    rng = random.Random(f"{lines}{measured}")
    runs, hits, miss = 400, 0, 0.0
    for _ in range(runs):
        letters = rng.uniform(24, 40)
        there = letters * (1 + rng.gauss(0, 0.03))
        found = from_sample(sample_of(there, lines, measured, rng), 60, WIDTHS)
        hits += found.low <= letters <= found.high
        miss += found.letters_per_line / there - 1
    assert holds_as_often_as_claimed(hits, runs), f"held {hits} of {runs}"
    assert abs(miss / runs) < 0.015


def sample_of(letters: float, lines: int, measured: bool, rng: random.Random) -> list[SampleLine]:
    at = rng.randrange(len(WORDS) // 2)
    found = []
    for _ in range(lines):
        room = letters * (1 + rng.gauss(0, 0.025))
        end = written(at, [room])
        length = (SUMS[end] - SUMS[at] - WIDTHS.space) * 60 / room if measured else None
        found.append(SampleLine(tuple(WORDS[at:end]), length))
        at = end
    return found
