"""Verses longer than their line: whether what is over of one has room at the end of the line above it or below it.

The habit and its mark (a stroke or bracket before the words) are common practice; how much room the mark needs is our
own judgement.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from copydesk.book.text.copy_text import CopyText


TURN_MARK = 2.0
"""Letters of room before words turned into another line: the mark, and white on both its sides."""


def turns_over(copy: CopyText, at: int, end: int, measure: float) -> bool:
    """Whether what a verse holds from piece ``end`` on has room in the line of its stanza that the book turns it into.

    Args:
        copy: the text.
        at: the number of the verse's run.
        end: the first piece that its own line has no room for.
        measure: a full line, in the units of ``copy.sums``.
    """
    runs, sums = copy.runs, copy.sums
    other = at - 1 if copy.flow.long_verses == "line above" else at + 1
    if copy.flow.long_verses == "next line" or not 0 <= other < len(runs):
        return False
    verse, line = runs[at].shape, runs[other].shape
    if verse is None or line is None or not verse.stanza or line.stanza != verse.stanza:
        return False
    rest = sums[copy.run_end(at)] - sums[end] - copy.space
    own = line.indent + sums[copy.run_end(other)] - sums[runs[other].start]
    return own + TURN_MARK * copy.mean + rest <= measure


def apart(copy: CopyText) -> list[int]:
    """The pieces that begin verses whose lines depend on what stands above or below them in their column."""
    if not copy.shaped:
        return []
    turned = copy.flow.long_verses != "next line"
    shapes = ((run.start, run.shape) for run in copy.runs if run.shape is not None)
    return [start for start, shape in shapes if shape.blank or (turned and shape.stanza)]
