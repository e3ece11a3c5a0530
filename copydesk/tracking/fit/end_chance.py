"""The end of the book: the chance that the text fits the sheets in hand, and the blank lines left.

Lines still to be written are as uncertain as the hands that will write them: how sure each hand's mean is, which
bears on all its lines alike, and how single pages scatter about it, which evens out over many.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.distributions import Range, normal_cdf, normal_quantile

if TYPE_CHECKING:
    from collections.abc import Iterable

    from copydesk.book.hands.hand_set import HandSet


class LinesToWrite(NamedTuple):
    """Lines one hand is expected to write yet, on so many pages; ``ragged`` letters of each full line stay empty."""

    hand: HandSet
    lines: float
    pages: float
    ragged: float = 0.0


class Ending(NamedTuple):
    """The chance that the text fits, and the lines left blank at the end (80 % range; below 0 there is no room)."""

    chance_text_fits: float
    blank_lines: Range


def lines_sd(stretches: Iterable[LinesToWrite]) -> float:
    """How far the lines still to be written may be off, as a standard deviation."""
    return math.sqrt(math.fsum(_variance(stretch) for stretch in stretches))


def ending(room: float, lines: float, sd: float, level: float = 0.80) -> Ending:
    """How the text meets the end of the sheets in hand.

    Args:
        room: text lines there are for what is left to write.
        lines: lines it is expected to take.
        sd: how far those may be off, as a standard deviation (see ``lines_sd``).
        level: the share of ranges that should hold the blank lines.
    """
    blank = room - lines
    if sd <= 0:
        return Ending(1.0 if blank >= 0 else 0.0, Range(blank, blank, blank))
    half = normal_quantile(0.5 + level / 2) * sd
    # Lines are whole: a text that runs over by less than half a line is as likely as not cast to fit.
    return Ending(normal_cdf((blank + 0.5) / sd), Range(blank - half, blank, blank + half))


def _variance(stretch: LinesToWrite) -> float:
    hand = stretch.hand
    full = hand.letters_per_line - stretch.ragged
    if full <= 0 or stretch.lines <= 0:
        return 0.0
    error = hand.error * _heavy_tails(hand.freedom)
    return stretch.lines**2 * (error**2 + hand.spread**2 / max(1.0, stretch.pages)) / full**2


def _heavy_tails(freedom: float) -> float:
    """How much wider a normal curve must be to spread like Student's, where he has a variance."""
    return math.sqrt(1 + 2 / (freedom - 2)) if freedom > 3 else math.sqrt(3.0)
