"""Ranges: how far a mean, a forecast or a count may be from the truth, with the distributions they need.

Continued fractions by the modified Lentz method and the series of the incomplete gamma function: W. H. Press and
others, *Numerical Recipes*, 3rd ed. (2007), 6.2 to 6.4, from memory. Quantiles are found by halving, to the last
digit that counts; the common ones are remembered. The normal distribution is the standard library's; it has no
Student's, chi-square or binomial one.
"""

from __future__ import annotations

import math
from functools import lru_cache
from statistics import NormalDist
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Callable


_TINY = 1e-300
_MANY = 1e7
"""Degrees of freedom from which Student's distribution is the normal one for any purpose here."""


class Range(NamedTuple):
    """What is expected, and between what it is likely to lie."""

    low: float
    expected: float
    high: float

    def scaled(self, factor: float) -> Range:
        """The same in another unit; a negative factor turns low and high about."""
        ends = sorted((self.low * factor, self.high * factor))
        return Range(ends[0], self.expected * factor, ends[1])


def student_cdf(t: float, freedom: float) -> float:
    """The share of Student's distribution with ``freedom`` degrees of freedom (whole or not) below ``t``."""
    if freedom > _MANY:
        return NormalDist().cdf(t)
    square = t * t
    if square < freedom:
        return 0.5 + math.copysign(0.5, t) * _beta_share(square / (freedom + square), 0.5, freedom / 2)
    tail = 0.5 * _beta_share(freedom / (freedom + square), freedom / 2, 0.5)
    return tail if t < 0 else 1 - tail


@lru_cache(maxsize=1024)
def student_quantile(share: float, freedom: float) -> float:
    """The t below which ``share`` (between 0 and 1) of Student's distribution lies."""
    if share < 0.5:
        return -student_quantile(1 - share, freedom)
    return _inverse(lambda t: student_cdf(t, freedom), share)


def chi_square_cdf(x: float, freedom: float) -> float:
    """The share of a chi-square distribution below ``x``."""
    return _gamma_share(freedom / 2, x / 2)


@lru_cache(maxsize=1024)
def chi_square_quantile(share: float, freedom: float) -> float:
    """The x below which ``share`` (between 0 and 1) of a chi-square distribution lies."""
    return _inverse(lambda x: chi_square_cdf(x, freedom), share, low=0.0)


def student_range(expected: float, error: float, freedom: float, level: float) -> Range:
    """The range about ``expected`` with standard ``error`` that holds the truth at ``level``."""
    half = student_quantile(0.5 + level / 2, freedom) * error
    return Range(expected - half, expected, expected + half)


class Part(NamedTuple):
    """One normal curve of a mixture: its share of all, its mean and its standard deviation."""

    share: float
    mean: float
    sd: float


class Mixture(NamedTuple):
    """Several normal curves together, their shares making 1."""

    parts: tuple[Part, ...]

    @classmethod
    def normal(cls, sd: float) -> Mixture:
        """One normal curve about 0."""
        return cls((Part(1.0, 0.0, sd),))

    @property
    def mean(self) -> float:
        """The mean of all."""
        return math.fsum(part.share * part.mean for part in self.parts)

    @property
    def sd(self) -> float:
        """The standard deviation of all about their mean."""
        return math.sqrt(math.fsum(part.share * ((part.mean - self.mean) ** 2 + part.sd**2) for part in self.parts))

    def cdf(self, value: float) -> float:
        """The share of all below a value."""
        return math.fsum(part.share * _below(value, part) for part in self.parts)

    def quantile(self, share: float) -> float:
        """The value below which ``share`` (between 0 and 1) of all lies."""
        low, high = (
            pick(part.mean + sign * 8 * part.sd for part in self.parts) for pick, sign in ((min, -1), (max, 1))
        )
        while high - low > 1e-6 * max(abs(high), abs(low), 1e-3):
            middle = (low + high) / 2
            low, high = (middle, high) if self.cdf(middle) < share else (low, middle)
        return (low + high) / 2

    def plus(self, other: Mixture) -> Mixture:
        """The sum of two values, one of each mixture, that have nothing to do with one another."""
        return Mixture(
            tuple(
                Part(one.share * two.share, one.mean + two.mean, math.hypot(one.sd, two.sd))
                for one in self.parts
                for two in other.parts
            )
        )

    def as_one(self) -> Mixture:
        """One normal curve of the same mean and standard deviation."""
        return Mixture((Part(1.0, self.mean, self.sd),))

    def half_width(self, middle: float, level: float) -> float:
        """How far either side of ``middle`` the share ``level`` of all lies."""
        low, high = 0.0, max(abs(part.mean - middle) + 8 * part.sd for part in self.parts)
        while high - low > 1e-9 * high:
            half = (low + high) / 2
            low, high = (half, high) if self.cdf(middle + half) - self.cdf(middle - half) < level else (low, half)
        return (low + high) / 2


def _below(value: float, part: Part) -> float:
    if part.sd <= 0:
        return float(part.mean <= value)
    return 0.5 * (1 + math.erf((value - part.mean) / (part.sd * math.sqrt(2))))


def _inverse(cdf: Callable[[float], float], share: float, low: float | None = None) -> float:
    """Where a rising function takes the value ``share``: a bracket is widened, then halved until it is a point."""
    if not 0 < share < 1:
        raise ValueError(f"a share lies between 0 and 1, not {share}")
    high = 1.0
    while cdf(high) < share:
        high *= 2
    if low is None:
        low = -1.0
        while cdf(low) > share:
            low *= 2
    while high - low > 1e-13 * max(1e-3, abs(high)):
        middle = (low + high) / 2
        low, high = (middle, high) if cdf(middle) < share else (low, middle)
    return (low + high) / 2


def _beta_share(x: float, a: float, b: float) -> float:
    """The regularised incomplete beta function I_x(a, b)."""
    if x <= 0 or x >= 1:
        return min(max(x, 0.0), 1.0)
    if x > (a + 1) / (a + b + 2):
        return 1 - _beta_share(1 - x, b, a)
    log_front = math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + a * math.log(x) + b * math.log1p(-x)
    return math.exp(log_front) * _beta_fraction(x, a, b) / a


def _beta_fraction(x: float, a: float, b: float) -> float:
    c, d = 1.0, 1 / _not_nought(1 - (a + b) * x / (a + 1))
    value = d
    for m in range(1, 10_000):
        even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        for term in (even, odd):
            d = 1 / _not_nought(1 + term * d)
            c = _not_nought(1 + term / c)
            value *= c * d
        if abs(c * d - 1) < 1e-15:
            break
    return value


def _gamma_share(a: float, x: float) -> float:
    """The regularised lower incomplete gamma function P(a, x)."""
    if x <= 0:
        return 0.0
    front = math.exp(a * math.log(x) - x - math.lgamma(a))
    return front * _gamma_series(a, x) if x < a + 1 else 1 - front * _gamma_fraction(a, x)


def _gamma_series(a: float, x: float) -> float:
    term = total = 1 / a
    n = a
    while abs(term) > total * 1e-16:
        n += 1
        term *= x / n
        total += term
    return total


def _gamma_fraction(a: float, x: float) -> float:
    b = x + 1 - a
    c, d = 1 / _TINY, 1 / _not_nought(b)
    value = d
    for n in range(1, 10_000):
        b += 2
        term = -n * (n - a)
        d = 1 / _not_nought(term * d + b)
        c = _not_nought(b + term / c)
        value *= c * d
        if abs(c * d - 1) < 1e-15:
            break
    return value


def _not_nought(value: float) -> float:
    return value if abs(value) > _TINY else _TINY
