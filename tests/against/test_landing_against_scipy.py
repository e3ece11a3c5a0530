"""The chances that a text lands, against SciPy (``scipy.stats.norm``, and its sums of spreads)."""

from __future__ import annotations

import pytest

from copydesk.tracking.fit.landing import chances, closer_for_margin

stats = pytest.importorskip("scipy.stats")


@pytest.mark.parametrize("over", [-12, -2, -1, 0, 1, 3, 8])
@pytest.mark.parametrize("sd", [0.2, 0.9, 2.4, 11.0])
def test_chances_are_those_of_the_normal_curve(over: int, sd: float) -> None:
    curve = stats.norm(over, sd)
    found = chances(over, sd)
    assert found.fits == pytest.approx(float(curve.cdf(0.5)))
    assert found.within_a_line == pytest.approx(float(curve.cdf(1.5) - curve.cdf(-1.5)))


@pytest.mark.parametrize(("over", "sd", "lines"), [(0, 1.2, 96), (3, 2.0, 240), (-1, 0.8, 48)])
def test_the_margin_is_the_ninth_tenth_of_the_curve(over: int, sd: float, lines: int) -> None:
    gain = max(float(stats.norm(over, sd).ppf(0.9)) - 0.5, 0.0)
    assert closer_for_margin(over, sd, lines) == pytest.approx(lines / (lines - gain))
