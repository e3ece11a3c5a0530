"""Sittings out of the ledger: what was written, or checked, in how many minutes, by the clock or as told."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.tracking.ledger.stint_clock import TimedTurn, clock, turn_of
from copydesk.tracking.ledger.timestamps import moment
from copydesk.tracking.scribes.hours import Sat
from copydesk.tracking.scribes.pace import Sitting

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping, Sequence
    from datetime import date, datetime

    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.state.book_state import BookState


class _OpenStint:
    """A stint at one desk that the clock is timing."""

    def __init__(self, hand: str) -> None:
        self.hand = hand
        self.turns: list[TimedTurn] = []
        self.lines = 0
        self.told_minutes = 0.0

    def ended(self, told: float | None) -> Sitting | None:
        """The sitting it makes: lines recorded without minutes, in the minutes not given with other lines."""
        began, over = self.turns[0][1], self.turns[-1][1]
        timed = clock(self.turns, over)
        if told is None and timed.forgotten:
            return None
        minutes = (timed.minutes if told is None else told) - self.told_minutes
        return Sitting(self.hand, self.lines, minutes, began) if self.lines and minutes > 0 else None


def sittings_of(state: BookState) -> list[Sitting]:
    """Every sitting of writing recorded in a book."""
    kinds = ("written", "stint-started", "stint-paused", "stint-stopped")
    ledger = state.ledger
    return writing_sittings(entry for entry in ledger if entry.what in kinds and not ledger.is_void(entry.entry))


def writing_sittings(entries: Iterable[Entry]) -> list[Sitting]:
    """Sittings of writing, from entries that stand, in order.

    Lines recorded with their minutes are a sitting by themselves. Lines recorded without, while the clock was
    timing a stint of the same hand at the same desk, share that stint's minutes. A clock left running tells
    nothing. Lines without any time are left out.
    """
    found: list[Sitting] = []
    stints: dict[str, _OpenStint] = {}
    for entry in entries:
        turn, at = turn_of(entry), moment(entry.at)
        if turn is not None:
            found += _turned(stints, entry, turn)
        elif entry.what == "written" and at is not None:
            found += _written(stints.get(entry.desk), entry, at)
    return found


def lines_by_day(state: BookState) -> dict[tuple[str, date], int]:
    """Lines each hand recorded as written on each day, timed or not."""
    found: dict[tuple[str, date], int] = {}
    for entry in state.ledger:
        at = moment(entry.at) if entry.what == "written" and not state.ledger.is_void(entry.entry) else None
        if at is not None:
            of = entry.hand, at.date()
            found[of] = found.get(of, 0) + _lines(entry)
    return found


def days_sat(
    hand: str, sittings: Sequence[Sitting], written: Mapping[tuple[str, date], int], lines_an_hour: float
) -> list[Sat]:
    """The days on which a hand wrote, with their hours: those timed, and others as its pace has them."""
    timed: dict[date, float] = {}
    hours: dict[date, float] = {}
    for each in sittings:
        if each.hand == hand:
            day = each.at.date()
            timed[day] = timed.get(day, 0.0) + each.lines
            hours[day] = hours.get(day, 0.0) + each.minutes / 60
    for (by, day), lines in written.items():
        if by == hand and lines > timed.get(day, 0.0):
            hours[day] = hours.get(day, 0.0) + (lines - timed.get(day, 0.0)) / lines_an_hour
    return [Sat(day, spent) for day, spent in hours.items()]


def checking_sittings(entries: Iterable[Entry], lines_of: Callable[[Entry], int]) -> list[Sitting]:
    """Sittings of checking whose minutes were told; ``lines_of`` gives the lines of the page checked."""
    timed = [(entry, moment(entry.at), entry.amount("minutes")) for entry in entries if entry.what == "checked"]
    return [Sitting(entry.hand, lines_of(entry), minutes, at) for entry, at, minutes in timed if at and minutes]


def _turned(stints: dict[str, _OpenStint], entry: Entry, turn: TimedTurn) -> list[Sitting]:
    stint = stints.get(entry.desk)
    if turn[0] == "started" and (stint is None or stint.hand != entry.hand):
        stint = stints[entry.desk] = _OpenStint(entry.hand)
    if stint is None:
        return []
    stint.turns.append(turn)
    if turn[0] != "stopped":
        return []
    del stints[entry.desk]
    sitting = stint.ended(entry.amount("minutes"))
    return [sitting] if sitting else []


def _written(stint: _OpenStint | None, entry: Entry, at: datetime) -> list[Sitting]:
    minutes, lines = entry.amount("minutes"), _lines(entry)
    if lines < 1:
        return []
    same_hand = stint if stint is not None and stint.hand == entry.hand else None
    if minutes:
        if same_hand:
            same_hand.told_minutes += minutes
        return [Sitting(entry.hand, lines, minutes, at)]
    if same_hand:
        same_hand.lines += lines
    return []


def _lines(entry: Entry) -> int:
    """The lines an entry says were filled; a line stopped within counts for the hand that finishes it."""
    first, last = entry.number("from_line"), entry.number("to_line")
    if first is None or last is None:
        return 0
    return last - first + (entry.number("line_from_word") is None)
