"""Stretches: pages between two fixed beginnings, and how close a hand must write for their text to fit exactly.

The letters a line needed are compared with how much the hand's own pages differ: within the range of nine pages in ten
is *easy*; within three times their spread, or a twelfth of its letters where that is more, is *hard*; beyond is
*impossible*, and another remedy is needed. The bounds are our own judgement; no published figure was found.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, NamedTuple
from weakref import WeakKeyDictionary

from copydesk.book.casting.closeness import FARTHEST, nearest_measure
from copydesk.book.casting.line_budget import HeldPages
from copydesk.book.columns import Cell, Column, Report
from copydesk.book.common.distributions import student_quantile
from copydesk.book.structure.page import Page
from copydesk.tracking.fit.trial_casting import cast_closer, first_free

if TYPE_CHECKING:
    from copydesk.book.hands.hand_set import HandSet
    from copydesk.tracking.state.book_state import BookState


Verdict = Literal["easy", "hard", "impossible"]

HARD_SPREADS = 3.0
HARD_SHARE = 0.08

_LONG = 40
"""In a longer stretch (pages) the letters follow from the length of the text alone, without casting it."""

_FINE = 1e-3
"""How finely a closeness is looked for, as a share of it; a scribe cannot follow a finer one."""


class Need(NamedTuple):
    """What a stretch asks: its pages (indices, last included), lines over, letters a line needed and usual.

    ``over`` is negative where lines are left. ``letters`` is what its hand usually writes, ``needed`` what it must
    write for the text to land right, None where no closeness does. ``held`` is False for the text up to the book's end.
    """

    first: int
    last: int
    over: int
    needed: float | None
    letters: float
    hand: str
    verdict: Verdict
    held: bool = True


STRETCH: Report[Need] = Report(
    "stretch",
    "Pages held at both ends, and how the text between must be written to land right.",
    (
        Column("from", Cell.PAGE, "its first page", lambda need: str(Page.at(need.first))),
        Column("to", Cell.PAGE, "its last page", lambda need: str(Page.at(need.last))),
        Column("lines_over", Cell.NUMBER, "lines too many; negative where lines are left", "over"),
        Column(
            "letters_needed",
            Cell.NUMBER,
            "letters a line that would land right; null where none would",
            lambda need: None if need.needed is None else round(need.needed, 1),
        ),
        Column("verdict", Cell.TEXT, "easy, hard or impossible"),
    ),
    rows=False,
)

_KNOWN: WeakKeyDictionary[BookState, dict[object, Need]] = WeakKeyDictionary()
"""Needs worked out for each book, with what they rest on."""


def need_at(state: BookState, index: int) -> Need | None:
    """What the stretch asks in which the page at ``index`` lies; None where it lies in none held at both ends."""
    number = state.budget.pages[index].stretch
    return _known(state, state.budget.stretches[number]) if number >= 0 else None


def stretch_at(state: BookState, index: int) -> dict[str, object] | None:
    """The stretch held at both ends that the page at ``index`` lies in, as plain data; None where it lies in none."""
    need = need_at(state, index)
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
        return None
    room = sum(page.room - page.written for page in pages)
    lines = sum(page.planned - page.written for page in pages) + budget.lines_without_room
    last = len(budget.pages) - 1
    stretch = HeldPages(first, last, cast.start.piece, state.copy.pieces, room, lines, state.hand_of(last))
    return _known(state, stretch)._replace(held=False)


def need_from(state: BookState, index: int) -> Need | None:
    """What the text of the page at ``index`` needs so as to land right: in its stretch, or up to the end of the book.

    None where its text can run on.
    """
    need = need_at(state, index)
    if need is not None:
        return need
    tail = need_to_the_end(state)
    return tail if tail is not None and index >= tail.first else None


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
    hands = (state.sets[_hand(state, stretch.hand)], *state.measures.items())
    key = (stretch, frames, agreed, hands, id(state.copy))
    if key not in known:
        while len(known) > len(state.budget.stretches) + 8:
            known.pop(next(iter(known)))
        known[key] = _need(state, stretch)
    return known[key]


def _hand(state: BookState, hand: str) -> str:
    return hand if hand in state.sets else state.book.hands[0].id


def _need(state: BookState, stretch: HeldPages) -> Need:
    hand = _hand(state, stretch.hand)
    expected = state.agreed.get(stretch.last) or state.measures[hand]
    times = 1.0 if stretch.over == 0 else _times(state, stretch, expected)
    needed = None if times is None else expected * times
    known = state.sets[hand]
    return Need(
        stretch.first, stretch.last, stretch.over, needed, state.measures[hand], hand, verdict_on(known, needed)
    )


def _times(state: BookState, stretch: HeldPages, expected: float) -> float | None:
    """How many times the letters of now make the text of a stretch take just its room."""
    if stretch.room <= 0 or stretch.start >= stretch.end:
        return None
    copy = state.copy
    text = (copy.sums[stretch.end] - copy.sums[stretch.start]) / (copy.mean * copy.grain)
    ragged = expected - text / stretch.lines if stretch.lines else 0.0
    about = (text / stretch.room + ragged) / expected
    if not 1 / FARTHEST < about < FARTHEST:
        return None
    if stretch.last - stretch.first >= _LONG:
        return about
    return nearest_measure(lambda times: _lines_at(state, stretch, times), stretch.room, 1.0, about, fine=_FINE)


def _lines_at(state: BookState, stretch: HeldPages, times: float) -> int:
    """Lines the text of a stretch takes through its pages, all hands writing ``times`` as many letters as now."""
    cast = cast_closer(state, stretch.first, stretch.last, stretch.end, lambda _: times)
    return cast.lines + cast.over if cast is not None else stretch.lines


class Room(NamedTuple):
    """How much room the text has from a page on, and letters a line.

    ``last`` is the page at whose end the text must land right; None where no such page comes and the text fits.
    ``over`` is below 0 where lines are left. ``usual`` is what the hand usually writes (or what was agreed on for the
    page), ``needed`` what lands right, None where no closeness does.
    """

    last: Page | None
    over: int
    needed: float | None
    usual: float


def room_ahead(state: BookState, index: int) -> Room:
    """The room from the page at ``index`` on, for the hand expected there."""
    usual, need = state.letters_on(index), need_from(state, index)
    if need is None:
        return Room(None, 0, usual, usual)
    return Room(Page.at(need.last), need.over, need.needed if need.over else usual, usual)
