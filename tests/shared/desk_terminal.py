"""The desk in a terminal of its own, and bursts of keys, clicks, pastes and changes of size to be sent to it."""

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

if TYPE_CHECKING:
    import random

ROOT = Path(__file__).parents[2]
LONGEST_SECONDS = 60
LONGEST_READ = 5
DRAWN = "quit"
"""What stands in the foot once the gatherings are drawn."""


class Terminal:
    """The desk in a terminal of its own."""

    def __init__(self, folder: Path, home: Path, *, rows: int = 40, columns: int = 120) -> None:
        self.master, slave = pty.openpty()
        self.rows, self.columns = rows, columns
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
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
        self.shown = bytearray()

    def read(self, seconds: float) -> bytes:
        """What is drawn until nothing comes for so long, or for good, as where the cursor of a line blinks."""
        begun, until = len(self.shown), time.monotonic() + LONGEST_READ
        while time.monotonic() < until and select.select([self.master], [], [], seconds)[0]:
            try:
                more = os.read(self.master, 65536)
            except OSError:
                break
            self.shown += more
        return bytes(self.shown[begun:])

    def wait_for(self, wanted: str) -> None:
        """Read until something is drawn."""
        until = time.monotonic() + LONGEST_SECONDS
        seen = bytes(self.shown[-200:])
        while wanted.encode() not in seen:
            assert time.monotonic() < until, f"{wanted!r} was not drawn: {seen[-600:]!r}"
            assert self.process.poll() is None, f"the desk ended: {seen[-600:]!r}"
            seen += self.read(0.05)

    def send(self, keys: str) -> None:
        """Send all at once, reading what is drawn meanwhile, so that neither side waits for the other for good."""
        left = keys.encode()
        until = time.monotonic() + LONGEST_SECONDS
        while left and time.monotonic() < until and self.process.poll() is None:
            readable, writable, _ = select.select([self.master], [self.master], [], 1)
            if readable:
                self.read(0)
            if writable:
                left = left[os.write(self.master, left[:512]) :]

    def resize(self, rows: int, columns: int) -> None:
        """Give the terminal another size."""
        self.rows, self.columns = rows, columns
        fcntl.ioctl(self.master, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
        os.killpg(self.process.pid, signal.SIGWINCH)

    def leave(self) -> None:
        """Close the terminal. No hang-up is sent: the desk was given the terminal and does not own it."""
        if self.master >= 0:
            os.close(self.master)
            self.master = -1

    def kill(self) -> None:
        """End it, if it still runs, and close the terminal."""
        if self.process.poll() is None:
            os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait()
        self.leave()


LETTERS = "abcdefghijklmnoprstuvwxyzFLRY0123456789/:?.,+-"
"""Letters and signs a hand may hit; the one that quits is not among them."""

NAMED = (
    *("\r", "\r", "\r", " ", "\t", "\x7f", "\x1b[Z"),
    *("\x1b[A", "\x1b[B", "\x1b[C", "\x1b[D", "\x1b[H", "\x1b[F", "\x1b[5~", "\x1b[6~", "\x1b[3~"),
    *("\x1bOP", "\x1bOQ", "\x1bOR", "\x1b[15~", "\x1b[17~", "\x1b[19~", "\x1b[20~"),
    *("\x13", "\x10", "\x03"),
)
"""Enter, space, tab, backspace; arrows, home, end, pages, delete; F1 to F3, F5, F6, F8, F9; ctrl+s, ctrl+p, ctrl+c."""

PASTED = ("7r", "and there will be", "99999999999", "[b]x[/b]", "line\nby line\n" * 3, "é\u202e\u0301", "x" * 300)

SIZES = ((24, 80), (40, 120), (60, 200), (10, 40), (25, 81))

ESCAPE = "\x1b[27u"
"""Escape as terminals send it that tell it from the beginning of another key."""


def burst(chance: random.Random, rows: int, columns: int, longest: int = 24) -> list[str]:
    """Keys, clicks and pastes that arrive at once; the foot is not clicked on, since the desk can be left there."""
    sent = []
    for _ in range(chance.randint(1, longest)):
        match chance.choices(("letter", "named", "escape", "click", "paste"), (40, 34, 10, 12, 4))[0]:
            case "letter":
                sent.append(chance.choice(LETTERS))
            case "named":
                sent.append(chance.choice(NAMED))
            case "escape":
                sent.append(ESCAPE)
            case "click":
                x, y = chance.randrange(columns) + 1, chance.randrange(max(rows - 2, 1)) + 1
                sent += [f"\x1b[<0;{x};{y}M\x1b[<0;{x};{y}m"] * chance.choice((1, 1, 2))
            case _:
                sent.append(f"\x1b[200~{chance.choice(PASTED)}\x1b[201~")
    return sent
