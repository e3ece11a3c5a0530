"""Fault rates: faults per hundred lines by hand and kind, by time of day, by time at the desk without a rest.

Faults are counted on pages that were checked by reading, and only there: a page ticked, not read, tells nothing. Ranges
allow for pages and days that differ, and a page without a fault does not promise a hand without faults.
"""

from __future__ import annotations

from collections import Counter
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.phrases import decimal
from copydesk.tracking.checking.fault_spread import FaultCount, mean_range
from copydesk.tracking.checking.rest_odds import ODDS, TimedPage, odds_of_rise
from copydesk.tracking.ledger.stint_clock import REST_MINUTES, TimedTurn, clock, turn_of
from copydesk.tracking.ledger.timestamps import moment

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.ledger.page_record import Fault, PageRecord
    from copydesk.tracking.ledger.stint import Stint


LEVEL = 0.90

DAY_BANDS = ((0.0, 9.0), (9.0, 12.0), (12.0, 15.0), (15.0, 18.0), (18.0, 24.0))
"""Parts of the day, in hours."""

SITTING_BANDS = ((0.0, 30.0), (30.0, 60.0), (60.0, 90.0), (90.0, float("inf")))
"""Parts of a sitting, in minutes since it began or since the last rest."""

REST_CUTS = (30.0, 45.0, 60.0, 75.0, 90.0, 120.0)
"""The lengths of sitting, in minutes, after which a rise in faults is looked for."""


class CheckedLines(NamedTuple):
    """Lines one hand wrote at one time, checked since, and the kinds of the faults found in them.

    ``hour`` is the time of day, ``sat_for`` the minutes at the desk without a rest, both at the middle of the
    writing, None where not known; ``day`` the day of the writing, empty where not known.
    """

    hand: str
    lines: int
    faults: tuple[str, ...] = ()
    hour: float | None = None
    sat_for: float | None = None
    day: str = ""


class FaultRate(NamedTuple):
    """Faults in so many lines, and the rate per hundred lines with its 90 % range."""

    faults: int
    lines: int
    per_100: float
    low: float
    high: float


class Band(NamedTuple):
    """A part of the day (hours) or of a sitting (minutes), from and up to, and its rate."""

    start: float
    end: float
    rate: FaultRate


class RestAfter(NamedTuple):
    """After so many minutes a hand makes more faults than before, beyond what chance would do.

    ``chance`` is the most it can be that the record would ever say so if there were nothing in it.
    """

    minutes: float
    before: FaultRate
    after: FaultRate
    chance: float

    def sentence(self) -> str:
        """For the scribe."""
        return (
            f"Rest after {self.minutes:.0f} minutes: {decimal(self.before.per_100, 1)} faults in a hundred lines "
            f"before, {decimal(self.after.per_100, 1)} after."
        )


def checked_lines(
    record: PageRecord,
    line_of: Callable[[Fault], int | None],
    sat_for: Callable[[Stint], float | None] = lambda stint: stint.minutes / 2 if stint.minutes else None,
) -> list[CheckedLines]:
    """What a page tells once it is checked by reading: each hand's lines with the faults in them; nothing before.

    Args:
        record: the page.
        line_of: the text line of the page, from 1, a fault is on; None where it is not given.
        sat_for: minutes without a rest at the middle of a stint, None where not known.
    """
    if not record.checked_by or record.unread or not record.stints:
        return []
    kinds: list[list[str]] = [[] for _ in record.stints]
    for fault in record.faults:
        kinds[_stint_of(record.stints, line_of(fault))].append(fault.kind)
    return [
        CheckedLines(
            stint.hand,
            stint.to_line - stint.from_line + 1,
            tuple(found),
            _middle_hour(stint),
            sat_for(stint),
            stint.at[:10],
        )
        for stint, found in zip(record.stints, kinds, strict=True)
    ]


def rate_of(checked: Iterable[CheckedLines], kind: str | None = None) -> FaultRate | None:
    """The rate of faults, or of one kind of them, in lines checked; None where no line was."""
    counted = [
        FaultCount(each.day, each.lines, len(each.faults) if kind is None else each.faults.count(kind))
        for each in checked
    ]
    lines = sum(each.lines for each in counted)
    if lines <= 0:
        return None
    found = mean_range(counted, LEVEL).scaled(100 / lines)
    return FaultRate(sum(each.faults for each in counted), lines, found.expected, found.low, found.high)


def by_hand(checked: Sequence[CheckedLines]) -> dict[str, FaultRate]:
    """Each hand's rate, hands in order of name."""
    hands = sorted({each.hand for each in checked})
    rates = {hand: rate_of(each for each in checked if each.hand == hand) for hand in hands}
    return {hand: found for hand, found in rates.items() if found}


def by_kind(checked: Sequence[CheckedLines]) -> dict[str, FaultRate]:
    """The rate of each kind of fault in all these lines, the most frequent first."""
    counts = Counter(kind for each in checked for kind in each.faults)
    kinds = sorted(counts, key=lambda kind: (-counts[kind], kind))
    rates = {kind: rate_of(checked, kind) for kind in kinds}
    return {kind: found for kind, found in rates.items() if found}


def by_hand_and_kind(checked: Sequence[CheckedLines]) -> dict[str, dict[str, FaultRate]]:
    """For each hand, the rate of each kind of fault in its lines."""
    hands = sorted({each.hand for each in checked})
    return {hand: by_kind([each for each in checked if each.hand == hand]) for hand in hands}


def over_the_day(checked: Iterable[CheckedLines]) -> list[Band]:
    """The rate in each part of the day in which lines were written."""
    return _banded(checked, DAY_BANDS, lambda each: each.hour)


def over_the_sitting(checked: Iterable[CheckedLines]) -> list[Band]:
    """The rate in each part of a sitting."""
    return _banded(checked, SITTING_BANDS, lambda each: each.sat_for)


def rest_after(checked: Sequence[CheckedLines]) -> RestAfter | None:
    """After how long one hand's record shows more faults, if it does.

    Pages of one day are set against one another, and the odds against chance must reach ``ODDS``; see ``rest_odds``.
    Give it one hand's lines: hands that sit long may be other hands.
    """
    known = [each for each in checked if each.sat_for is not None and each.lines > 0]
    odds = odds_of_rise(
        [TimedPage(each.day, each.lines, len(each.faults), each.sat_for or 0.0) for each in known], REST_CUTS
    )
    whole = sum(odds) / len(odds)
    if whole < ODDS:
        return None
    minutes = REST_CUTS[odds.index(max(odds))]
    early = rate_of(each for each in known if (each.sat_for or 0.0) < minutes)
    late = rate_of(each for each in known if (each.sat_for or 0.0) >= minutes)
    return RestAfter(minutes, early, late, 1 / whole) if early is not None and late is not None else None


def _stint_of(stints: Sequence[Stint], line: int | None) -> int:
    """Which stint wrote a line; where the line is not given, the longest, where the fault most likely is."""
    for index, stint in enumerate(stints):
        if line is not None and stint.from_line <= line <= stint.to_line:
            return index
    return max(range(len(stints)), key=lambda index: stints[index].to_line - stints[index].from_line)


def _middle_hour(stint: Stint) -> float | None:
    """The time of day half-way through a stint, which is recorded when it is over."""
    over = moment(stint.at)
    if over is None:
        return None
    middle = over - timedelta(minutes=(stint.minutes or 0.0) / 2)
    return middle.hour + middle.minute / 60


def _banded(
    checked: Iterable[CheckedLines],
    bands: Sequence[tuple[float, float]],
    where: Callable[[CheckedLines], float | None],
) -> list[Band]:
    placed = [(place, each) for each in checked if (place := where(each)) is not None]
    rates = [(start, end, rate_of(each for place, each in placed if start <= place < end)) for start, end in bands]
    return [Band(start, end, found) for start, end, found in rates if found]


class SittingTime:
    """Minutes at the desk without a rest at the middle of each stint of writing, as far as the ledger tells."""

    def __init__(self, entries: Iterable[Entry]) -> None:
        """Take in the entries that stand, in order."""
        self._minutes: dict[str, float] = {}
        turns: dict[str, list[TimedTurn]] = {}
        sat: dict[tuple[str, str], tuple[datetime, float]] = {}
        for entry in entries:
            turn, at = turn_of(entry), moment(entry.at)
            if turn is not None:
                turns.setdefault(entry.desk, []).append(turn)
            elif entry.what == "written" and at is not None:
                self._take(entry, at, turns.get(entry.desk, []), sat)

    def at_middle_of(self, stint: Stint) -> float | None:
        """Minutes without a rest at the middle of a stint; None where nothing tells."""
        return self._minutes.get(stint.entry)

    def _take(
        self,
        entry: Entry,
        at: datetime,
        turns: list[TimedTurn],
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
