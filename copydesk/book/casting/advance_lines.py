"""How far a text goes on lines of given room, one after another: what a fit asks again and again of one page.

Nothing here looks at where a division must begin or which spaces wait: the page is written, its lines are known.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from typing import TYPE_CHECKING

from copydesk.book.casting.line_breaking import SLACK, line_end

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.layout.page_frame import Frame
    from copydesk.book.text.copy_text import CopyText, LineRun


_WINDOW = 48
"""Pieces looked at beyond a line's beginning at first; most lines hold fewer."""


def line_shares(frame: Frame) -> list[float]:
    """The part of the full measure that each line for text has, in reading order; lines without room are left out."""
    taken: dict[tuple[int, int], float] = {}
    for placement in frame.fixed:
        left = max(1.0 - placement.share, 0.0) if placement.share > 0.0 else 0.0
        for place in frame.lines_of(placement):
            taken[place] = min(taken.get(place, 1.0), left)
    for column, line, share in frame.flaws:
        taken[column, line] = min(taken.get((column, line), 1.0), share)
    places = ((column, line) for column in range(1, frame.columns + 1) for line in range(1, frame.lines + 1))
    return [share for place in places if (share := taken.get(place, 1.0)) > 0.0]


def reached(copy: CopyText, start: int, shares: Sequence[float], width: float) -> int:
    """The piece the next line would begin with, after lines of these shares of ``width`` from ``start`` on.

    ``width`` is a full line in the units of ``copy.sums``; a new run begins a new line.
    """
    runs, piece, last, inner = copy.runs, start, copy.pieces, copy.inner
    ahead = bisect_right(runs, start, key=_run_start)
    edge = runs[ahead].start if ahead < len(runs) else last
    sums, spare = copy.sums, copy.space + SLACK
    for share in shares:
        if piece == edge:
            if piece >= last:
                break
            ahead += 1
            edge = runs[ahead].start if ahead < len(runs) else last
        if inner:
            piece = line_end(copy, piece, width * share, edge)
            continue
        reach, far = sums[piece] + width * share + spare, piece + _WINDOW
        end = bisect_right(sums, reach, piece + 1, (far if far < edge else edge) + 1) - 1
        if end == far:
            end = bisect_right(sums, reach, end, edge + 1) - 1
        piece = end if end > piece else piece + 1
    return piece


def lines_taken(copy: CopyText, start: int, end: int, shares: Sequence[float], width: float) -> int:
    """Lines that the text from piece ``start`` to ``end`` takes, from a new line on.

    Args:
        copy: the text.
        start: its first piece.
        end: the piece after its last.
        shares: the part of the full measure each line has, in order; the last as often as need be.
        width: a full line, in the units of ``copy.sums``.
    """
    if start >= end:
        return 0
    first, last = bisect_right(copy.runs, start, key=_run_start), bisect_left(copy.runs, end, key=_run_start)
    lines, piece, room, most = 0, start, width * shares[0], len(shares)
    for edge in (*(run.start for run in copy.runs[first:last]), end):
        while piece < edge:
            piece = line_end(copy, piece, room, edge)
            lines += 1
            if lines < most:
                room = width * shares[lines]
    return lines


def _run_start(run: LineRun) -> int:
    return run.start
