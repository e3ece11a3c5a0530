"""The stint clock of one desk, read from its entries; and the entries that start, pause and stop it."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import InvalidValueError
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.ledger.stint_clock import Clock, TimedTurn, clock, turn_of
from copydesk.tracking.ledger.timestamps import moment
from copydesk.tracking.state.writing_tools import NOTHING_SAID, Tools

if TYPE_CHECKING:
    from datetime import datetime

    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.ledger.ledger import Ledger


LONGEST_REST_AFTER = 480
"""Minutes, a working day: the longest time that may be set before the reminder to rest."""


class DeskClock(NamedTuple):
    """A desk's clock now: what it shows, whose stint it is, after how many minutes a rest is due (0: none is set)."""

    shows: Clock
    hand: str
    rest_after: float

    @property
    def open(self) -> bool:
        """Whether a stint is begun and not ended."""
        return self.shows.began is not None

    @property
    def paused(self) -> bool:
        """Whether a stint is open and its clock stands still."""
        return self.open and not self.shows.running

    def in_short(self) -> str:
        """For the foot of the screen: ``A 31 min``, ``A paused at 31 min``; nothing where no stint is open."""
        if not self.open:
            return ""
        minutes = f"{int(self.shows.minutes)} min"
        return f"{self.hand} {'paused at ' if self.paused else ''}{minutes}"


def desk_clock(ledger: Ledger, desk: str, now: datetime, usual_rest: float) -> DeskClock:
    """The clock at ``desk``; ``usual_rest`` are the minutes after which the workshop rests."""
    turns = _turns(ledger, desk)
    begun = [entry for entry, (turn, _) in turns if turn == "started"]
    rests = [minutes for entry in begun if (minutes := entry.number("rest_after")) is not None]
    hand = begun[-1].hand if begun else ""
    shows = clock([turn for _, turn in turns if turn[1] <= now], now)
    return DeskClock(shows, hand, rests[-1] if rests else usual_rest)


def minutes_since_written(ledger: Ledger, desk: str, now: datetime) -> float:
    """Minutes the clock ran since something was recorded as written at this desk in this stint; 0 with no stint."""
    turns = [turn for _, turn in _turns(ledger, desk) if turn[1] <= now]
    shows = clock(turns, now)
    if shows.began is None or shows.forgotten:
        return 0.0
    written = [moment(entry.at) for entry in ledger if entry.what == "written" and entry.desk == desk]
    last = max((at for at in written if at is not None and shows.began <= at <= now), default=None)
    if last is None:
        return shows.minutes
    before = clock([turn for turn in turns if turn[1] <= last], last)
    return max(shows.minutes - before.minutes, 0.0)


def start_stint(desk: str, rest_after: int, tools: Tools = NOTHING_SAID) -> Act:
    """Begin a stint, or go on after a pause; ``tools`` are noted where they are said, and hold until others are.

    Raises:
        InvalidValueError: for a number of minutes that is none.
    """
    if not 0 <= rest_after <= LONGEST_REST_AFTER:
        raise InvalidValueError(
            f"a rest after {rest_after} minutes is none; give 1 to {LONGEST_REST_AFTER}, or 0 for no reminder"
        )
    noted = {name: said.strip() for name, said in tools._asdict().items() if said.strip()}
    return Act("stint-started", desk, "", {"rest_after": rest_after, **noted})


def pause_stint(desk: str) -> Act:
    """Stop the clock for a rest."""
    return Act("stint-paused", desk, "", {})


def stop_stint(desk: str, minutes: float | None = None) -> Act:
    """End the stint; ``minutes`` where the clock does not tell them right."""
    return Act("stint-stopped", desk, "", {} if minutes is None else {"minutes": minutes})


def _turns(ledger: Ledger, desk: str) -> list[tuple[Entry, TimedTurn]]:
    """The turns of the clock at a desk, with the entries that record them, in order."""
    return [(entry, turn) for entry in ledger.live("desk", desk) if (turn := turn_of(entry)) is not None]
