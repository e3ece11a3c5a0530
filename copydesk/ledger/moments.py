"""Times of entries: read from the ledger, and said as people say them."""

from __future__ import annotations

from datetime import UTC, datetime

from copydesk.book.days import MONTHS


def moment(at: str) -> datetime | None:
    """The time an entry gives, always with a zone; None where it is none."""
    try:
        read = datetime.fromisoformat(at)
    except ValueError:
        return None
    return read if read.tzinfo is not None else read.replace(tzinfo=UTC)


def say_moment(at: datetime) -> str:
    """A day and the hour: ``2 March 14:30``."""
    return f"{at.day} {MONTHS[at.month - 1]} {at:%H:%M}"


def say_at(at: str) -> str:
    """The same for the time an entry gives; the text as it is where it is no time."""
    read = moment(at)
    return say_moment(read) if read is not None else at
