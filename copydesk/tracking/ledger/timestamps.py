"""Times of entries: read from the ledger, and said as people say them."""

from __future__ import annotations

from datetime import UTC, datetime

from copydesk.book.common.phrases import day_and_month, month_name

_YEARS = range(1950, 5000)
"""Nobody works at another time; within them any stretch of work can be counted back and forth."""


def moment(at: str) -> datetime | None:
    """The time an entry gives, always with a zone; None where it is none at which anybody can have worked."""
    try:
        read = datetime.fromisoformat(at)
    except ValueError:
        return None
    if read.year not in _YEARS:
        return None
    return read if read.tzinfo is not None else read.replace(tzinfo=UTC)


def say_moment(at: datetime, *, short: bool = False) -> str:
    """A day and the hour: ``12 October 14:30``; ``short``, ``12 Oct 14:30``."""
    return f"{day_and_month(at.day, month_name(at.month, short=short))} {at:%H:%M}"


def say_at(at: str, *, short: bool = False) -> str:
    """The same for the time an entry gives; the text as it is where it is no time."""
    read = moment(at)
    return say_moment(read, short=short) if read is not None else at
