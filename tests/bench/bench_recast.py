"""Casting off again after one page was recorded, on a book of a million words, against casting it whole.

Run: python tests/bench/bench_recast.py
Prints ratios and the memory of the whole; nothing here passes or fails.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING

sys.path.insert(0, str(Path(__file__).parent))

import psutil
from large_books import make_book

from copydesk.book.structure.page import Page
from copydesk.job import Job
from copydesk.tracking.fit.stretches import need_at
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.tracking.ledger.entry import Act, Entry
    from copydesk.tracking.state.book_state import BookState

WORDS = 1_000_000
WRITTEN = 300
TICKS = 25


def main() -> None:
    """Make the book, write some of it, and time what comes after each page."""
    with tempfile.TemporaryDirectory() as name:
        begun = time.perf_counter()
        job = Job.open(make_book(Path(name) / "book", WORDS))
        state = job.state
        state.budget  # noqa: B018 - the whole cast is what is timed
        print(f"opening {WORDS} words, {state.collation.pages} pages: {_ms(time.perf_counter() - begun)} ms")
        whole = _whole_cast(state)
        job.record_all([job.commands.rule(Page.at(index)) for index in range(WRITTEN)])
        for index in range(WRITTEN):
            job.record(_written_short(job, index))
        state.refit()
        state.budget  # noqa: B018
        _tell("the whole text cast off", [whole], whole)
        _tell(
            "cast again after a page, as planned",
            _casts(job, WRITTEN, lambda at: job.commands.write(Page.at(at))),
            whole,
        )
        shifted = _casts(job, WRITTEN + TICKS, lambda at: _written_short(job, at))
        _tell("cast again after a page that ended elsewhere", shifted, whole)
        _tell("hands fitted anew after such a page", _refits(job, WRITTEN + 2 * TICKS), whole)
        state.budget  # noqa: B018
        _tell("what the panel shows of a page", _panels(state), whole)
        memory = psutil.Process().memory_info().rss / 1e6
        print(f"memory of it all {memory:.0f} MB")
        job.close()


def _whole_cast(state: BookState) -> float:
    """Seconds to cast the whole text off, its lines broken anew."""
    from copydesk.tracking.state.book_state import BookState as Again

    afresh = Again(state.book, state.exemplar, state.ledger)
    afresh.copy  # noqa: B018 - laying the text out is not casting it
    begun = time.perf_counter()
    afresh.budget  # noqa: B018
    return time.perf_counter() - begun


def _written_short(job: Job, index: int) -> Act:
    """A page that ended a few words before it was planned to."""
    account = page_account(job.state, index)
    assert job.exemplar is not None
    end = account.to_word - 3 - index % 5
    return job.commands.write(Page.at(index), ends=" ".join(job.exemplar.words[end - 5 : end]))


def _casts(job: Job, first: int, act: Callable[[int], Act]) -> list[float]:
    """Seconds from the entry taken in to the budget worked out, the writing to disk left out."""
    taken = []
    for index in range(first, first + TICKS):
        made = act(index)
        subject = _take(job, job.record(made))
        begun = time.perf_counter()
        job.state.touch(subject)
        job.state.budget  # noqa: B018
        taken.append(time.perf_counter() - begun)
    return taken


def _take(job: Job, entry: Entry) -> tuple[str, str]:
    """Let the standing forget what it has of the page just recorded, as if the entry were still to come."""
    taken_back = job.undo(entry.entry)
    job.state.budget  # noqa: B018
    job.redo()
    return taken_back.subject


def _refits(job: Job, first: int) -> list[float]:
    taken = []
    for index in range(first, first + TICKS):
        job.record(_written_short(job, index))
        job.state.budget  # noqa: B018
        begun = time.perf_counter()
        job.state.refit()
        taken.append(time.perf_counter() - begun)
    return taken


def _panels(state: BookState) -> list[float]:
    taken = []
    for index in range(WRITTEN, WRITTEN + 200):
        begun = time.perf_counter()
        page_account(state, index)
        need_at(state, index)
        taken.append(time.perf_counter() - begun)
    return taken


def _tell(what: str, seconds: list[float], whole: float) -> None:
    median = statistics.median(seconds)
    print(f"{what:46} {_ms(median):>8} ms   worst {_ms(max(seconds)):>8} ms   {median / whole:8.4f} x the whole cast")


def _ms(seconds: float) -> str:
    return f"{seconds * 1000:.2f}"


if __name__ == "__main__":
    main()
