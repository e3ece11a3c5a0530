"""A hand's set: how many letters it puts on a line, how sure that is, and how it carries to other sizes.

One letter is the mean letter or word-space of the text (see ``letters``). A set is known from a figure somebody
gave, from nib and script alone, from a sample, or from the pages the hand has written; it keeps how.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import accumulate
from typing import Literal, NamedTuple

from copydesk.book.common.distributions import Mixture, Part, Range, student_range

Source = Literal["guess", "sample", "pages"]

RANGE_LEVEL = 0.90
"""The share of ranges that should hold the truth."""

LETTER_OF_X_HEIGHT = 0.97
"""The mean letter beside the x-height.

In the two faces the letter widths come from (see ``letters``) it is 475 to 469 thousandths in the upright round
one and 365 to 391 in the chancery italic: on the whole a letter is as wide as it is tall. Johnston's half-uncial
is wider, o 5 nib widths by 4 (*Writing & Illuminating, & Lettering*, 1906, p. 84); textura is narrower.
"""

SCRIPT_DOUBT = 0.12
"""How far, as a standard deviation, a guess from the script alone may be off: round and compressed hands differ
by a fifth either way. Our own judgement; no published figure was found."""

STATED_DOUBT = 0.04
"""The same for letters a line that a scribe states: from one page to count, or from the last book. Our judgement."""

PAGE_SCATTER = 0.025
"""How much a hand's pages differ among themselves until its own pages tell: judgement, soon outweighed."""


LASTS = 0.97
"""The share of a movement that is left on the next page: one seen now dies away in about thirty. Our judgement."""


class Ahead(NamedTuple):
    """One course a hand may be on from the next page on, in shares of its letters: how likely it is, and where it goes.

    ``off`` is where its mean stands beside that of all courses, ``movement`` what it moves by a page, each with its
    variance, and ``together`` how the two go; its mean ``wanders`` and its movement ``turns`` by chance from page to
    page, by these variances.
    """

    share: float
    off: float
    movement: float
    variance: float
    together: float
    movement_variance: float
    wanders: float
    turns: float

    def over(self, pages: int) -> Part:
        """How far off the hand's mean is over so many pages from the next one on."""
        moved, wandered, turned = _gathered(max(pages, 1))
        variance = (
            self.variance
            + 2 * moved * self.together
            + moved**2 * self.movement_variance
            + wandered * self.wanders
            + turned * self.turns
        )
        return Part(self.share, self.off + moved * self.movement, math.sqrt(max(variance, 0.0)))


@lru_cache(maxsize=1024)
def _gathered(pages: int) -> tuple[float, float, float]:
    """How a movement, chance changes of the mean, and those of the movement count in the mean over so many pages.

    The first is a factor on the movement, the others are factors on the variances of single changes.
    """
    steps = [(1 - LASTS**page) / (1 - LASTS) for page in range(pages)]
    moved = list(accumulate(steps))
    wandered = math.fsum((page / pages) ** 2 for page in range(pages))
    return moved[-1] / pages, wandered, math.fsum((each / pages) ** 2 for each in moved[:-1])


@dataclass(frozen=True, slots=True)
class HandSet:
    """How close a hand writes.

    ``letters_per_line`` is on one full line of ``measure`` mm written with a nib of ``nib`` mm (0 where nobody
    gave it). ``low`` to ``high`` is the 90 % range of that mean for the next page; ``spread`` is how much single
    pages differ from it (a standard deviation); all in letters. ``error`` and ``freedom`` are what the range is
    made of. ``per_page`` is how the hand moves from page to page, 0 unless its pages show that it does.
    ``measured`` counts the places at which it was measured: pages whose real end somebody gave. ``ahead`` has the
    courses it may be on; where there is none, it stays where it is.
    """

    letters_per_line: float
    spread: float
    error: float
    freedom: float = math.inf
    source: Source = "guess"
    pages: int = 0
    measure: float = 0.0
    nib: float = 0.0
    per_page: float = 0.0
    measured: int = 0
    ahead: tuple[Ahead, ...] = ()

    @classmethod
    def from_letters(cls, letters: float, measure: float = 0.0, nib: float = 0.0) -> HandSet:
        """The set of a hand that is said to put ``letters`` on a line."""
        return cls(letters, PAGE_SCATTER * letters, STATED_DOUBT * letters, measure=measure, nib=nib)

    @classmethod
    def from_script(cls, nib: float, x_height: float, measure: float) -> HandSet:
        """A guess for a hand nobody has seen write: nib in mm, x-height in nib widths, measure in mm."""
        letters = measure / (LETTER_OF_X_HEIGHT * nib * x_height)
        return cls(letters, PAGE_SCATTER * letters, SCRIPT_DOUBT * letters, measure=measure, nib=nib)

    @property
    def low(self) -> float:
        """The lower end of the 90 % range of the mean for the next page."""
        return self.mean_range().low

    @property
    def high(self) -> float:
        """The upper end of the 90 % range of the mean for the next page."""
        return self.mean_range().high

    def mean_range(self, level: float = RANGE_LEVEL) -> Range:
        """Between what the hand's mean lies on the next page."""
        found = student_range(self.letters_per_line, self.error, self.freedom, level)
        return Range(max(found.low, 0.0), found.expected, found.high)

    def over(self, pages: float) -> Mixture:
        """How far off its letters a line the hand's mean over so many pages to come may be, as a share of them."""
        if not self.ahead:
            return Mixture.normal(self.error / self.letters_per_line)
        return Mixture(tuple(course.over(round(pages)) for course in self.ahead))

    def scaled(self, factor: float) -> HandSet:
        """The same hand where a line holds ``factor`` times as much."""
        return replace(
            self,
            letters_per_line=self.letters_per_line * factor,
            spread=self.spread * factor,
            error=self.error * factor,
            per_page=self.per_page * factor,
        )

    def at(self, measure: float = 0.0, nib: float = 0.0) -> HandSet:
        """The same hand on another column measure or with another nib, in mm; letters keep the script's shape.

        A line of twice the measure holds twice the letters; a nib twice as broad, half as many. What is 0 here
        or was never given stays as it is.
        """
        moved = self.scaled(size_factor(self.measure, measure, self.nib, nib))
        return replace(moved, measure=measure or self.measure, nib=nib or self.nib)


def size_factor(measure: float, new_measure: float, nib: float, new_nib: float) -> float:
    """How many times as many letters a line holds after a change of measure and nib (mm; 0 is not known)."""
    longer = new_measure / measure if measure and new_measure else 1.0
    finer = nib / new_nib if nib and new_nib else 1.0
    return longer * finer
