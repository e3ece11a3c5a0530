"""The end of the book: the chance that the text fits the sheets, and the blank lines left at its end.

Lines still to be written are as uncertain as the hands that will write them: how sure each hand's mean is, and how it
may move meanwhile, affects all its lines alike; how single pages scatter about the mean evens out over many. Where the
text runs on, this uncertainty adds up to the end. Where a part of the text must begin a page, the blank lines before
that page absorb it; so the text is then cast with its hands closer and wider, and the chance is read off at the point
where it stops fitting.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from functools import reduce
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.distributions import Mixture, Part, Range
from copydesk.tracking.fit.trial_casting import cast_closer, first_free

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from copydesk.book.hands.hand_set import HandSet
    from copydesk.tracking.state.book_state import BookState


BLANK_LEVEL = 0.80

_MOST_PAGES = 300
"""With more pages than this the uncertainty is spread over all lines alike: ten castings would take too long."""

_MOVING_APART = 4
"""With more hands than these, the surest are each taken for one normal curve: parts multiply."""

_NONE = Mixture.normal(0.0)

_FARTHEST = 4.0
_HALVINGS = 7


class HandLeft(NamedTuple):
    """What one hand is expected to write yet: lines, pages, and how many more lines it may take."""

    hand: str
    lines: int
    pages: int
    off: Mixture

    @property
    def sd(self) -> float:
        """How far the lines may be off, as a standard deviation."""
        return self.off.sd


def left_by_hand(state: BookState, first: int = 0) -> list[HandLeft]:
    """What each hand has left to write from the page at ``first`` on, hands in the book's order."""
    budget = state.budget
    lines: dict[str, int] = {}
    pages: dict[str, int] = {}
    for index, page in enumerate(budget.pages[first:], start=first):
        left = page.planned - page.written
        if left > 0:
            hand = state.hand_on(index)
            lines[hand], pages[hand] = lines.get(hand, 0) + left, pages.get(hand, 0) + 1
    if budget.lines_without_room:
        last = state.hand_of(max(len(budget.pages) - 1, 0))
        lines[last] = lines.get(last, 0) + budget.lines_without_room
    ragged = _ragged(state, first, lines)
    return [
        HandLeft(hand, count, pages.get(hand, 0), lines_off([_stretch(state, hand, count, pages, ragged)]))
        for hand, count in sorted(lines.items(), key=lambda item: _order(state, item[0]))
    ]


def end_of_book(state: BookState) -> Ending:
    """The chance that the text fits the sheets in hand, and the lines left blank at its end (80 % range)."""
    budget, first = state.budget, first_free(state)
    left = left_by_hand(state, first)
    lines = sum(each.lines for each in left)
    off = _together(each.off for each in left)
    blank = budget.lines_left_over - budget.lines_without_room
    if off.sd > 0 and _breaks_pages(state, first) and len(budget.pages) - first <= _MOST_PAGES:
        return _by_casting(state, first, left, off, blank)
    return ending(lines + blank, lines, off, BLANK_LEVEL)


def _stretch(state: BookState, hand: str, lines: int, pages: dict[str, int], ragged: float) -> LinesToWrite:
    known = state.sets.get(hand) or next(iter(state.sets.values()))
    return LinesToWrite(known, lines, pages.get(hand, 0), ragged * known.letters_per_line)


def _ragged(state: BookState, first: int, lines: dict[str, int]) -> float:
    """The share of a full line that stays empty on the whole: at line ends, and where a paragraph ends."""
    budget, copy = state.budget, state.copy
    cast = budget.casts[first] if first < len(budget.pages) else None
    full = sum(state.letters_of(hand) * count for hand, count in lines.items())
    if cast is None or not full:
        return 0.0
    text = (copy.sums[copy.pieces] - copy.sums[cast.start.piece]) / (copy.mean * copy.grain)
    return min(max(1 - text / full, 0.0), 0.5)


def _breaks_pages(state: BookState, first: int) -> bool:
    """Whether some part of the text from a page on must begin a column, a page or a recto."""
    pages, runs = state.budget.pages, state.copy.runs
    start = pages[first].start if first < len(pages) else state.copy.pieces
    later = runs[bisect_left(runs, start + 1, key=lambda run: run.start) :]
    return any(run.starts in ("column", "page", "recto") for run in later)


def _by_casting(state: BookState, first: int, left: Sequence[HandLeft], off: Mixture, blank: int) -> Ending:
    """The same where parts of the text begin pages; ``off`` is how many more lines than expected are ``left``.

    Of lines too many, each hand is likely to have taken as much as its part of the variance of all.
    """
    parts = {each.hand: each.off.sd**2 / off.sd**2 / each.lines for each in left}

    def blank_at(more: float) -> int:
        return _blank(state, first, lambda hand: 1 / max(1 + more * parts.get(hand, 0.0), 0.1))

    # Halve the range of lines taken besides until the number is found at which the text just fits. Blank lines fall as
    # it rises, because every hand then writes wider; the chance that the text fits is the chance of fewer.
    low, high = (off.mean + sign * _FARTHEST * off.sd for sign in (-1, 1))
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if blank_at(middle) >= 0 else (low, middle)
    fewest, most = (blank_at(off.quantile(0.5 + half / 2)) for half in (BLANK_LEVEL, -BLANK_LEVEL))
    return Ending(off.cdf((low + high) / 2), Range(min(fewest, blank), blank, max(most, blank)))


def _blank(state: BookState, first: int, times: Callable[[str], float]) -> int:
    """Lines left blank at the end (below 0: without room), each hand writing so many times as many letters a line."""
    budget = state.budget

    def letters_on(index: int) -> float:
        return state.letters_on(index) * times(state.hand_on(index))

    cast = cast_closer(state, first, len(budget.pages) - 1, state.copy.pieces, letters_on)
    if cast is None:
        return budget.lines_left_over - budget.lines_without_room
    if cast.over:
        return -cast.over
    last = max((at for at, page in enumerate(cast.pages) if page.lines or page.placed), default=-1)
    rooms = [page.room - page.lines for page in cast.pages[max(last, 0) :]]
    return sum(max(room, 0) for room in rooms)


def _order(state: BookState, hand: str) -> int:
    return next((at for at, each in enumerate(state.book.hands) if each.id == hand), len(state.book.hands))


class LinesToWrite(NamedTuple):
    """Lines one hand is expected to write yet, on so many pages; ``ragged`` letters of each full line stay empty."""

    hand: HandSet
    lines: float
    pages: float
    ragged: float = 0.0


class Ending(NamedTuple):
    """The chance that the text fits, and the lines left blank at the end (80 % range; below 0 there is no room)."""

    chance_text_fits: float
    blank_lines: Range


def lines_off(stretches: Iterable[LinesToWrite]) -> Mixture:
    """How many lines more than expected the lines still to be written may take: hands err and move apart."""
    return _together(map(_off, stretches))


def _together(each_off: Iterable[Mixture]) -> Mixture:
    found = sorted(each_off, key=lambda each: -each.sd)
    return reduce(Mixture.plus, (each if at < _MOVING_APART else each.as_one() for at, each in enumerate(found)), _NONE)


def lines_sd(stretches: Iterable[LinesToWrite]) -> float:
    """How far the lines still to be written may be off, as a standard deviation."""
    return lines_off(stretches).sd


def ending(room: float, lines: float, off: Mixture, level: float = 0.80) -> Ending:
    """The chance that the text fits the sheets the book has, and the lines left blank.

    Args:
        room: text lines there are for what is left to write.
        lines: lines it is expected to take.
        off: how many more those may be (see ``lines_off``).
        level: the share of ranges that should hold the blank lines.
    """
    blank = room - lines
    if off.sd <= 0:
        return Ending(1.0 if blank >= 0 else 0.0, Range(blank, blank, blank))
    low, high = (blank - off.quantile(0.5 + half / 2) for half in (level, -level))
    # Lines are whole: a text that runs over by less than half a line is as likely as not cast to fit.
    return Ending(off.cdf(blank + 0.5), Range(min(low, blank), blank, max(high, blank)))


def _off(stretch: LinesToWrite) -> Mixture:
    """The same for one stretch: where the hand's mean may be, and how its pages scatter about it.

    A hand that writes closer takes fewer lines; letters that stay empty at the line's end stay so however it writes.
    """
    hand = stretch.hand
    full = hand.letters_per_line - stretch.ragged
    if full <= 0 or stretch.lines <= 0:
        return _NONE
    pages, tails = max(1.0, stretch.pages), _heavy_tails(hand.freedom)
    scatter = hand.spread / full / math.sqrt(pages)
    times = hand.letters_per_line / full
    return Mixture(
        tuple(
            Part(
                part.share,
                stretch.lines * math.expm1(-times * part.mean),
                stretch.lines * math.exp(-times * part.mean) * math.hypot(times * part.sd * tails, scatter),
            )
            for part in hand.over(pages).parts
        )
    )


def _heavy_tails(freedom: float) -> float:
    """How much wider a normal curve must be to spread like Student's, where he has a variance."""
    return math.sqrt(1 + 2 / (freedom - 2)) if freedom > 3 else math.sqrt(3.0)
