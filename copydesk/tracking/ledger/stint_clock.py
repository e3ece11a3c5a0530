"""The stint clock: minutes at the desk, and when a rest is due.

Hours bent over a desk strain back, neck, hand and eyes; the figure after which to rest is the scribe's own to set.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, NamedTuple, cast

from copydesk.tracking.ledger.timestamps import moment

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import datetime

    from copydesk.tracking.ledger.entry import Entry


REST_MINUTES = 5.0
"""A pause shorter than this is no rest. Our own judgement; follow local rules and a doctor's advice before ours."""

FORGOTTEN_MINUTES = 720.0
"""A clock that ran longer than this without a pause was left running."""

Turn = Literal["started", "paused", "stopped"]

TimedTurn = tuple[Turn, "datetime"]


def turn_of(entry: Entry) -> TimedTurn | None:
    """The turn of the clock that an entry records, and when; None for any other entry, or one without a time."""
    at = moment(entry.at)
    if at is None or not entry.what.startswith("stint-"):
        return None
    return cast("Turn", entry.what.removeprefix("stint-")), at


class Clock(NamedTuple):
    """A stint as it stands: whether the clock runs, minutes written in all and since the last rest.

    ``began`` is when the stint was started, None where none is open or ended. ``forgotten`` says that the clock
    was left running, so that its minutes cannot be believed.
    """

    running: bool
    minutes: float
    since_rest: float
    began: datetime | None
    forgotten: bool


def clock(turns: Iterable[TimedTurn], now: datetime) -> Clock:
    """The newest stint, from all turns of the clock in order; times that go back count as no time.

    Starting after a pause goes on with the stint; starting after a stop begins another.

    Args:
        turns: what was done to the clock and when, in order.
        now: the time of asking; a clock that still runs is counted up to it.
    """
    began: datetime | None = None
    running: datetime | None = None
    left: datetime | None = None
    minutes = since_rest = longest = 0.0
    for turn, at in (*turns, ("now", now)):
        if running is not None:
            run = _minutes(running, at)
            minutes, since_rest, longest = minutes + run, since_rest + run, max(longest, run)
        elif left is None or _minutes(left, at) >= REST_MINUTES:
            since_rest = 0.0
        if turn == "now":
            break
        if turn == "started" and began is None:
            began, minutes, longest = at, 0.0, 0.0
        running = at if turn == "started" else None
        left = None if turn == "started" else at
        began = None if turn == "stopped" else began
    return Clock(running is not None, minutes, since_rest, began, longest > FORGOTTEN_MINUTES)


def rest_sentence(since_rest: float, rest_after: float) -> str:
    """What to say when a rest is due; nothing before, or where the scribe set no figure (0)."""
    if rest_after <= 0 or since_rest < rest_after:
        return ""
    return (
        f"{round(since_rest)} minutes without a rest: lay the pen down, stand up, look far off, "
        "and ease hand, neck and back."
    )


def _minutes(start: datetime, end: datetime) -> float:
    return max(0.0, (end - start).total_seconds() / 60)
