"""Distributions and ranges against SciPy (stats)."""

from __future__ import annotations

import math
from statistics import fmean, stdev

import pytest
from scipy import stats

from copydesk.book.common.distributions import (
    chi_square_cdf,
    chi_square_quantile,
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
