"""Where the text of a page can have begun and ended, by what is known of the hand; what lies beyond is questioned.

The bounds are wide, since a question that was not needed costs trust: half as close again as the hand is
thought to write, or half as close, or four times its own doubt where that is more; and a line more or less besides.
They are our own judgement. Pages only ticked before this one may have ended elsewhere, so their lines count too.
Where a page begins may differ by some lines more, since a slip of the eye skips or repeats that much.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.casting.line_breaking import reached
from copydesk.book.common.phrases import count_of, decimal
from copydesk.book.structure.page import Page
from copydesk.tracking.state.hand_evidence import ticked_before

if TYPE_CHECKING:
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.state.hand_evidence import Passage


_CLOSER, _WIDER = 1.5, 2.0
_DOUBTS = 4.0
_SLIP = 5
"""Lines that a slip of the eye may skip or repeat before a page begins without a question."""


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
    letters, low, high = _letters(state, index, hand)
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


def _letters(state: BookState, index: int, hand: str) -> tuple[float, float, float]:
    """What a hand is thought to put on a line of a page, the least it can have put there, and the most."""
    letters, known = state.letters_on(index, hand), state.sets.get(hand)
    doubt = _DOUBTS * math.hypot(known.error, known.spread) / letters if known is not None else 0.0
    return letters, letters / max(_WIDER, 1 + doubt), letters * max(_CLOSER, 1 + doubt)


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
        f"{decimal(can.letters, 1)}, which makes {bound} words"
    )


class _Before(NamedTuple):
    """The text before a page: up to which word it is known to be written, and the lines after that, page by page.

    ``ticked`` lines are written, ``unwritten`` ones are not.
    """

    word: int
    ticked: list[tuple[int, list[float]]]
    unwritten: list[tuple[int, list[float]]]


def _before(state: BookState, index: int, *, goes_on: bool) -> _Before:
    """The text before a page, or where it ``goes_on`` there, before the lines that are still to be written."""
    unwritten: list[tuple[int, list[float]]] = []
    for at in range(index if goes_on else index - 1, -1, -1):
        record = state.record(state.skin_at(at))
        if at < index and not record.whole:
            unwritten.insert(0, (at, _text_lines(state, at)[record.written :]))
        if record.stints and record.ends is not None:
            ticked = ticked_before(state, at, record.ends)
            lines = [(each.page, _shares(state, each)) for each in ticked]
            return _Before(ticked[0].from_word if ticked else record.ends, lines, unwritten)
        if record.start_word is not None:
            return _Before(record.start_word, [], unwritten)
    return _Before(0, [], unwritten)


def doubt_about_beginning(state: BookState, index: int, start: int, given: str, *, goes_on: bool = False) -> str:
    """Why a page cannot have begun there, with the figures; empty where it can.

    The lines before it may have been left blank, so it may begin as early as the text written ends.

    Args:
        state: the book.
        index: the page.
        start: the word it is said to begin with.
        given: the words by which that was given.
        goes_on: whether these are the words with which a page begun goes on.
    """
    copy, hand, before = state.copy, state.hand_on(index), _before(state, index, goes_on=goes_on)
    unit, (letters, _, high) = copy.mean * copy.grain, _letters(state, index, hand)
    nearest = farthest = copy.piece(before.word)
    for at, shares in before.ticked:
        nearest = reached(copy, nearest, shares, _letters(state, at, state.hand_on(at))[1] * unit)
    for at, shares in (*before.ticked, *before.unwritten):
        farthest = reached(copy, farthest, shares, _letters(state, at, state.hand_on(at))[2] * unit)
    least = bisect_left(copy.sums, copy.sums[nearest] - _SLIP * high * unit)
    farthest = reached(copy, farthest, [1.0] * _SLIP, high * unit)
    if least <= copy.piece(start) <= farthest:
        return ""
    late = copy.piece(start) > farthest
    where = f'if {state.book.named(Page.at(index))} {"went on" if goes_on else "began"} with "{given}",'
    first = before.word if late else copy.word(nearest)
    words = count_of(abs(start - first), "word")
    width = abs(copy.sums[copy.piece(start)] - copy.sums[copy.piece(first)]) / unit
    lines = sum(len(shares) for _, shares in (*before.ticked, *before.unwritten))
    if late and lines:
        most = count_of(copy.word(farthest) - first, "word")
        return (
            f"{where} {words} would stand in the {count_of(lines, 'line')} before it, some {width / lines:.0f} letters "
            f"a line; {hand} writes {decimal(letters, 1)}, which makes at most about {most}"
        )
    verb = "be skipped before it" if late else "be written twice"
    return f"{where} {words} would {verb}, some {count_of(max(round(width / letters), 1), 'line')} as {hand} writes"
