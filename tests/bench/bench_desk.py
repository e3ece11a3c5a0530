"""Start, casting off and one tick, each against a reference run in the same call.

Run: python tests/bench/bench_desk.py
Prints ratios; nothing here passes or fails. The package should be installed and compiled, since an uncompiled
source tree is compiled at every start.
"""

from __future__ import annotations

import fcntl
import os
import pty
import select
import shutil
import statistics
import struct
import subprocess
import sys
import tempfile
import termios
import textwrap
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from large_books import long_text, make_book

from copydesk.book.casting.line_breaking import Lines
from copydesk.book.casting.page_casting import Caster
from copydesk.book.flow import Flow
from copydesk.book.layout.page_frame import Cursor, Frame
from copydesk.book.structure.page import Page
from copydesk.book.text.copy_text import lay_text
from copydesk.book.text.exemplar import read_exemplar
from copydesk.book.text.letter_widths import WordWidths, width_table
from copydesk.desk.opening import READING
from copydesk.job import Job
from copydesk.store.folder.new_book import shipped_book
from copydesk.tracking.ledger.entry import Act

BARE = """
from textual.app import App
from textual.widgets import Static
class Bare(App):
    def compose(self):
        yield Static("a bare screen")
Bare().run()
"""


def start() -> None:
    """The desk on the shipped book, never opened before: until it is shown, and until its grid is."""
    with tempfile.TemporaryDirectory() as folder:
        bare, book = Path(folder) / "bare.py", Path(folder) / "book"
        bare.write_text(BARE)
        shown: list[float] = []
        grid: list[float] = []
        reference = []
        for _ in range(15):
            reference.append(_until([sys.executable, str(bare)], b"a bare screen"))
            for sign, taken in ((FIRST, shown), (GRID, grid)):
                fresh_copy(book)
                taken.append(_until([sys.executable, "-m", "copydesk", str(book)], sign))
    bare_median = statistics.median(reference)
    for said, median in (("start of the desk", statistics.median(shown)), ("  its grid", statistics.median(grid))):
        print(f"{said:27} {median * 1000:8.0f} ms   {median / bare_median:5.2f} x a bare app")


FIRST = READING.encode()
"""What a desk without a picture shows first."""
GRID = b"Gathering"
"""What its grid shows, and its picture."""


def fresh_copy(book: Path) -> None:
    """Lay the shipped book in a folder as it came: no desk has left its picture there."""
    shutil.rmtree(book, ignore_errors=True)
    shutil.copytree(shipped_book(), book, ignore=shutil.ignore_patterns(".*"))


def _until(command: list[str], sign: bytes) -> float:
    """Seconds from the start of a command until ``sign`` is on its screen."""
    begun = time.perf_counter()
    with Terminal(command) as terminal:
        terminal.wait_for(sign)
        return time.perf_counter() - begun


class Terminal:
    """A command on a terminal of 120 by 40 of its own."""

    def __init__(self, command: list[str]) -> None:
        self.child, self.file = pty.fork()
        if self.child == 0:
            os.environ["TERM"] = "xterm-256color"
            os.execv(command[0], command)  # noqa: S606 - our own command
        fcntl.ioctl(self.file, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 120, 0, 0))

    def __enter__(self) -> Terminal:
        return self

    def __exit__(self, *_: object) -> None:
        os.kill(self.child, 9)
        os.waitpid(self.child, 0)
        os.close(self.file)

    def press(self, key: bytes) -> None:
        """Send a key."""
        os.write(self.file, key)

    def wait_for(self, sign: bytes) -> None:
        """Read until ``sign`` was written."""
        seen = b""
        while sign not in seen and select.select([self.file], [], [], 20)[0]:
            seen += os.read(self.file, 65536)

    def drain(self) -> None:
        """Read until nothing more comes."""
        while select.select([self.file], [], [], 0.15)[0]:
            os.read(self.file, 65536)


def casting(words: int = 1_000_000) -> None:
    """A long exemplar through its pages, against splitting it and against textwrap."""
    text = long_text(words)
    paragraphs = text.split("\n\n")
    split = _best(text.split)
    wrap = _best(lambda: [textwrap.wrap(paragraph, 34) for paragraph in paragraphs], 1)
    exemplar = read_exemplar(text)
    reading = _best(lambda: read_exemplar(text))
    cast = _best(lambda: _cast(exemplar))
    for said, taken in (("casting", cast), ("  with reading it", cast + reading)):
        beside = f"{taken / split:5.2f} x split   {wrap / taken:5.2f} x as fast as textwrap"
        print(f"{said} {words} words".ljust(27), f"{taken * 1000:8.0f} ms   {beside}")


def _cast(exemplar: object, flow: Flow | None = None) -> int:
    copy = lay_text(exemplar, WordWidths(width_table("relative")), flow or Flow())  # type: ignore[arg-type]
    caster, cursor, pages = Caster(Lines(copy, 34 * copy.mean), []), Cursor(0), 0
    while cursor.piece < copy.pieces:
        cursor = caster.page(cursor, Frame(2, 32), recto=pages % 2 == 0, limit=copy.pieces).end
        pages += 1
    return pages


def _best(work: object, times: int = 5) -> float:
    taken = []
    for _ in range(times):
        begun = time.perf_counter()
        work()  # type: ignore[operator]
        taken.append(time.perf_counter() - begun)
    return min(taken)


def tick(pages: int = 2_000, entries: int = 20_000) -> None:
    """One page recorded as written on a large book: from the key to the word about it, and a raw append beside it."""
    with tempfile.TemporaryDirectory() as name:
        folder = make_book(Path(name), pages * 320)
        _fill_ledger(folder, pages, entries)
        taken = _ticks(folder)
        raw = _raw_append(Path(name) / "raw")
    median = statistics.median(taken)
    said = f"a tick, {pages} pages, {entries} entries"
    print(f"{said} {median * 1000:6.1f} ms   {median / raw:5.1f} x a raw append with fsync")


def _fill_ledger(folder: Path, pages: int, entries: int) -> None:
    job = Job.open(folder, desk="bench")
    budget, copy = job.state.budget, job.state.copy
    acts = []
    for index in range(min(pages, job.state.collation.pages) - 60):
        skin, page = str(job.state.skin_at(index)), str(Page.at(index))
        start, end = copy.word(budget.pages[index].start), copy.word(budget.pages[index].end)
        lines = budget.pages[index].planned
        facts = {"from_line": 1, "to_line": lines, "from_word": start, "to_word": end, "whole": True}
        acts.append(Act("ruled", skin, page, {"placements": []}))
        acts.append(Act("written", skin, page, facts))
        acts.append(Act("checked", skin, page, {}))
    acts += [Act("note", "book", "", {"text": "a remark"})] * (entries - len(acts))
    for at in range(0, len(acts), 500):
        job.record_all(acts[at : at + 500])
    job.close()


def _ticks(folder: Path) -> list[float]:
    """Seconds each of some ticks took."""
    with Terminal([sys.executable, "-m", "copydesk", str(folder)]) as terminal:
        terminal.wait_for(b"Gathering")
        return [timed_tick(terminal) for _ in range(25)]


def timed_tick(terminal: Terminal) -> float:
    """Seconds from a key sent to the terminal until the desk's word about it is on the screen."""
    terminal.press(b"n")
    terminal.drain()
    begun = time.perf_counter()
    terminal.press(b"w")
    terminal.wait_for(b"written by")
    return time.perf_counter() - begun


def _raw_append(path: Path) -> float:
    line = b"x" * 300 + b"\n"
    taken = []
    with path.open("ab", buffering=0) as file:
        for _ in range(200):
            begun = time.perf_counter()
            file.write(line)
            os.fsync(file.fileno())
            taken.append(time.perf_counter() - begun)
    return statistics.median(taken)


def command() -> None:
    """``plan --json`` of the shipped book as a whole command, against Python doing nothing."""
    plan = [sys.executable, "-m", "copydesk", "plan", str(shipped_book()), "--json"]
    nothing = [sys.executable, "-c", "pass"]
    ours = _best(lambda: subprocess.run(plan, stdout=subprocess.DEVNULL, check=True), 7)
    bare = _best(lambda: subprocess.run(nothing, check=True), 7)
    print(f"plan --json                 {ours * 1000:8.0f} ms   {ours / bare:5.1f} x Python doing nothing")


if __name__ == "__main__":
    start()
    casting()
    tick()
    command()
