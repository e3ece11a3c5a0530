"""How long a hand had sat without a rest when it wrote: by the stint clock, or by pages told one after another."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING, cast

from copydesk.ledger.moments import moment
from copydesk.ledger.stint_clock import REST_MINUTES, Turn, clock

if TYPE_CHECKING:
    from collections.abc import Iterable

    from copydesk.ledger.entry import Entry
    from copydesk.ledger.page_record import Stint


class SittingTime:
    """Minutes at the desk without a rest at the middle of each stint of writing, as far as the ledger tells."""

    def __init__(self, entries: Iterable[Entry]) -> None:
        """Take in the entries that stand, in order."""
        self._minutes: dict[str, float] = {}
        turns: dict[str, list[tuple[Turn, datetime]]] = {}
        sat: dict[tuple[str, str], tuple[datetime, float]] = {}
        for entry in entries:
            at = moment(entry.at)
            if at is None:
                continue
            if entry.what.startswith("stint-"):
                turns.setdefault(entry.desk, []).append((cast("Turn", entry.what.removeprefix("stint-")), at))
            elif entry.what == "written":
                self._take(entry, at, turns.get(entry.desk, []), sat)

    def at_middle_of(self, stint: Stint) -> float | None:
        """Minutes without a rest at the middle of a stint; None where nothing tells."""
        return self._minutes.get(stint.entry)

    def _take(
        self,
        entry: Entry,
        at: datetime,
        turns: list[tuple[Turn, datetime]],
        sat: dict[tuple[str, str], tuple[datetime, float]],
    ) -> None:
        told = entry.amount("minutes") or 0.0
        middle = at - timedelta(minutes=told / 2)
        timed = clock([turn for turn in turns if turn[1] <= middle], middle)
        if timed.running and not timed.forgotten:
            self._minutes[entry.entry] = timed.since_rest
        elif told:
            who = (entry.desk, entry.hand)
            ended, before = sat.get(who, (at, 0.0))
            began = at - timedelta(minutes=told)
            if abs((began - ended).total_seconds()) / 60 >= REST_MINUTES:  # rested, or recorded later together
                before = 0.0
            self._minutes[entry.entry] = before + told / 2
            sat[who] = (at, before + told)
