"""What a desk keeps an eye on while a stint runs: the minutes for the foot, and the sentence when a rest is due."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.tracking.ledger.stint_clock import rest_sentence
from copydesk.tracking.scribes.desk_clock import DeskClock, desk_clock

if TYPE_CHECKING:
    from copydesk.job import Job


def clock_now(job: Job) -> DeskClock:
    """The clock of this desk."""
    return desk_clock(job.ledger, job.store.desk, job.clock(), job.book.workshop.rest_after_minutes)


class StintWatch:
    """Remembers which rest was announced, so that each is announced once."""

    def __init__(self) -> None:
        self._spoken = False

    def rest_due(self, now: DeskClock) -> str:
        """What to say where a rest has just come due; nothing else."""
        if now.paused:
            return ""
        said = rest_sentence(now.shows.since_rest, now.rest_after) if now.open else ""
        spoken, self._spoken = self._spoken, bool(said)
        return "" if spoken else said
