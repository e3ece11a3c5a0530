"""A sample of a hand: lines it wrote, some with their length, and the set they tell of.

A measured line tells the scale by itself: its length over its natural width. A line that was not measured is one
full measure, but words do not end where lines do: the full line is at least the width written and less than
that with the next word. Where a line's end falls in a word is a matter of chance, anywhere in it alike, so the
middle of the two is on average right, whatever the words' widths; a wide word only says less.
"""

from __future__ import annotations

import math
from itertools import pairwise
from statistics import fmean
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import InvalidValueError, Problem
from copydesk.book.common.typed_values import read_length
from copydesk.book.hands.hand_fit import PRIOR_FREEDOM, Estimate, ragged_loss, weighted_mean
from copydesk.book.hands.hand_set import PAGE_SCATTER, HandSet
from copydesk.book.text.letter_widths import natural_width

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.text.letter_widths import WordWidths


LINE_SCATTER = 0.03
"""How much a hand's single lines differ in closeness until the sample itself tells. Our own judgement."""

SAMPLE_DOUBT = 0.03
"""How far a hand's pages may stand from its sample, as a standard deviation: a sample is written with more
care, and at one sitting. Our own judgement; no published figure was found."""

_LONGEST = 10_000.0


class SampleLine(NamedTuple):
    """One line a hand wrote: its words; its length in mm, or None; whether the text goes on in the next line."""

    words: tuple[str, ...]
    length: float | None = None
    goes_on: bool = True


class FittedScale(NamedTuple):
    """One scale by least squares: mm a letter, its standard error, and degrees of freedom."""

    value: float
    error: float
    freedom: float


def read_sample(text: str, file: str) -> tuple[SampleLine, ...]:
    """Read a sample file: a line written on each line, a tab and its length in mm after those that were measured.

    A blank line parts paragraphs: the line before it may be short.

    Raises:
        CopydeskError: where a length is no length, or there are no lines.
    """
    lines: list[SampleLine] = []
    problems: list[Problem] = []
    rows = text.removeprefix("\ufeff").split("\n")
    for number, row in enumerate(rows, 1):
        written, tab, given = row.strip("\r ").partition("\t")
        words = tuple(written.split())
        if not words:
            continue
        length = _length(given) if tab else None
        if tab and length is None:
            problems.append(_no_length(file, number, len(written) + 2, given))
        follows = number < len(rows) and bool(rows[number].strip())
        lines.append(SampleLine(words, length, goes_on=follows))
    if not lines:
        problems.append(Problem(file, 0, 0, "there are no lines in this sample; put lines the hand wrote in it"))
    if problems:
        raise InvalidValueError(*problems)
    return tuple(lines)


def from_sample(
    lines: Sequence[SampleLine],
    measure: float,
    widths: WordWidths,
    *,
    mean: float = 1.0,
    nib: float = 0.0,
    piece: float | None = None,
) -> HandSet:
    """The set of the hand that wrote these lines.

    Args:
        lines: at least one.
        measure: the full column line in mm.
        widths: the table of widths.
        mean: the mean letter of the text to be written, in the table's unit.
        nib: the nib in mm, if known.
        piece: where this hand breaks its lines within words, the mean width of what stands together (a letter or a
            syllable) in the table's unit; None where it breaks them between words.

    Raises:
        InvalidValueError: where none of the lines takes any room.
    """
    estimates = [each for each in (_measured(lines, measure, widths), _full(lines, widths, piece)) if each]
    if not estimates:
        raise InvalidValueError("the sample's lines hold no letters; put lines the hand wrote in it")
    found = _pooled(estimates)
    letters = found.value / mean
    drawn, doubt = (found.error / mean) ** 2, (SAMPLE_DOUBT * letters) ** 2
    return HandSet(
        letters_per_line=letters,
        spread=PAGE_SCATTER * letters,
        error=math.sqrt(drawn + doubt),
        freedom=found.freedom * ((drawn + doubt) / drawn) ** 2,
        source="sample",
        measure=measure,
        nib=nib,
    )


def fit_scale(natural: Sequence[float], lengths: Sequence[float]) -> FittedScale:
    """The mm a letter that make natural widths come nearest to the lengths, by least squares."""
    squares = math.fsum(width * width for width in natural)
    scale = math.fsum(width * length for width, length in zip(natural, lengths, strict=True)) / squares
    misfit = math.fsum((length - scale * width) ** 2 for width, length in zip(natural, lengths, strict=True))
    mean_length = fmean(lengths)
    freedom = PRIOR_FREEDOM + len(lengths) - 1
    variance = (PRIOR_FREEDOM * (LINE_SCATTER * mean_length) ** 2 + misfit) / freedom
    return FittedScale(scale, math.sqrt(variance / squares), freedom)


def _measured(lines: Sequence[SampleLine], measure: float, widths: WordWidths) -> Estimate | None:
    """Letters a full line, from the lines whose length is known."""
    known = [(natural_width(line.words, widths), line.length) for line in lines if line.length is not None]
    known = [(width, length) for width, length in known if width > 0.0]
    if not known:
        return None
    scale = fit_scale([width for width, _ in known], [length for _, length in known])
    letters = measure / scale.value
    return Estimate(letters, letters * scale.error / scale.value, scale.freedom, 1.0)


def _full(lines: Sequence[SampleLine], widths: WordWidths, piece: float | None) -> Estimate | None:
    """Letters a full line, from the lines that were not measured."""
    ends = [
        (natural_width(line.words, widths), piece or widths.space + widths[after.words[0]])
        for line, after in pairwise(lines)
        if line.length is None and line.goes_on
    ]
    if not ends:
        return _lone(lines, widths)
    middles = [written + reach / 2 for written, reach in ends]
    mean = fmean(middles)
    return weighted_mean(middles, [reach * reach / 12 + (LINE_SCATTER * mean) ** 2 for _, reach in ends])


def _lone(lines: Sequence[SampleLine], widths: WordWidths) -> Estimate | None:
    """The same where no line is seen to go on: half a word more than the longest, and much doubt."""
    unmeasured = [line for line in lines if line.length is None]
    if not unmeasured or len(unmeasured) < len(lines):
        return None
    longest = max(unmeasured, key=lambda line: natural_width(line.words, widths))
    width, loss = natural_width(longest.words, widths), ragged_loss(longest.words, widths)
    return Estimate(width + loss, loss, PRIOR_FREEDOM, 1.0) if width else None


def _pooled(estimates: Sequence[Estimate]) -> Estimate:
    """One estimate of one or two, each by how sure it is."""
    trust = [1 / each.error**2 for each in estimates]
    whole = math.fsum(trust)
    shares = [each / whole for each in trust]
    value = math.fsum(share * each.value for share, each in zip(shares, estimates, strict=True))
    freedom = 1 / math.fsum(share**2 / each.freedom for share, each in zip(shares, estimates, strict=True))
    return Estimate(value, math.sqrt(1 / whole), freedom, 1.0)


def _length(given: str) -> float | None:
    try:
        length = read_length(given)
    except InvalidValueError:
        return None
    return length if 0.0 < length <= _LONGEST else None


def _no_length(file: str, line: int, column: int, given: str) -> Problem:
    return Problem(file, line, column, f"{given.strip()!r} is not a length; write the line's length in mm, as in 52.5")
