"""Fitting a hand's set to the pages it has written.

A caster fills every line as far as it goes, so what stands on a line is short of the hand's full line by a
ragged end. What a page tells is therefore not a mean width but this: which full lines would have cast the page
just as it fell (``capacity_from_end``, ``capacity_from_usage``). Through many such pages the hand is followed
(``following``); what was known before counts for less the more of them there are.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache
from statistics import fmean
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.distributions import student_quantile
from copydesk.book.hands.hand_filter import followed
from copydesk.book.hands.hand_set import PAGE_SCATTER, HandSet, size_factor

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from copydesk.book.hands.hand_filter import Followed
    from copydesk.book.text.letter_widths import WordWidths


PRIOR_FREEDOM = 2.0
"""The scatter assumed of a mean or a line counts as much as two values seen."""

_DRIFT_LEVEL = 0.95
"""A hand is *said* to move only where chance alone would show such a movement once in twenty hands."""

_DRIFT_PAGES = 4

_REMEMBERED = 240
"""Pages looked back on: older ones would narrow the range by less than a pen can follow."""

_FURTHEST = 64.0
"""No hand is looked for beyond this many times, or this fraction of, what it was thought to be."""

_STRANGE = 3.5
"""A page this many standard deviations from where its hand stands is strange."""

_STRIDE = 1.25
_LINES_OWN = 0.2
"""The part of a stretch's variance that its lines bring one by one, the rest being the sitting's."""


@dataclass(frozen=True, slots=True)
class Usage:
    """What one stretch of a hand's writing tells: full lines between ``low`` and ``high`` letters cast it as it fell.

    ``lines`` is how many lines it is, on how many ``pages``. ``high`` is infinite where no line of it was full, ``low``
    is 0 where each held one word. ``measure`` and ``nib`` are those it was written at, in mm, 0 where they are the
    hand's own.
    """

    lines: int
    low: float
    high: float
    measure: float = 0.0
    nib: float = 0.0
    pages: float = 1.0

    @property
    def tells(self) -> bool:
        """Whether it says anything: not where every line was short, or none could have been shorter."""
        return self.lines > 0 and self.low > 0.0 and math.isfinite(self.high)

    @property
    def middle(self) -> float:
        """The best single figure, letters on a full line."""
        return (self.low + self.high) / 2

    @property
    def doubt(self) -> float:
        """The variance of a value that may lie anywhere between ``low`` and ``high``."""
        return (self.high - self.low) ** 2 / 12


class Estimate(NamedTuple):
    """A weighted mean: its value, standard error, degrees of freedom, and how far the scatter passed what was assumed.

    ``scatter`` is a factor on the standard deviations the variances assumed.
    """

    value: float
    error: float
    freedom: float
    scatter: float


class Movement(NamedTuple):
    """A line through a hand's pages: its value at the next page, and the slope a page, each with its error."""

    value: float
    error: float
    slope: float
    slope_error: float
    freedom: float
    scatter: float


def capacity_from_usage(lines_needed: Callable[[float], int], lines: int, about: float) -> Usage:
    """The full lines at which the text written takes just ``lines`` lines.

    For text that ends with its paragraph; cut off at a full line, it would make the hand a hundredth too close.

    Args:
        lines_needed: the lines that text takes where a full line holds so many letters; it never rises.
        lines: the lines it took.
        about: letters a line to begin looking from.
    """
    low = _least(lambda letters: lines_needed(letters) <= lines, about)
    high = _least(lambda letters: lines_needed(letters) < lines, about)
    return Usage(lines, low, high)


def capacity_from_end(words_held: Callable[[float], int], words: int, lines: int, about: float) -> Usage:
    """The full lines at which ``lines`` lines hold just ``words`` words and not one more.

    Sharper than the line count alone, where the text went on in the next line.

    Args:
        words_held: the words (or any pieces in order) those lines hold at so many letters; it never falls.
        words: those they held.
        lines: the lines written.
        about: letters a line to begin looking from.
    """
    held = cache(words_held)  # both look at the same places at first
    low = _least(lambda letters: held(letters) >= words, about)
    high = _least(lambda letters: held(letters) > words, about)
    return Usage(lines, low, high)


def ragged_loss(words: Sequence[str], widths: WordWidths) -> float:
    """How much of a full line stays empty on average where lines break between words.

    Half the mean word with its space, each word counted in proportion to its width, since a wide word is the
    likelier to stand across the line's end. Common practice in renewal theory (W. Feller, *An Introduction to
    Probability Theory*, vol. II, XI.4: the mean age of a stationary process; from memory).
    """
    each = [widths[word] + widths.space for word in words]
    whole = math.fsum(each)
    return math.fsum(width * width for width in each) / (2 * whole) if whole else 0.0


class Fit(NamedTuple):
    """A hand's set as its pages have it, and the strange ones among them.

    ``strange`` has the place of each among the usages, and the letters a line the hand was expected to come to there.
    """

    hand: HandSet
    strange: tuple[tuple[int, float], ...]


def from_pages(before: HandSet, usages: Sequence[Usage]) -> HandSet:
    """The hand's set after the pages it has written, oldest first, at the measure and nib of ``before``."""
    return fit(before, usages).hand


def fit(before: HandSet, usages: Sequence[Usage]) -> Fit:
    """The same, with the pages that are strange."""
    places = [at for at, usage in enumerate(usages) if usage.tells]
    told = [_at_size_of(before, usages[at]) for at in places]
    if not told:
        return Fit(before, ())
    measured = len(told)
    pages, told = round(math.fsum(usage.pages for usage in told)), told[-_REMEMBERED:]
    values = [usage.middle for usage in told]
    variances = _page_variances(told)
    found = followed(before, values, variances)
    hand = replace(
        before,
        letters_per_line=found.value,
        spread=found.scatter * PAGE_SCATTER * fmean(values),
        error=found.error,
        freedom=found.freedom,
        source="pages",
        pages=pages,
        measured=measured,
        per_page=found.per_page if _is_moving(values, variances) else 0.0,
        ahead=found.ahead,
    )
    return Fit(hand, tuple((places[-len(told) :][at], expected) for at, expected in _strange(values, variances, found)))


def _strange(values: Sequence[float], variances: Sequence[float], found: Followed) -> Iterator[tuple[int, float]]:
    """The pages that stand far from where their hand was thought to stand, and are not followed by one like them."""
    for at, ((expected, error), value) in enumerate(zip(found.foretold, values, strict=True)):
        off = value - expected
        if abs(off) < _STRANGE * math.hypot(error, found.scatter * math.sqrt(variances[at])):
            continue
        like = at + 1 < len(values) and (values[at + 1] - expected) / off > 0.5  # then it is the hand that changed
        if not like:
            yield at, expected


def moved(before: HandSet, usages: Sequence[Usage], last: int = 40) -> tuple[HandSet, ...]:
    """How the set stood after each of the ``last`` pages, oldest first."""
    first = max(0, len(usages) - last)
    return tuple(from_pages(before, usages[: count + 1]) for count in range(first, len(usages)))


def weighted_mean(values: Sequence[float], variances: Sequence[float]) -> Estimate:
    """The mean of values whose variances are known up to one factor, which their own scatter tells."""
    weights = [1 / variance for variance in variances]
    whole = math.fsum(weights)
    mean = math.fsum(weight * value for weight, value in zip(weights, values, strict=True)) / whole
    misfit = math.fsum(weight * (value - mean) ** 2 for weight, value in zip(weights, values, strict=True))
    freedom = PRIOR_FREEDOM + len(values) - 1
    factor = (PRIOR_FREEDOM + misfit) / freedom
    return Estimate(mean, math.sqrt(factor / whole), freedom, math.sqrt(factor))


def line_through(values: Sequence[float], variances: Sequence[float], half_life: float = math.inf) -> Movement:
    """A line through at least three values in order, by least squares, and where it stands one step further on.

    With a ``half_life`` in steps the newest weigh most; the errors still come from the scatter about the line in
    which all weigh by their variances, so that a bend in the movement shows as doubt.
    """
    count = len(values)
    plain = _line_weights([1 / variance for variance in variances])
    level, slope = _applied(plain, values)
    misfit = math.fsum(
        (value - level - slope * (step - count)) ** 2 / variance
        for step, (value, variance) in enumerate(zip(values, variances, strict=True))
    )
    freedom = PRIOR_FREEDOM + count - 2
    factor = (PRIOR_FREEDOM + misfit) / freedom
    newest = plain
    if math.isfinite(half_life):
        newest = _line_weights([0.5 ** ((count - step) / half_life) / v for step, v in enumerate(variances)])
    level, slope = _applied(newest, values)
    error, slope_error = (
        math.sqrt(factor * math.fsum(share * share * v for share, v in zip(shares, variances, strict=True)))
        for shares in newest
    )
    return Movement(level, error, slope, slope_error, freedom, math.sqrt(factor))


def _line_weights(weights: Sequence[float]) -> tuple[list[float], list[float]]:
    """What share each value has in the line's height one step after the last, and in its slope."""
    steps = [step - len(weights) for step in range(len(weights))]
    whole = math.fsum(weights)
    centre = math.fsum(weight * step for weight, step in zip(weights, steps, strict=True)) / whole
    spread = math.fsum(weight * (step - centre) ** 2 for weight, step in zip(weights, steps, strict=True))
    slope = [weight * (step - centre) / spread for weight, step in zip(weights, steps, strict=True)]
    level = [weight / whole - centre * share for weight, share in zip(weights, slope, strict=True)]
    return level, slope


def _applied(shares: tuple[list[float], list[float]], values: Sequence[float]) -> tuple[float, float]:
    level, slope = (math.fsum(map(float.__mul__, each, values)) for each in shares)
    return level, slope


def _is_moving(values: Sequence[float], variances: Sequence[float]) -> bool:
    if len(values) < _DRIFT_PAGES:
        return False
    movement = line_through(values, variances)
    return abs(movement.slope) > movement.slope_error * student_quantile(0.5 + _DRIFT_LEVEL / 2, movement.freedom)


def _page_variances(usages: Sequence[Usage]) -> list[float]:
    """How far each page may stand from the hand's mean: by its scatter, rather less where it is long, and its doubt.

    Lines of one sitting are alike, so most of the scatter stays however many lines of one page it is.
    """
    mean = fmean(usage.middle for usage in usages)
    lines = fmean(usage.lines / usage.pages for usage in usages)
    page = (PAGE_SCATTER * mean) ** 2
    own = (_LINES_OWN * lines * usage.pages / usage.lines for usage in usages)
    return [page * (1 - _LINES_OWN + part) / usage.pages + usage.doubt for part, usage in zip(own, usages, strict=True)]


def _at_size_of(hand: HandSet, usage: Usage) -> Usage:
    factor = size_factor(usage.measure, hand.measure, usage.nib, hand.nib)
    return replace(usage, low=usage.low * factor, high=usage.high * factor) if factor != 1.0 else usage


def _least(holds: Callable[[float], bool], about: float) -> float:
    """The least number of letters from which something holds (and holds ever after); infinite where it never does."""
    high = about
    while not holds(high):
        high *= _STRIDE
        if high > about * _FURTHEST:
            return math.inf
    low = high / _STRIDE
    while holds(low):
        high, low = low, low / _STRIDE
        if low < about / _FURTHEST:
            return 0.0
    while high - low > 1e-4 * high:
        middle = (low + high) / 2
        low, high = (low, middle) if holds(middle) else (middle, high)
    return high
