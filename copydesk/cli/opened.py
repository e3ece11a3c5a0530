"""Books that a command has open, so that each is closed when the command ends, however it ends."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from copydesk.job import Job

_opened: list[Job] = []


def remember(job: Job) -> Job:
    """Have a book closed at the end; gives it back."""
    _opened.append(job)
    return job


def close_all() -> None:
    """Close every book that is open; closing one twice does no harm."""
    while _opened:
        _opened.pop().close()
