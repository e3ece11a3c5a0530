"""Ranges of fault rates and the odds of a rise after long sitting, against SciPy."""

from __future__ import annotations

import math
from itertools import combinations

import numpy as np
import pytest
from scipy import stats

from copydesk.tracking.checking.fault_spread import FaultCount, mean_range
from copydesk.tracking.checking.rest_odds import TimedPage, odds_of_rise


@pytest.mark.parametrize("rate", [0.5, 2.0, 5.0])
def test_where_counts_scatter_as_poissons_the_range_is_about_that_of_a_gamma_distribution(rate: float) -> None:
    """The Jeffreys range of a Poisson mean (Brown, Cai and DasGupta 2001; from memory) by scipy, from 400 pages."""
    rng = np.random.default_rng(4)
    counts = rng.poisson(rate, 400)
    found = mean_range([FaultCount(at, 30, int(count)) for at, count in enumerate(counts)], 0.90)
    low, high = stats.gamma.ppf([0.05, 0.95], counts.sum() + 0.5)
    assert found.expected == counts.sum()
    assert found.high - found.low == pytest.approx(high - low, rel=0.15)
    assert (found.low + found.high) / 2 == pytest.approx((low + high) / 2, rel=0.02)


def test_the_spread_of_negative_binomial_counts_is_found() -> None:
    """Counts whose variance is three times their mean, by scipy.stats.nbinom: a range the square root of 3 as wide."""
    counts = stats.nbinom.rvs(1.0, 1 / 3, size=400, random_state=5)
    found = mean_range([FaultCount(at, 30, int(count)) for at, count in enumerate(counts)], 0.90)
    low, high = stats.gamma.ppf([0.05, 0.95], counts.sum() + 0.5)
    assert (found.high - found.low) / (high - low) == pytest.approx(math.sqrt(3), rel=0.12)


def test_no_fault_has_the_exact_range_of_no_poisson_count_made_wider() -> None:
    """F. Garwood, Biometrika 28 (1936), 437-42, from memory: chi2, times the spread and Student's excess."""
    found = mean_range([FaultCount(0, 40, 0)], 0.90)
    excess = (stats.t.ppf(0.95, 4) / stats.norm.ppf(0.95)) ** 2
    assert found.low == 0
    assert found.high == pytest.approx(1.1 * excess * stats.chi2.ppf(0.95, 2) / 2)


def test_the_odds_of_one_day_are_those_of_all_choices_of_late_pages() -> None:
    """Every choice written out with itertools, for both ways of counting and both rises."""
    faults, sat = [0, 1, 3, 0, 2], [10.0, 40.0, 70.0, 100.0, 130.0]
    pages = [TimedPage("2026-03-02", 20, count, minutes) for count, minutes in zip(faults, sat, strict=True)]
    late = [at for at, minutes in enumerate(sat) if minutes >= 60]
    odds = []
    for scores, rises in ((np.array(faults) - np.mean(faults), (0.3, 0.6)), (np.log1p(faults), (0.6, 1.2))):
        for rise in rises:
            sums = [scores[list(chosen)].sum() for chosen in combinations(range(5), len(late))]
            odds.append(np.exp(rise * scores[late].sum()) / np.mean(np.exp(rise * np.array(sums))))
    assert odds_of_rise(pages, [60.0])[0] == pytest.approx(np.mean(odds))


def test_the_odds_have_the_mean_one_where_there_is_nothing() -> None:
    rng = np.random.default_rng(6)
    odds = []
    for _ in range(3000):
        counts = rng.negative_binomial(1, 0.4, 4)
        pages = [TimedPage("d", 25, int(count), 30.0 * at + 15) for at, count in enumerate(counts)]
        odds.append(odds_of_rise(pages, [60.0])[0])
    assert np.mean(odds) == pytest.approx(1, abs=4 * np.std(odds) / math.sqrt(len(odds)))
