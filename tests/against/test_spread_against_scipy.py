"""Distributions and ranges against SciPy (stats), and a printed table."""

from __future__ import annotations

import math
from statistics import fmean, stdev

import pytest
from scipy import stats

from copydesk.book.common.distributions import (
    binomial_upper_tail,
    chi_square_cdf,
    chi_square_quantile,
    poisson_range,
    student_cdf,
    student_quantile,
    student_range,
)

SHARES = [0.001, 0.025, 0.05, 0.1, 0.4, 0.5, 0.6, 0.9, 0.95, 0.975, 0.995, 0.9999]
FREEDOMS = [1, 1.5, 2, 3, 4.7, 9, 30, 120, 999, 2500.5]

# Ten sessions, lines an hour; their mean and 90 % range by scipy.stats.t.interval (SciPy 1.17).
SESSIONS = [18.5, 21.0, 19.2, 24.1, 17.8, 20.3, 22.6, 19.9, 16.4, 23.0]


@pytest.mark.parametrize("share", SHARES)
@pytest.mark.parametrize("freedom", FREEDOMS)
def test_student_and_chi_square(share: float, freedom: float) -> None:
    assert student_quantile(share, freedom) == pytest.approx(stats.t.ppf(share, freedom), rel=1e-8, abs=1e-9)
    assert chi_square_quantile(share, freedom) == pytest.approx(stats.chi2.ppf(share, freedom), rel=1e-8)


@pytest.mark.parametrize("x", [-40, -3.2, -1, -0.01, 0, 0.5, 2, 7.5])
def test_shares_below(x: float) -> None:
    for freedom in (1, 2.5, 12, 400, 1e8):
        assert student_cdf(x, freedom) == pytest.approx(stats.t.cdf(x, freedom), rel=1e-9, abs=5e-9)
        assert chi_square_cdf(abs(x), min(freedom, 400)) == pytest.approx(
            stats.chi2.cdf(abs(x), min(freedom, 400)), rel=1e-9, abs=1e-300
        )


@pytest.mark.parametrize("count", [0, 1, 2, 7, 40, 500])
@pytest.mark.parametrize("level", [0.8, 0.9, 0.95])
def test_poisson_range(count: int, level: float) -> None:
    tail = (1 - level) / 2
    found = poisson_range(count, level)
    low = stats.chi2.ppf(tail, 2 * count) / 2 if count else 0.0
    assert found.low == pytest.approx(low, rel=1e-8)
    assert found.high == pytest.approx(stats.chi2.ppf(1 - tail, 2 * count + 2) / 2, rel=1e-8)


def test_poisson_range_as_printed() -> None:
    """E. S. Pearson and H. O. Hartley, Biometrika Tables for Statisticians I, table 40 (from memory): 95 %."""
    for count, low, high in ((0, 0.0, 3.69), (1, 0.0253, 5.57), (5, 1.62, 11.67), (10, 4.80, 18.39)):
        found = poisson_range(count, 0.95)
        assert found.low == pytest.approx(low, abs=0.006)
        assert found.high == pytest.approx(high, abs=0.006)


@pytest.mark.parametrize(("successes", "trials", "share"), [(0, 5, 0.3), (3, 5, 0.3), (60, 100, 0.5), (6, 5, 0.2)])
def test_binomial_tail(successes: int, trials: int, share: float) -> None:
    assert binomial_upper_tail(successes, trials, share) == pytest.approx(
        stats.binom.sf(successes - 1, trials, share), rel=1e-9
    )


def test_the_range_of_a_mean() -> None:
    error = stdev(SESSIONS) / math.sqrt(len(SESSIONS))
    found = student_range(fmean(SESSIONS), error, len(SESSIONS) - 1, 0.90)
    assert found.expected == pytest.approx(20.28)
    assert found.low == pytest.approx(18.8656623269493)
    assert found.high == pytest.approx(21.694337673050697)
    reference = stats.ttest_1samp(SESSIONS, 0).confidence_interval(0.8)
    wide = student_range(fmean(SESSIONS), error, len(SESSIONS) - 1, 0.8)
    assert wide.low == pytest.approx(reference.low)
    assert wide.high == pytest.approx(reference.high)
