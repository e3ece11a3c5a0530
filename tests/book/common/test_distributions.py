"""Ranges and the distributions behind them."""

from __future__ import annotations

from statistics import NormalDist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.distributions import (
    Range,
    chi_square_cdf,
    chi_square_quantile,
    student_cdf,
    student_quantile,
)

INSIDE = st.floats(0.001, 0.999)


@given(INSIDE, st.floats(1, 200))
@settings(max_examples=40, deadline=None)
def test_a_quantile_has_its_share_below_it(share: float, freedom: float) -> None:
    assert student_cdf(student_quantile(share, freedom), freedom) == pytest.approx(share)
    assert chi_square_cdf(chi_square_quantile(share, freedom), freedom) == pytest.approx(share)


@given(INSIDE)
@settings(max_examples=20, deadline=None)
def test_few_observations_spread_wider_than_many(share: float) -> None:
    narrow, wide = abs(NormalDist().inv_cdf(share)), abs(student_quantile(share, 2))
    assert narrow <= wide + 1e-12


@pytest.mark.parametrize("share", [0.0, 1.0, -0.2, 1.5])
def test_a_share_is_between_nothing_and_all(share: float) -> None:
    with pytest.raises(ValueError, match="between 0 and 1"):
        student_quantile(share, 3)


def test_a_range_in_another_unit() -> None:
    assert Range(1, 2, 4).scaled(2) == Range(2, 4, 8)
    assert Range(1, 2, 4).scaled(-1) == Range(-4, -2, -1)
