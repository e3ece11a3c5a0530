"""How close to write so that a text takes just the lines there are for it."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from typing import TYPE_CHECKING

from copydesk.book.casting.line_breaking import line_end

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.book.text.copy_text import CopyText, LineRun


_FARTHEST = 3.0
"""Nobody writes three times as close, or as wide, as usual."""

_HALVINGS = 18
"""Enough to settle a measure of some forty letters to a thousandth."""


def count_lines(copy: CopyText, start: int, end: int, measure: float) -> int:
    """Lines that the text from ``start`` to ``end`` needs at ``measure`` letters, from a new line on."""
    if start >= end:
        return 0
    width = measure * copy.mean * copy.grain
    first, last = (bisect(copy.runs, edge, key=_begins) for bisect, edge in ((bisect_right, start), (bisect_left, end)))
    edges = [run.start for run in copy.runs[first:last]] + [end]
    lines, piece = 0, start
    for edge in edges:
        while piece < edge:
            piece = line_end(copy, piece, width, edge)
            lines += 1
    return lines


def letters_needed(copy: CopyText, start: int, end: int, lines: int, expected: float) -> float | None:
    """Letters to a line that make the text from ``start`` to ``end`` take ``lines`` lines, nearest to ``expected``.

    None where there are no lines for it or no text, or where not even three times as many letters do it, or a third.
    """
    if lines <= 0 or start >= end:
        return None
    return nearest_measure(lambda letters: count_lines(copy, start, end, letters), lines, expected)


def nearest_measure(lines_at: Callable[[float], int], lines: int, expected: float) -> float | None:
    """The measure nearest to ``expected`` at which ``lines_at`` gives ``lines``, or just fewer where it leaps past.

    ``lines_at`` must not rise with the measure. Found by halving; None where three times as much gives too many
    lines still, or a third too few.
    """
    count = lines_at(expected)
    if count == lines:
        return expected
    low, high = (expected, expected * _FARTHEST) if count > lines else (expected / _FARTHEST, expected)
    if lines_at(high) > lines or lines_at(low) < lines:
        return None
    enough = lines if count > lines else lines - 1
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if lines_at(middle) <= enough:
            high = middle
        else:
            low = middle
    return low if enough < lines and lines_at(low) == lines else high


def _begins(run: LineRun) -> int:
    return run.start
