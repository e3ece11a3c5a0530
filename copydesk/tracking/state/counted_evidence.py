"""What a hand's pages say of its set where the text is known by its counts only.

What a count knows of the words is their mean length, so the letters found are those of the count, with the doubt of
that; a line's ragged end is in them too.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from copydesk.book.text.counted_places import letters_doubt
from copydesk.tracking.state.hand_evidence import usage_of_reach

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.flow import CountedDivision
    from copydesk.book.hands.hand_fit import Usage
    from copydesk.book.layout.page_frame import Frame
    from copydesk.book.text.copy_text import CopyText
    from copydesk.tracking.state.hand_evidence import Reach


def counted_usage(
    divisions: Sequence[CountedDivision], copy: CopyText, reach: Reach, frames: tuple[Frame, ...], about: float
) -> Usage:
    """What one reach says of the hand.

    Args:
        divisions: the divisions of the text, with their counts.
        copy: the text laid out.
        reach: the lines written.
        frames: those of its pages, in the same order.
        about: letters a line to begin looking from.
    """
    found = usage_of_reach(copy, reach, frames, about)
    if not found.tells:
        return found
    start, end = reach.lines[0].from_word, reach.last.to_word
    letters = max((copy.piece(end) - copy.piece(start)) / copy.grain, 1.0)
    off = letters_doubt(copy, divisions, start, end) / letters * found.middle
    half = min(math.hypot((found.high - found.low) / 2, math.sqrt(3) * off), 0.9 * found.middle)
    return replace(found, low=found.middle - half, high=found.middle + half)
