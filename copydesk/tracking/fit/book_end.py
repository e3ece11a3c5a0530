"""The end of the book: the chance that the text fits the sheets, and the blank lines left at its end.

Lines still to be written are as uncertain as the hands that will write them: how sure each hand's mean is affects all
its lines alike; how single pages scatter about the mean evens out over many. Where the text runs on, this uncertainty
adds up to the end. Where a part of the text must begin a page, the blank lines before that page absorb it; so the text
is then cast with its hands closer and wider, and the chance is read off at the point where it stops fitting.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from statistics import NormalDist
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.distributions import Range
from copydesk.tracking.fit.trial_casting import cast_closer, first_free

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from copydesk.book.hands.hand_set import HandSet
    from copydesk.tracking.state.book_state import BookState


BLANK_LEVEL = 0.80

_MOST_PAGES = 300
"""With more pages than this the uncertainty is spread over all lines alike: ten castings would take too long."""

_FARTHEST = 4.0
_HALVINGS = 7


class HandLeft(NamedTuple):
    """What one hand is expected to write yet: lines, pages, and how far those lines may be off (standard deviation)."""

    hand: str
    lines: int
    pages: int
    sd: float


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
        HandLeft(hand, count, pages.get(hand, 0), lines_sd([_stretch(state, hand, count, pages, ragged)]))
        for hand, count in sorted(lines.items(), key=lambda item: _order(state, item[0]))
    ]


def end_of_book(state: BookState) -> Ending:
    """The chance that the text fits the sheets in hand, and the lines left blank at its end (80 % range)."""
    budget, first = state.budget, first_free(state)
    left = left_by_hand(state, first)
    lines = sum(each.lines for each in left)
    sd = sum(each.sd**2 for each in left) ** 0.5
    blank = budget.lines_left_over - budget.lines_without_room
    if sd > 0 and _breaks_pages(state, first) and len(budget.pages) - first <= _MOST_PAGES:
        return _by_casting(state, first, {each.hand: each.sd / each.lines for each in left}, blank)
    return ending(lines + blank, lines, sd, BLANK_LEVEL)


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


def _by_casting(state: BookState, first: int, shares: Mapping[str, float], blank: int) -> Ending:
    """The same where parts of the text begin pages; ``shares`` are the standard deviations as shares of the lines.

    All hands are taken to err the same way at once, which makes the range rather wide where several write.
    """

    def blank_at(z: float) -> int:
        return _blank(state, first, lambda hand: 1 / max(1 + z * shares.get(hand, 0.0), 0.1))

    # Halve the range of deviations z until the one is found at which the text just fits. Blank lines fall as z rises,
    # because every hand then writes wider; the chance that the text fits is the chance of a deviation below that z.
    low, high = -_FARTHEST, _FARTHEST
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if blank_at(middle) >= 0 else (low, middle)
    half = NormalDist().inv_cdf(0.5 + BLANK_LEVEL / 2)
    return Ending(NormalDist().cdf((low + high) / 2), Range(blank_at(half), blank, blank_at(-half)))


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


def lines_sd(stretches: Iterable[LinesToWrite]) -> float:
    """How far the lines still to be written may be off, as a standard deviation."""
    return math.sqrt(math.fsum(_variance(stretch) for stretch in stretches))


def ending(room: float, lines: float, sd: float, level: float = 0.80) -> Ending:
    """The chance that the text fits the sheets the book has, and the lines left blank.

    Args:
        room: text lines there are for what is left to write.
        lines: lines it is expected to take.
        sd: how far those may be off, as a standard deviation (see ``lines_sd``).
        level: the share of ranges that should hold the blank lines.
    """
    blank = room - lines
    if sd <= 0:
        return Ending(1.0 if blank >= 0 else 0.0, Range(blank, blank, blank))
    half = NormalDist().inv_cdf(0.5 + level / 2) * sd
    # Lines are whole: a text that runs over by less than half a line is as likely as not cast to fit.
    return Ending(NormalDist().cdf((blank + 0.5) / sd), Range(blank - half, blank, blank + half))


def _variance(stretch: LinesToWrite) -> float:
    hand = stretch.hand
    full = hand.letters_per_line - stretch.ragged
    if full <= 0 or stretch.lines <= 0:
        return 0.0
    error = hand.error * _heavy_tails(hand.freedom)
    return stretch.lines**2 * (error**2 + hand.spread**2 / max(1.0, stretch.pages)) / full**2


def _heavy_tails(freedom: float) -> float:
    """How much wider a normal curve must be to spread like Student's, where he has a variance."""
    return math.sqrt(1 + 2 / (freedom - 2)) if freedom > 3 else math.sqrt(3.0)
