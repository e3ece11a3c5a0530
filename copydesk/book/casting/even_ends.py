"""The lines of a paragraph chosen all at once, so that their ends are most even.

Of all ways to break a paragraph into as few lines as words taken as they come fill, the one with the least sum of
squares of what its lines are short, the last line aside, by dynamic programming (after D. E. Knuth and M. F. Plass,
"Breaking paragraphs into lines", *Software: Practice and Experience* 11, 1981; from
memory). Since what follows a line depends on
nothing before it, the lines from any one of them on are those of breaking from there; and since a text never takes
more lines than as it comes, no budget changes by the choice.
"""

from __future__ import annotations

from bisect import bisect_left
from math import floor, inf
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.text.copy_text import CopyText


LONGEST = 20_000
"""Pieces of a paragraph; the words of a longer one are taken as they come. No paragraph of prose is so long."""

_STEP = 1024
"""What lines are short by is counted in 1024ths of a letter, as widths are, so that sums are exact."""


def chooses(copy: CopyText) -> bool:
    """Whether the lines of a text's paragraphs are chosen."""
    return copy.flow.line_ends == "even" and copy.parts is None


def chooses_in(copy: CopyText, at: int, forced: Sequence[int]) -> bool:
    """Whether the lines of the run numbered ``at`` are chosen: prose whose lines are all alike, and not too long.

    Nor may a word stand in it that no line holds whole; ``forced`` are the pieces of such words, in order.
    """
    run, end = copy.runs[at], copy.run_end(at)
    if run.kind != "prose" or run.shape is not None or end - run.start > LONGEST:
        return False
    return bisect_left(forced, run.start) == bisect_left(forced, end)


def even_lines(copy: CopyText, filled: Sequence[int], measure: float, slack: float, *, closes: bool) -> list[int]:
    """The first piece of each line of a paragraph, or of the part of one, whose lines were filled as words come.

    Args:
        copy: the text.
        filled: the first piece of each line where words are taken as they come, and the piece after the last.
        measure: a full line, in the units of ``copy.sums``.
        slack: by how much a line may pass it, for what sums are rounded by.
        closes: whether the paragraph ends there, so that the last line may be as short as it is.
    """
    last = len(filled) - 1
    if last < 3 - (not closes):
        return list(filled[:-1])
    begins = _earliest(copy, filled, measure + slack)
    exact = floor(measure * _STEP) / _STEP
    choose = _with_parts if copy.inner else _with_words
    after = choose(copy, begins, filled, exact, measure + slack, closes)
    lines, piece = [], filled[0]
    for line in range(last):
        lines.append(piece)
        piece = after[line][piece - begins[line]]
    return lines


def _earliest(copy: CopyText, filled: Sequence[int], room: float) -> list[int]:
    """The first piece each line can begin with so that the rest still fits into the lines after it."""
    sums, room = copy.sums, room + copy.space
    after = filled[-1]
    earliest = [after]
    for line in range(len(filled) - 2, 0, -1):
        least, begin = sums[after] - room, filled[line]
        first = filled[line - 1] + 1
        while begin > first and sums[begin - 1] >= least:
            begin -= 1
        earliest.append(begin)
        after = begin
    earliest.append(filled[0])
    return earliest[::-1]


def _with_words(
    copy: CopyText, begins: Sequence[int], filled: Sequence[int], measure: float, room: float, closes: bool
) -> list[Sequence[int]]:
    """For each piece a line may begin with, the piece after its best end, line by line, where words stay whole.

    The later a line begins, the later its best end lies, since what a line is short costs by its square; so the ends
    before the last best one need no look. Written out in one loop: a large book spends its time here.
    """
    sums, space = copy.sums, copy.space
    last = len(filled) - 2
    found: list[Sequence[int]] = [()] * (last + 1)
    first_end, after_ends = filled[-1], filled[-1] + 1
    costs = [0.0]
    for line in range(last, -1, -1):
        low, high = begins[line], filled[line]
        if after_ends - first_end == 1:
            found[line] = [first_end] * (high - low + 1)
            if line == last and closes:
                costs = [0.0] * (high - low + 1)
            else:
                full = measure + space - sums[first_end]
                costs = [(full + start) ** 2 for start in sums[low : high + 1]]
            first_end, after_ends = low, high + 1
            continue
        own: list[float] = []
        ends: list[int] = []
        at = top = first_end
        for begin in range(low, high + 1):
            short = sums[begin] + space
            reach = short + room
            while top < after_ends and (sums[top] <= reach or top == begin + 1):
                top += 1
            short += measure
            best = inf
            for end in range(at, top):
                left = short - sums[end]
                cost = costs[end - first_end] + left * left
                if cost < best:
                    best, at = cost, end
            own.append(best)
            ends.append(at)
        found[line], costs = ends, own
        first_end, after_ends = low, high + 1
    return found


def _with_parts(
    copy: CopyText, begins: Sequence[int], filled: Sequence[int], measure: float, room: float, closes: bool
) -> list[Sequence[int]]:
    """The same where lines may end within words, whose mark takes room."""
    sums, inner = copy.sums, copy.inner
    last = len(filled) - 2
    found: list[Sequence[int]] = [()] * (last + 1)
    ends, costs = [filled[-1]], [0.0]
    for line in range(last, -1, -1):
        widths = [sums[end] + (copy.hyphen if end in inner else -copy.space) for end in ends]
        own: list[float] = []
        after: list[int] = []
        for begin in range(begins[line], filled[line] + 1):
            start = sums[begin]
            best, chosen = inf, ends[-1]
            for end, width, cost in zip(ends, widths, costs, strict=True):
                if width - start <= room or end == begin + 1:
                    left = start + measure - width
                    whole = cost if closes and line == last else cost + left * left
                    if whole < best:
                        best, chosen = whole, end
            own.append(best)
            after.append(chosen)
        found[line], costs = after, own
        ends = list(range(begins[line], filled[line] + 1))
    return found
