"""How close to write so that a text takes just the lines there are for it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.casting.line_breaking import lines_taken

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.book.text.copy_text import CopyText


FARTHEST = 3.0
"""Nobody writes three times as close, or as wide, as usual."""

_FINE = 8e-6
"""How finely a measure is looked for, as a share of the usual one: some forty letters to less than a thousandth."""


def count_lines(copy: CopyText, start: int, end: int, letters: float) -> int:
    """Lines that the text from piece ``start`` to ``end`` takes at ``letters`` to a full line, from a new line on."""
    return lines_taken(copy, start, end, (1.0,), letters * copy.mean * copy.grain)


def nearest_measure(
    lines_at: Callable[[float], int], lines: int, expected: float, about: float | None = None, *, fine: float = _FINE
) -> float | None:
    """The measure nearest to ``expected`` at which ``lines_at`` gives ``lines``, or just fewer where it leaps past.

    Args:
        lines_at: the lines at a measure; it must not rise with the measure.
        lines: the lines wanted.
        expected: the measure to start from, in any unit.
        about: where the answer is thought to lie, so that fewer measures are tried; the bounds where None.
        fine: how finely it is looked for, as a share of ``expected``.

    Returns:
        The measure, found by halving; None where three times as much gives too many lines still, or a third too few.
    """
    count = lines_at(expected)
    if count == lines:
        return expected
    tight = count > lines
    enough = lines if tight else lines - 1
    step = 1.01 if tight else 1 / 1.01
    bound = expected * (FARTHEST if tight else 1 / FARTHEST)
    near, far = expected, bound
    if about is not None:
        far = max(about, expected * step) if tight else min(about, expected * step)
    while (lines_at(far) <= enough) != tight:
        if far == bound:
            return None
        near, far = far, min(far * step, bound) if tight else max(far * step, bound)
    while abs(far - near) > fine * expected:
        middle = (near + far) / 2
        near, far = (near, middle) if (lines_at(middle) <= enough) == tight else (middle, far)
    low, high = sorted((near, far))
    return low if not tight and lines_at(low) == lines else high
