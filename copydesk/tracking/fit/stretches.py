"""Stretches: pages between two fixed beginnings, and how close a hand must write for their text to fit exactly.

The letters a line needed are compared with how much the hand's own pages differ: within the range of nine pages in ten
is *easy*; within three times their spread, or a twelfth of its letters where that is more, is *hard*; beyond is
*impossible*, and another remedy is needed. The bounds are our own judgement; no published figure was found.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Literal, NamedTuple
from weakref import WeakKeyDictionary

from copydesk.book.casting.closeness import FARTHEST, nearest_measure
from copydesk.book.casting.line_budget import HeldPages
from copydesk.book.columns import Cell, Column, Report, one_of, rows_of
from copydesk.book.common.distributions import student_quantile
from copydesk.book.common.phrases import decimal
from copydesk.book.structure.page import Page
from copydesk.tracking.fit.trial_casting import cast_closer, first_free

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.book.hands.hand_set import HandSet
    from copydesk.tracking.state.book_state import BookState


Verdict = Literal["easy", "hard", "impossible"]

HARD_SPREADS = 3.0
HARD_SHARE = 0.08

_LONG = 200
"""In a longer stretch (pages) the letters follow from the length of the text, and from a few castings of it."""

_CORRECTIONS = 6

_FINE = 1e-3
"""How finely a closeness is looked for, as a share of it; a scribe cannot follow a finer one."""


class Target(NamedTuple):
    """What a stretch asks of one hand: the lines and pages it has left there, the letters a line it writes, and needed.

    ``usual`` are its own letters a line; ``now`` those it is cast off at there, which are others where another
    closeness was agreed. ``needed`` is None where no closeness lands right.
    """

    hand: str
    lines: int
    pages: int
    usual: float
    now: float
    needed: float | None
    verdict: Verdict


class Need(NamedTuple):
    """What a stretch asks: its pages (indices, last included), lines over, letters a line needed and usual.

    ``over`` is negative where lines are left. ``letters`` is what the hand of the page asked for usually writes,
    ``needed`` what it must write for the text to land right, None where no closeness does; ``targets`` has the same for
    every hand that writes there, all of them asked for the same share more or less. ``verdict`` is that of the hand
    that has it hardest. ``held`` is False for the text up to the book's end.
    """

    first: int
    last: int
    over: int
    needed: float | None
    letters: float
    hand: str
    verdict: Verdict
    held: bool = True
    targets: tuple[Target, ...] = ()

    def of_hand(self, hand: str) -> Need:
        """The same as asked of another hand that writes there."""
        found = next((each for each in self.targets if each.hand == hand), None)
        if found is None or hand == self.hand:
            return self
        return self._replace(hand=hand, letters=found.usual, needed=found.needed)


def _tenths(letters: float | None) -> float | None:
    return None if letters is None else round(letters, 1)


TARGETS: Report[Target] = rows_of(
    "stretch, a hand",
    "What one hand must write.",
    Column("hand", Cell.TEXT, "the hand"),
    Column("lines", Cell.NUMBER, "lines it has left to write there"),
    Column("letters_usual", Cell.NUMBER, "letters a line it writes", lambda each: _tenths(each.usual)),
    Column(
        "letters_needed",
        Cell.NUMBER,
        "letters a line that would land right; null where none would",
        lambda each: _tenths(each.needed),
    ),
    Column("verdict", Cell.TEXT, "easy, hard or impossible for it"),
)

STRETCH: Report[Need] = one_of(
    "stretch",
    "Pages held at both ends, or up to the book's end, and how their text must be written to land right.",
    Column("from", Cell.PAGE, "its first page", lambda need: str(Page.at(need.first))),
    Column("to", Cell.PAGE, "its last page", lambda need: str(Page.at(need.last))),
    Column("held", Cell.YES_NO, "whether a page begun or held follows it; else it ends with the book"),
    Column("lines_over", Cell.NUMBER, "lines too many; negative where lines are left", "over"),
    Column(
        "letters_needed",
        Cell.NUMBER,
        "letters a line of the hand on this page that would land right; null where none would",
        lambda need: _tenths(need.needed),
    ),
    Column("verdict", Cell.TEXT, "easy, hard or impossible, for the hand that has it hardest"),
    Column("hands", Cell.ROWS, "the same for every hand that writes there", "targets", of=TARGETS),
)

_KNOWN: WeakKeyDictionary[BookState, dict[object, Need]] = WeakKeyDictionary()
"""Needs worked out for each book, with what they rest on."""


def need_at(state: BookState, index: int) -> Need | None:
    """What the stretch in which the page at ``index`` lies asks of that page's hand; None where it lies in none."""
    number = state.budget.pages[index].stretch
    return _known(state, state.budget.stretches[number]).of_hand(state.hand_on(index)) if number >= 0 else None


def stretch_at(state: BookState, index: int) -> dict[str, object] | None:
    """The stretch that the page at ``index`` lies in, as plain data, up to the book's end where the text passes that.

    None where it lies in none, its text being able to run on.
    """
    need = need_from(state, index)
    return STRETCH.data(need) if need is not None else None


def need_to_the_end(state: BookState) -> Need | None:
    """What the text after the last page that is held asks, where it passes the book's last page; else None."""
    budget = state.budget
    if not budget.lines_without_room:
        return None
    first = first_free(state)
    pages = budget.pages[first:]
    cast = budget.casts[first] if pages else None
    if cast is None:
        return _past_a_written_end(state)
    lines = sum(page.planned - page.written for page in pages) + budget.lines_without_room
    room, last = lines - budget.lines_without_room, len(budget.pages) - 1
    stretch = HeldPages(first, last, cast.start.piece, state.copy.pieces, room, lines, state.hand_of(last))
    return _known(state, stretch)._replace(held=False)


def _past_a_written_end(state: BookState) -> Need:
    """The same where the last page is written: no closeness helps any more, only leaves do."""
    last = len(state.budget.pages) - 1
    hand = _hand(state, state.hand_on(max(last, 0)))
    letters = state.letters_of(hand)
    return Need(max(last, 0), last, state.budget.lines_without_room, None, letters, hand, "impossible", held=False)


def need_from(state: BookState, index: int) -> Need | None:
    """What the text of the page at ``index`` needs so as to land right: in its stretch, or up to the end of the book.

    None where its text can run on.
    """
    need = need_at(state, index)
    if need is not None:
        return need
    tail = need_to_the_end(state)
    return tail.of_hand(state.hand_on(index)) if tail is not None and index >= tail.first else None


def needs(state: BookState) -> list[Need]:
    """What every stretch asks that is held at both ends, in the order of their pages."""
    return [_known(state, stretch) for stretch in state.budget.stretches]


def verdict_on(known: HandSet, needed: float | None) -> Verdict:
    """Whether a hand can write ``needed`` letters a line."""
    if needed is None:
        return "impossible"
    away = abs(needed - known.letters_per_line)
    if away <= student_quantile(0.95, known.freedom) * known.spread:
        return "easy"
    hard = max(HARD_SPREADS * known.spread, HARD_SHARE * known.letters_per_line)
    return "hard" if away <= hard else "impossible"


def _known(state: BookState, stretch: HeldPages) -> Need:
    known = _KNOWN.setdefault(state, {})
    pages = range(stretch.first, stretch.last + 1)
    frames = tuple(state.frames.get(index) for index in pages)
    agreed = tuple(state.agreed.get(index) for index in pages)
    writers = tuple(state.hand_on(index) for index in pages)
    hands = tuple((hand, state.sets[_hand(state, hand)], state.letters_of(hand)) for hand in dict.fromkeys(writers))
    # The budgeter stands for the text and the spaces tied to it; spaces waiting from before come with the cursor.
    budget, cast = state.budget, state.budget.casts[stretch.first]
    start = cast.start if cast is not None else None
    key = (stretch, start, state.frame, frames, agreed, writers, hands, budget.fixed, state.budgeter)
    if key not in known:
        while len(known) > len(state.budget.stretches) + 8:
            known.pop(next(iter(known)))
        known[key] = _need(state, stretch)
    return known[key]


def _hand(state: BookState, hand: str) -> str:
    return hand if hand in state.sets else state.book.hands[0].id


def _need(state: BookState, stretch: HeldPages) -> Need:
    targets = _targets(state, stretch, _times(state, stretch) if stretch.over else None)
    last = state.hand_on(stretch.last)
    need = next((each for each in targets if each.hand == last), targets[-1])
    hardest = max((each.verdict for each in targets), key=_VERDICTS.index)
    return Need(stretch.first, stretch.last, stretch.over, need.needed, need.usual, need.hand, hardest, targets=targets)


_VERDICTS: tuple[Verdict, ...] = ("easy", "hard", "impossible")


class _Left(NamedTuple):
    """What a hand has left in a stretch: lines, pages, and the letters a line at which those are cast off, summed."""

    lines: int = 0
    pages: int = 0
    letters: float = 0.0


def _targets(state: BookState, stretch: HeldPages, times: float | None) -> tuple[Target, ...]:
    """What is asked of each hand, in the order they write: ``times`` its own letters, or as cast where it fits."""
    found = _left_in(state, stretch)
    targets = []
    for hand, left in found.items():
        known, usual = state.sets[_hand(state, hand)], state.letters_of(hand)
        now = round(left.letters / left.lines, 6) if left.lines else usual
        needed = now if stretch.over == 0 else None if times is None else usual * times
        targets.append(Target(hand, left.lines, left.pages, usual, now, needed, verdict_on(known, needed)))
    return tuple(targets)


def _left_in(state: BookState, stretch: HeldPages) -> dict[str, _Left]:
    """What every hand of a stretch has left; the lines that the last page has no room for among its hand's."""
    found: dict[str, _Left] = {}
    lines = stretch.lines
    for index in range(stretch.first, stretch.last + 1):
        page = state.budget.pages[index]
        left = lines if index == stretch.last else page.planned - page.written
        hand, letters = state.hand_on(index), state.letters_on(index)
        before = found.get(hand, _Left())
        found[hand] = _Left(before.lines + left, before.pages + (left > 0), before.letters + left * letters)
        lines -= left
    writing = {hand: left for hand, left in found.items() if left.lines}
    return writing or found


def _times(state: BookState, stretch: HeldPages) -> float | None:
    """How many times their own letters all hands must write for the text of a stretch to take just its room.

    Lines are whole, so some way either side of the closeness found takes as many. The middle of that is given, where it
    lands right: a page that then comes out a little closer or wider does the least harm.
    """
    if stretch.room <= 0 or stretch.start >= stretch.end:
        return None
    about = _about(state, stretch)
    if not 1 / FARTHEST < about < FARTHEST:
        return None
    if stretch.last - stretch.first >= _LONG:
        return _corrected(state, stretch, about)
    lines_at = _lines_at(state, stretch)
    found = nearest_measure(lines_at, stretch.room, 1.0, about, fine=_FINE)
    if found is None or found == 1.0:
        return found
    middle = found * (1 + (0.5 if stretch.over > 0 else -0.5) / stretch.room)
    return middle if lines_at(middle) == stretch.room else found


def _about(state: BookState, stretch: HeldPages) -> float:
    """The same from the length of the text alone."""
    copy, left = state.copy, _left_in(state, stretch)
    text = (copy.sums[stretch.end] - copy.sums[stretch.start]) / (copy.mean * copy.grain)
    lines = max(stretch.lines, 1)
    ragged = max(sum(each.letters for each in left.values()) / lines - text / lines, 0.0)
    usual = sum(state.letters_of(hand) * each.lines for hand, each in left.items()) / lines
    return (text / stretch.room + ragged) / usual if usual else math.inf


def _corrected(state: BookState, stretch: HeldPages, about: float) -> float:
    """A closeness found from the length of the text, corrected by what the text then takes until it has just room."""
    for _ in range(_CORRECTIONS):
        beyond = _beyond(state, stretch, about)
        if -1e-3 * stretch.room <= beyond <= 0:
            break
        about *= 1 + (beyond + (beyond > 0)) / stretch.room
    return about


def _lines_at(state: BookState, stretch: HeldPages) -> Callable[[float], int]:
    """Lines the text of a stretch takes of its room where all hands write so many times their own letters."""
    return lambda times: stretch.room + _beyond(state, stretch, times)


def _beyond(state: BookState, stretch: HeldPages, times: float) -> int:
    def letters_on(index: int) -> float:
        return state.letters_of(state.hand_on(index)) * times

    cast = cast_closer(state, stretch.first, stretch.last, stretch.end, letters_on)
    return cast.beyond if cast is not None else stretch.over


def asked_words(need: Need) -> str:
    """What is asked of each hand of a stretch: ``A 33.1 letters a line instead of 31.0, B as usual, 25.7``."""
    said = []
    for at, (each, asked) in enumerate((each, each.needed) for each in need.targets if each.needed is not None):
        needed, usual = decimal(asked, 1), decimal(each.usual, 1)
        unit = "" if at else " letters a line"
        like = "as usual, " if needed == usual else ""
        said.append(f"{each.hand} {like}{needed}{unit}{'' if like else f' instead of {usual}'}")
    return ", ".join(said)


class Room(NamedTuple):
    """How much room the text has from a page on, and letters a line of the hand expected there.

    ``last`` is the page at whose end the text must land right; None where no such page comes and the text fits.
    ``over`` is below 0 where lines are left. ``usual`` is what the hand usually writes (or what was agreed on for the
    page, as ``agreed`` tells), ``needed`` what lands right, None where no closeness does; ``need`` has the same
    for every hand.
    """

    last: Page | None
    over: int
    needed: float | None
    usual: float
    need: Need | None = None
    agreed: bool = False


def room_ahead(state: BookState, index: int) -> Room:
    """The room from the page at ``index`` on, for the hand expected there."""
    usual, need = state.letters_on(index), need_from(state, index)
    if need is None:
        return Room(None, 0, usual, usual, agreed=index in state.agreed)
    return Room(Page.at(need.last), need.over, need.needed, usual, need, index in state.agreed)
