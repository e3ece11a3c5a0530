"""Every benchmark in one table: what is done, at four sizes, each time beside a reference run in the same call.

Run: python tests/bench/all.py [--quick]

A small book is one of 120 words in a ledger of 10 entries; the others are 10, 100, 1,000 and 10,000 times as large, the
largest of 1.2 million words and 100,000 entries. (The shipped book, of 12,000 words, is 100 times the small one;
10,000 times the shipped one would be 120 million words, which nobody copies by hand.) The columns are milliseconds,
or megabytes; ``grew`` is how much longer the largest takes for each unit than the next smaller: 1.0 where time grows
as the book does, 0.1 where it does not grow at all, 10 where it grows with the square. ``--quick`` leaves the
largest out.

Nothing here passes or fails. The package is compiled first, since an uncompiled one is compiled at every start.
"""

from __future__ import annotations

import argparse
import compileall
import gc
import os
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import textwrap
import time
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

sys.path.insert(0, str(Path(__file__).parent))

import bench_desk as desk
from large_books import long_text, make_book

import copydesk
from copydesk.book.flow import Flow
from copydesk.book.structure.page import Page
from copydesk.book.text.exemplar import read_exemplar
from copydesk.comparing.compare import compare
from copydesk.comparing.normalization import Allowances
from copydesk.job import Job
from copydesk.papers.catalogue import PaperRequest, make
from copydesk.store.files.gc_tuning import collect_as_usual, collect_rarely
from copydesk.store.folder.new_book import shipped_book
from copydesk.tracking.ledger.entry import Entry
from copydesk.tracking.ledger.ledger import Ledger
from copydesk.tracking.views.gathering_progress import gathering_reports
from copydesk.tracking.views.page_lookup import next_to_write
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

WORDS, ENTRIES = 120, 10
SIZES = (10, 100, 1_000, 10_000)
WORDS_A_PAGE = 320
PAGE = 600
"""Words of the page compared."""


class Row(NamedTuple):
    """What was done, how long it took at a size, and how long its reference took, in seconds (or bytes)."""

    what: str
    taken: float
    beside: str
    reference: float


def best(work: Callable[[], object], turns: int = 5) -> float:
    """The shortest of several turns, in seconds."""
    taken = []
    for _ in range(turns):
        begun = time.perf_counter()
        work()
        taken.append(time.perf_counter() - begun)
    return min(taken)


def casting(size: int) -> Iterator[Row]:
    """Reading a text and casting it off in pages, against splitting it and against textwrap."""
    text = long_text(WORDS * size)
    turns = 5 if size < SIZES[-1] else 2
    split = best(text.split, turns)
    exemplar = read_exemplar(text)
    cast = best(lambda: desk._cast(exemplar), turns)
    paragraphs = text.split("\n\n")
    wrap = best(lambda: [textwrap.wrap(paragraph, 34) for paragraph in paragraphs], 1)
    yield Row("casting off", cast, "str.split", split)
    yield Row("", cast, "textwrap", wrap)
    even = best(lambda: desk._cast(exemplar, Flow(line_ends="even")), turns)
    yield Row("the same with even line ends", even, "as words come", cast)
    yield Row("reading the text", best(lambda: read_exemplar(text), turns), "str.split", split)


def opened(folder: Path) -> Iterator[Row]:
    """Opening a book and its ledger, folding that, casting again after a page, and the lists."""
    collect_rarely()  # as the desk does until it stands
    job = Job.open(folder, desk="bench")
    documents = job.store.entries()
    entries = [Entry.from_document(document) for document in documents]
    rows = folder / "rows.sqlite"
    _into_sqlite(rows, [str(document) for document in documents])
    yield Row(
        "opening book and ledger", best(lambda: _open(folder), 2), "SQLite, all rows", best(lambda: _select(rows))
    )
    yield Row("folding the ledger", best(lambda: Ledger(entries), 2), "sorting it", best(lambda: _sorted(entries), 3))
    collect_as_usual()
    yield from _recasting(folder, job)
    state = job.state
    overview = best(lambda: gathering_reports(state), 2)
    yield Row("all gatherings, a line each", overview, "one page's account", best(lambda: page_account(state, 0)))
    yield Row("the guide of a page", *_papers(job))
    job.close()
    gc.unfreeze()


def _papers(job: Job) -> tuple[float, str, float]:
    """The guide of the page to write next, against the ruling of the same page."""
    order = PaperRequest(job, "pdf", Page.at(next_to_write(job.state, -1) or 0))
    return best(lambda: make("guide", order), 3), "its ruling", best(lambda: make("ruling", order), 3)


def _open(folder: Path) -> None:
    job = Job.open(folder, desk="other")
    job.state.budget  # noqa: B018 - what is opened is cast off too
    job.close()


def _sorted(entries: list[Entry]) -> list[Entry]:
    return sorted(entries, key=lambda entry: (entry.tick, entry.desk, entry.entry))


def _into_sqlite(path: Path, rows: list[str]) -> None:
    path.unlink(missing_ok=True)
    database = sqlite3.connect(path)
    database.execute("create table entry(id integer primary key, body text)")
    database.executemany("insert into entry(body) values (?)", ((row,) for row in rows))
    database.commit()
    database.close()


def _select(path: Path) -> None:
    database = sqlite3.connect(path)
    database.execute("select * from entry").fetchall()
    database.close()


def _recasting(folder: Path, job: Job) -> Iterator[Row]:
    """One page recorded: made safe on disk, and cast off again; against a bare append and SQLite."""
    recorded, recast = [], []
    for _ in range(6):
        index = next_to_write(job.state, -1)
        if index is None:
            break
        act = job.commands.write(Page.at(index))
        begun = time.perf_counter()
        job.record(act)
        written = time.perf_counter()
        job.state.budget  # noqa: B018 - casting off is what is timed
        recorded.append(written - begun)
        recast.append(time.perf_counter() - written)
    bare, row = desk._raw_append(folder / "raw"), _sqlite_row(folder / "row.sqlite")
    yield Row("recording a page", statistics.median(recorded[1:] or [0.0]), "append and fsync", bare)
    yield Row("", statistics.median(recorded[1:] or [0.0]), "SQLite, a row", row)
    yield Row("casting again after it", statistics.median(recast[1:] or [0.0]), "whole cast-off", _whole_cast(folder))


def _whole_cast(folder: Path) -> float:
    job = Job.open(folder, desk="third")
    begun = time.perf_counter()
    job.state.budget  # noqa: B018 - casting off is what is timed
    taken = time.perf_counter() - begun
    job.close()
    return taken


def _sqlite_row(path: Path) -> float:
    database = sqlite3.connect(path, isolation_level=None)
    database.execute("pragma journal_mode=wal")
    database.execute("pragma synchronous=full")
    database.execute("create table entry(id integer primary key, body text)")
    taken = []
    for _ in range(60):
        begun = time.perf_counter()
        database.execute("insert into entry(body) values (?)", ("x" * 300,))
        taken.append(time.perf_counter() - begun)
    database.close()
    return statistics.median(taken)


def at_the_desk(folder: Path, ticks: int) -> Iterator[Row]:
    """A key from the terminal to the words about it, and memory; against a bare append and a bare Textual app."""
    raw = desk._raw_append(folder / "raw")
    taken, memory = _sitting([sys.executable, "-m", "copydesk", str(folder)], b"Gathering", ticks)
    _, bare = _sitting([sys.executable, "-c", desk.BARE], b"a bare screen", 0)
    yield Row("a tick, key to screen", taken, "append and fsync", raw)
    yield Row("memory, MB", memory / 1000, "bare Textual app", bare / 1000)


def _sitting(command: list[str], sign: bytes, ticks: int) -> tuple[float, float]:
    """The median time of a tick at a terminal, and the megabytes of the process after them."""
    import psutil

    with desk.Terminal(command) as terminal:
        terminal.wait_for(sign)
        terminal.drain()
        taken = [desk.timed_tick(terminal) for _ in range(ticks)]
        memory = psutil.Process(terminal.child).memory_info().rss / 1e6
    return statistics.median(taken or [0.0]), memory


def comparing(size: int) -> Iterator[Row]:
    """A page with a slip in a hundred words found in a text of this size; against a bare alignment of the two."""
    from rapidfuzz.distance import Levenshtein

    words = tuple(long_text(WORDS * size).split())
    start = max(len(words) // 2 - PAGE, 0)
    right = words[start : start + PAGE]
    copied = [f"{word}zz" if at % 100 == 3 else word for at, word in enumerate(right)]
    keys, own = Allowances().keys(right), Allowances().keys(copied)
    bare = best(lambda: Levenshtein.opcodes(own, keys))
    yield Row("comparing a page of 600", best(lambda: compare(copied, words, start)), "bare alignment", bare)
    away = best(lambda: compare(copied, words, 0), 2)
    yield Row("  its place not known", away, "bare alignment", bare)


def starting(turns: int) -> Iterator[tuple[str, Row]]:
    """The shipped book opened for the first time, and again with its last picture; and a command; references beside."""
    with tempfile.TemporaryDirectory() as name:
        folder, bare = Path(name) / "book", Path(name) / "bare.py"
        bare.write_text(desk.BARE)
        book = [sys.executable, "-m", "copydesk", str(folder)]
        for said, sign in (("first, shown", desk.FIRST), ("first, its grid", desk.GRID), ("again, shown", desk.GRID)):
            ours, reference = [], []
            if said == "again, shown":
                _leave_picture(book)
            for _ in range(turns):
                if said != "again, shown":
                    desk.fresh_copy(folder)
                reference.append(desk._until([sys.executable, str(bare)], b"a bare screen"))
                ours.append(desk._until(book, sign))
            yield said, Row("start", statistics.median(ours), "bare Textual app", statistics.median(reference))
    plan = [*book[:3], "plan", str(shipped_book()), "--json"]
    command = best(lambda: subprocess.run(plan, stdout=subprocess.DEVNULL, check=True), turns)
    nothing = best(lambda: subprocess.run([sys.executable, "-c", "pass"], check=True), turns)
    yield "plan --json", Row("command", command, "python -c pass", nothing)


def _leave_picture(book: list[str]) -> None:
    """Sit at the desk until it has kept its picture."""
    with desk.Terminal(book) as terminal:
        terminal.wait_for(b"Gathering")
        time.sleep(3.5)


def measured(size: int, folder: Path) -> Iterator[Row]:
    """All rows at one size."""
    yield from casting(size)
    yield from comparing(size)
    make_book(folder, WORDS * size)
    desk._fill_ledger(folder, max(WORDS * size // WORDS_A_PAGE, 1), ENTRIES * size)
    yield from at_the_desk(folder, min(9, size // 10))
    yield from opened(folder)


def show(columns: list[tuple[int, list[Row]]]) -> None:
    """The table: a line for each thing done, its time at every size, how it grew, the ratio at the largest."""
    sizes = "".join(f"{f'{size * WORDS:,}':>12}" for size, _ in columns)
    print(f"{'words':29}{sizes}    grew   at the largest, times")
    print(f"{'entries':29}" + "".join(f"{f'{size * ENTRIES:,}':>12}" for size, _ in columns))
    for rows in zip(*(rows for _, rows in columns), strict=True):
        last, before = rows[-1], rows[-2]
        times = "".join(f"{row.taken * 1000:12.2f}" for row in rows) if last.what else " " * 12 * len(rows)
        grew = f"{last.taken / before.taken / 10:8.2f}" if last.what and before.taken else " " * 8
        ratio = f"{last.taken / last.reference:10.2f} {last.beside}" if last.reference else ""
        print(f"{last.what:29}{times}{grew}{ratio}")


def main() -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--quick", action="store_true", help="leave the largest book out")
    quick = parser.parse_args().quick
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    compileall.compile_dir(str(Path(copydesk.__file__).parent), quiet=2)
    print("milliseconds; 'grew' is the time for each unit at the largest size over that at the next smaller one\n")
    for said, row in starting(3 if quick else 15):
        ratio = row.taken / row.reference
        print(f"{f'{row.what}, {said}':29}{row.taken * 1000:12.0f}{ratio:10.2f} {row.beside}")
    print()
    columns = []
    with tempfile.TemporaryDirectory() as name:
        for size in SIZES[:-1] if quick else SIZES:
            columns.append((size, list(measured(size, Path(name) / str(size)))))
    show(columns)


if __name__ == "__main__":
    main()
