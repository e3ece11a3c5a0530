"""How far and how near the text of a page can have come, by what is known of the hand; what lies beyond is questioned.

The bounds are wide, since a question that was not needed costs trust: half as close again as the hand is
thought to write, or half as close, or four times its own doubt where that is more; and a line more or less besides.
They are our own judgement. Pages only ticked before this one may have ended elsewhere, so their lines count too.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.casting.line_breaking import reached
from copydesk.book.common.phrases import count_of
from copydesk.tracking.state.hand_evidence import ticked_before

if TYPE_CHECKING:
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.state.hand_evidence import Passage


_CLOSER, _WIDER = 1.5, 2.0
_DOUBTS = 4.0


class Reachable(NamedTuple):
    """Where ``lines`` lines of a page from the word ``start`` on can have ended: words of the exemplar, after the last.

    ``letters`` is what ``hand`` is thought to put on a line, ``low`` to ``high`` what it can have put there.
    """

    hand: str
    lines: int
    start: int
    nearest: int
    farthest: int
    letters: float
    low: float
    high: float


def reachable(state: BookState, index: int, lines: range, start: int, hand: str = "") -> Reachable:
    """Where text can have ended.

    Args:
        state: the book.
        index: the page.
        lines: its text lines that were written, counted from 1.
        start: the word they begin with.
        hand: the hand that wrote them; the one expected there where empty.
    """
    copy = state.copy
    hand = hand if hand in state.sets else state.hand_on(index)
    letters, known = state.letters_on(index, hand), state.sets.get(hand)
    doubt = _DOUBTS * math.hypot(known.error, known.spread) / letters if known is not None else 0.0
    low, high = letters / max(_WIDER, 1 + doubt), letters * max(_CLOSER, 1 + doubt)
    shares = _text_lines(state, index)[lines.start - 1 : lines.stop - 1] or [1.0] * len(lines)
    ticked = ticked_before(state, index, start)
    before = [share for each in ticked for share in _shares(state, each)]
    piece, unit = copy.piece(ticked[0].from_word if ticked else start), copy.mean * copy.grain
    nearest = max(reached(copy, piece, [*before, *shares[:-1]], low * unit), copy.piece(start))
    # No line is left empty at a page's end but before text that must begin on a new one.
    stops = (run.start for run in copy.runs if run.start > copy.piece(start) and run.starts != "line")
    nearest = min(nearest, next(stops, copy.pieces))
    farthest = reached(copy, piece, [*before, *shares, 1.0], high * unit)
    return Reachable(hand, len(lines), start, copy.word(nearest), copy.word(farthest), letters, low, high)


def _shares(state: BookState, passage: Passage) -> list[float]:
    return _text_lines(state, passage.page)[passage.from_line - 1 : passage.to_line]


def _text_lines(state: BookState, index: int) -> list[float]:
    """The shares of a page's lines with room for text, beside the spaces on it and those planned for it."""
    frame = state.frame_of(index)
    return frame._replace(fixed=(*frame.fixed, *state.budget.pages[index].placed)).text_lines()


def doubt_about(state: BookState, page: str, can: Reachable, end: int, given: str) -> str:
    """Why nobody can have ended there, with the figures; empty where the hand can.

    Args:
        state: the book.
        page: what people call the page.
        can: where its text can have ended.
        end: the word after the last one said to be written.
        given: the words by which the end was given, empty where it is the plan's.
    """
    if can.nearest <= end <= can.farthest:
        return ""
    copy = state.copy
    width = copy.sums[copy.piece(end)] - copy.sums[copy.piece(can.start)]
    letters = width / (copy.mean * copy.grain) / max(can.lines, 1)
    words = count_of(end - can.start, "word")
    where = f'if {page} ended with "{given}", it would have' if given else f"{page} would have"
    most, least = can.farthest - can.start, can.nearest - can.start
    bound = f"at most about {most}" if end > can.farthest else f"at least about {least}"
    return (
        f"{where} {words} in {count_of(can.lines, 'line')}, some {letters:.0f} letters a line; {can.hand} writes "
        f"{can.letters:.1f}, which makes {bound} words"
    )
