"""Makes the ledger of the shipped book through the tool itself, as a workshop would have made it over some weeks.

Run: python tests/shipped/make_ledger.py projects/twelve-waters
The old ledger is taken away first. Every entry is recorded by a ``Job`` with a clock that this script turns on.
"""

from __future__ import annotations

import shutil
import sys
from datetime import datetime, timedelta, timezone
from pathlib import Path

from copydesk.book.structure.page import Page
from copydesk.job import Job
from copydesk.tracking.ledger.entry import Act

ZONE = timezone(timedelta(hours=1))
A, B, INES = "A", "B", "Ines Calloway"


class Clock:
    """The workshop's clock: it goes on as work is done, and no work is done at night."""

    def __init__(self) -> None:
        self.now = datetime(2026, 10, 5, 9, 10, tzinfo=ZONE)

    def __call__(self) -> datetime:
        return self.now

    def pass_minutes(self, minutes: float) -> None:
        """Go on; past half past four it is the next working morning."""
        self.now += timedelta(minutes=minutes)
        while self.now.hour >= 16 or self.now.weekday() >= 5:
            self.now = (self.now + timedelta(days=1)).replace(hour=9, minute=5 + self.now.minute % 20)


class Workshop:
    """Two scribes and an artist at two desks."""

    def __init__(self, folder: Path) -> None:
        self.clock = Clock()
        self.jobs = {
            A: Job.open(folder, desk="window", clock=self.clock),
            B: Job.open(folder, desk="stove", clock=self.clock),
        }

    def job(self, hand: str) -> Job:
        """The desk a hand sits at, with what the other did."""
        job = self.jobs.get(hand, self.jobs[A])
        job.refresh()
        return job

    def record(self, hand: str, act: Act) -> str:
        """Record an act; gives its entry's id."""
        return self.job(hand).record(act, hand=hand).entry

    def sit(self, hand: str) -> None:
        """Sit down at one's desk."""
        job = self.job(hand)
        job.record(Act("at-desk", job.store.desk, "", {}), hand=hand)

    def rule(self, hand: str, *pages: str) -> None:
        """Rule pages."""
        for page in pages:
            self.record(hand, self.job(hand).commands.rule(Page.parse(page)))
            self.clock.pass_minutes(9)

    def write(self, hand: str, page: str, minutes: float, short: int = 0, to_line: int | None = None) -> None:
        """Write a page, whole or to a line, ending ``short`` words before (or after, below 0) what was planned."""
        self.clock.pass_minutes(minutes + 6)
        job = self.job(hand)
        planned = job.commands.write(Page.parse(page), to_line=to_line)
        ends = planned.facts["to_word"]
        words = job.exemplar.words if job.exemplar else []
        said = " ".join(words[ends - short - 4 : ends - short]) if short and isinstance(ends, int) else ""
        self.record(hand, job.commands.write(Page.parse(page), to_line=to_line, ends=said, minutes=minutes))

    def fault(self, hand: str, page: str, kind: str, column: int, line: int, stands: str, should: str) -> str:
        """Note a fault."""
        facts = {"column": column, "line": line, "stands": stands or None, "should": should or None}
        return self.record(hand, self.job(hand).commands.fault(Page.parse(page), kind, **facts))

    def check(self, hand: str, page: str, minutes: float = 20) -> None:
        """Check a page against the exemplar."""
        self.clock.pass_minutes(minutes + 3)
        self.record(hand, self.job(hand).commands.check(Page.parse(page), minutes=minutes))

    def mend(self, hand: str, page: str, fault: str, remedy: str) -> None:
        """Settle a fault."""
        self.clock.pass_minutes(7)
        self.record(hand, self.job(hand).commands.mend(Page.parse(page), fault, remedy))

    def space(self, space: str, *stages: str) -> None:
        """Ines works on a space."""
        for stage in stages:
            self.clock.pass_minutes(95)
            self.record(INES, self.job(INES).commands.space(space, stage))

    def sheet(self, hand: str, sheet: str, place: str, who: str = "") -> None:
        """Move a sheet."""
        self.record(hand, self.job(hand).commands.sheet(sheet, place, who))


def first_gathering(shop: Workshop) -> None:
    """Gathering 1: written by Agnes in reading order, checked by Bea, painted in part by Ines."""
    shop.sit(A)
    shorts = {"2r": 3, "3v": -2, "4v": 4, "6r": -3, "7v": 2}
    for leaf in range(1, 9):
        shop.rule(A, f"{leaf}r", f"{leaf}v")
        for side in "rv":
            page = f"{leaf}{side}"
            shop.write(A, page, 96 + 5 * (leaf % 4), short=shorts.get(page, 0))
    shop.sit(B)
    first = shop.fault(B, "2r", "omission", 1, 9, "", "and")
    second = shop.fault(B, "4v", "repetition", 2, 17, "the the", "the")
    third = shop.fault(B, "6v", "substitution", 1, 21, "water", "weather")
    for leaf in range(1, 9):
        for side in "rv":
            shop.check(B, f"{leaf}{side}", 19)
    shop.mend(A, "2r", first, "interlined")
    shop.mend(A, "4v", second, "scraped")
    shop.mend(A, "6v", third, "scraped")
    for sheet in ("1.1", "1.2", "1.3"):
        shop.sheet(A, sheet, "artist", INES)
    shop.space("way-in", "drawn", "gilded", "coloured", "outlined")
    shop.space("key", "drawn", "gilded", "coloured")
    shop.space("seven", "drawn", "gilded")
    shop.space("weir", "drawn")
    shop.sheet(A, "1.4", "press")


def second_gathering(shop: Workshop) -> None:
    """Gathering 2: in work by both hands, some of it out of reading order."""
    for leaf in range(9, 15):
        shop.rule(A, f"{leaf}r", f"{leaf}v")
    shop.rule(B, "15r", "15v", "16r", "16v")
    for page, minutes, short in (("9r", 99, 0), ("9v", 104, 2), ("10r", 101, 0), ("10v", 97, -3), ("11r", 108, 0)):
        shop.write(A, page, minutes, short)
    # Bea takes the outermost sheet while Agnes goes on inside: the last leaf is written before those between.
    shop.write(B, "16r", 88)
    shop.write(B, "16v", 112)
    shop.write(A, "11v", 103)
    shop.write(A, "12r", 100, 2)
    shop.write(B, "12v", 61, to_line=23)
    shop.fault(B, "9v", "eye-skip", 2, 6, "", "the lock of the")
    shop.fault(B, "10r", "transposition", 1, 14, "gate old", "old gate")
    shop.check(B, "9r")
    shop.check(B, "9v")
    shop.check(B, "10r")
    mended = shop.fault(B, "10v", "omission", 1, 3, "", "not")
    shop.check(B, "10v")
    shop.mend(A, "10v", mended, "interlined")
    shop.sheet(B, "2.1", "drying")
    shop.sit(B)


def main(folder: Path) -> None:
    """Make the ledger anew."""
    (folder / "ledger.jsonl").unlink(missing_ok=True)
    shutil.rmtree(folder / ".copydesk", ignore_errors=True)
    shop = Workshop(folder)
    first_gathering(shop)
    second_gathering(shop)
    for job in shop.jobs.values():
        job.close()
    shutil.rmtree(folder / ".copydesk", ignore_errors=True)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
