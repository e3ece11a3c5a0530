"""Keys that arrive in one burst at a real terminal go where they would have gone one by one."""

from __future__ import annotations

import fcntl
import os
import pty
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from copydesk.job import Job

if TYPE_CHECKING:
    from collections.abc import Iterator

ROOT = Path(__file__).parents[2]
LONGEST_SECONDS = 60


class Terminal:
    """The desk in a terminal of its own."""

    def __init__(self, folder: Path, home: Path) -> None:
        self.master, slave = pty.openpty()
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 120, 0, 0))
        surroundings = {**os.environ, "TERM": "xterm-256color", "HOME": str(home), "PYTHONPATH": str(ROOT)}
        surroundings.update(COPYDESK_STATE=str(home), TEXTUAL_ANIMATIONS="none", COPYDESK_DESK="window")
        surroundings.pop("NO_COLOR", None)
        self.process = subprocess.Popen(
            [sys.executable, "-m", "copydesk", str(folder)],
            stdin=slave,
            stdout=slave,
            stderr=slave,
            env=surroundings,
            start_new_session=True,
        )
        os.close(slave)
        self.shown = b""

    def read(self, seconds: float) -> bytes:
        """What is drawn until nothing comes for so long."""
        begun = len(self.shown)
        while select.select([self.master], [], [], seconds)[0]:
            try:
                more = os.read(self.master, 65536)
            except OSError:
                break
            self.shown += more
        return self.shown[begun:]

    def wait_for(self, wanted: str) -> None:
        """Read until something is drawn."""
        until = time.monotonic() + LONGEST_SECONDS
        seen = self.shown[-200:]
        while wanted.encode() not in seen:
            assert time.monotonic() < until, f"{wanted!r} was not drawn: {seen[-600:]!r}"
            assert self.process.poll() is None, f"the desk ended: {seen[-600:]!r}"
            seen += self.read(0.05)

    def send(self, keys: str) -> None:
        """Send all at once."""
        os.write(self.master, keys.encode())

    def kill(self) -> None:
        if self.process.poll() is None:
            os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait()
        os.close(self.master)


@pytest.fixture
def terminal(folder: Path, tmp_path: Path) -> Iterator[Terminal]:
    """The desk on the shipped book, the gatherings drawn."""
    home = tmp_path / "home"
    home.mkdir()
    terminal = Terminal(folder, home)
    try:
        terminal.wait_for("At this desk")
        yield terminal
    finally:
        terminal.kill()


def entries(folder: Path) -> list[str]:
    """What is recorded, by kind."""
    job = Job.open(folder, desk="reader")
    kinds = [entry.what for entry in job.ledger]
    job.close()
    return kinds


NOTHING_RECORDED = [
    ("g7r\rf\r", "Line in the column"),
    ("g7r\rfw", "of what kind"),
    ("g7r\rfu", "of what kind"),
    ("g7r\rfom", "of what kind"),
    ("g7r\rf\x1b[B\x1b[B\r", "Line in the column"),
    ("L\r\r\r", "From the fold"),
    (":words\r\r", "words of the trade"),
    ("g\x1b[200~7r\x1b[201~\rf", "A fault on 7r"),
]
"""Keys, sent at once, and what is drawn at the end."""


@pytest.mark.parametrize(("keys", "drawn"), NOTHING_RECORDED, ids=repr)
def test_a_burst_of_keys_goes_where_single_keys_would(terminal: Terminal, folder: Path, keys: str, drawn: str) -> None:
    before = entries(folder)
    terminal.send(keys)
    terminal.wait_for(drawn)
    terminal.read(0.3)
    assert terminal.process.poll() is None
    assert entries(folder) == before


def test_a_burst_of_answers_fills_the_lines_of_a_form_and_records_once(terminal: Terminal, folder: Path) -> None:
    before = entries(folder)
    terminal.send("g7r\rf\r2\r3\rhoc\rhac\rseen in one burst\r\x1b\x1b\x1bo\x1b")
    terminal.wait_for("7r")
    until = time.monotonic() + LONGEST_SECONDS
    while entries(folder) == before and time.monotonic() < until:
        terminal.read(0.2)
    assert entries(folder) == [*before, "fault"]
    job = Job.open(folder, desk="reader")
    facts = list(job.ledger)[-1].facts
    job.close()
    told = {name: facts.get(name) for name in ("column", "line", "stands", "should", "note")}
    assert told == {"column": 2, "line": 3, "stands": "hoc", "should": "hac", "note": "seen in one burst"}
    assert terminal.process.poll() is None


def test_the_palette_opened_and_left_at_once_leaves_the_desk_open(terminal: Terminal) -> None:
    for _ in range(3):
        terminal.send(":\x1b")
        terminal.read(0.15)  # a key right after escape would be read as one with alt held down
    terminal.send("L")
    terminal.wait_for("what happened to it")
