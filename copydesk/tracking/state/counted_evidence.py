"""What a hand's pages say of its set where the text is known by its counts only.

Nobody can see from counts whether a page ended where the plan had it, so a page that was only ticked says nothing by
itself. Where a scribe gives the place a page really ended at, all lines of that hand since the last place known say
together how much of the text they held. What a count knows of the words is their mean length, so the letters found are
those of the count, with the doubt of that; a line's ragged end is in them too.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.hands.hand_fit import Usage
from copydesk.book.text.counted_places import letters_doubt
from copydesk.tracking.state.hand_evidence import FEWEST_LINES, NEWEST, ends_a_run, passage_of, usage_by_end, was_forced

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from copydesk.book.layout.page_frame import Frame
    from copydesk.book.plan import CountedDivision
    from copydesk.book.text.copy_text import CopyText
    from copydesk.tracking.state.hand_evidence import Passage
    from copydesk.tracking.state.leaf_state import LeafState


class Reach(NamedTuple):
    """Lines one hand wrote through pages in order, from a place of the text to another.

    ``known`` says that the first place is one somebody gave, ``free`` that nothing made the hand write closer or wider.
    """

    lines: tuple[Passage, ...]
    known: bool
    free: bool

    @property
    def pages(self) -> tuple[int, ...]:
        """The page of each of its passages, as indices in reading order."""
        return tuple(each.page for each in self.lines)

    @property
    def last(self) -> Passage:
        """The passage it ends with."""
        return self.lines[-1]


def newest_reaches(state: LeafState) -> dict[str, list[Reach]]:
    """The newest reaches of each hand that say something, the older before the newer."""
    found: dict[str, list[Reach]] = {}
    reaches = [each for each in _reaches(state) if each.known and each.free]
    for reach in sorted(reaches, key=lambda each: (each.last.tick, each.last.page)):
        if sum(each.to_line - each.from_line + 1 for each in reach.lines) >= FEWEST_LINES:
            found.setdefault(reach.last.hand, []).append(reach)
    return {hand: kept[-NEWEST:] for hand, kept in found.items()}


def usage_of_reach(
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
    shares: list[float] = []
    pages = 0.0
    for passage, frame in zip(reach.lines, frames, strict=True):
        whole = frame.text_lines()
        shares += whole[passage.from_line - 1 : passage.to_line]
        pages += (passage.to_line - passage.from_line + 1) / max(len(whole), 1)
    start, end = reach.lines[0].from_word, reach.last.to_word
    found = usage_by_end(copy, start, end, shares, about)
    if not found.tells:
        return found
    letters = max((copy.piece(end) - copy.piece(start)) / copy.grain, 1.0)
    off = letters_doubt(copy, divisions, start, end) / letters * found.middle
    half = min(math.hypot((found.high - found.low) / 2, math.sqrt(3) * off), 0.9 * found.middle)
    return Usage(found.lines, found.middle - half, found.middle + half, pages=max(pages, 1.0))


def _reaches(state: LeafState) -> Iterator[Reach]:
    """Every reach that ends at a place given, or with its division, in the order of their pages."""
    before: Reach | None = None
    for passage in _passages(state):
        follows = before is not None and _follows(before.last, passage)
        if before is not None and follows and not _ends_known(state, before.last):
            same = before.last.hand == passage.hand
            lines = (*before.lines, passage) if same else (passage,)
            before = Reach(lines, known=before.known and same, free=before.free)
        else:
            before = Reach((passage,), known=True, free=True)
        if passage.page in state.agreed:
            before = before._replace(free=False)
        if passage.planned_at is None and not was_forced(state, passage):
            yield before


def _passages(state: LeafState) -> Iterator[Passage]:
    for index, record in sorted(state.recorded(), key=lambda each: each[0]):
        for stint in record.stints:
            if stint.lines > 0:
                yield passage_of(state, index, [stint])


def _follows(before: Passage, passage: Passage) -> bool:
    return before.to_word == passage.from_word and 0 <= passage.page - before.page <= 1


def _ends_known(state: LeafState, passage: Passage) -> bool:
    """Whether a passage ended at a place that was given, or that shows by itself: where a division ends."""
    return passage.planned_at is None or ends_a_run(state.copy, state.copy.piece(passage.to_word))
