"""Keys that arrive in one burst at a real terminal go where they would have gone one by one."""

from __future__ import annotations

import random
import time
from typing import TYPE_CHECKING

import pytest

from copydesk.desk.base.screen_table import SCREENS
from copydesk.job import Job
from copydesk.store.journal.audit import audit
from desk_terminal import DRAWN, LONGEST_SECONDS, Terminal, burst

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


@pytest.fixture
def terminal(folder: Path, tmp_path: Path) -> Iterator[Terminal]:
    """The desk on the shipped book, the gatherings drawn."""
    home = tmp_path / "home"
    home.mkdir()
    terminal = Terminal(folder, home)
    try:
        terminal.wait_for(DRAWN)
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
    ("mf\r\r\r", "From the fold"),
    (":words\r\r", "words of the trade"),
    ("mfmf", "what happened to it"),
    ("mf2\r\r", "From the fold"),
    ("vuvf/13r", "Go to 13r"),
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
    terminal.send("mf")
    terminal.wait_for("what happened to it")


OPENED = (*(f"v{entry.letter}" for entry in SCREENS if entry.letter), *"efagm/:", "mf", "mt", "ms")
"""Keys that open every screen and every form of the gatherings."""


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_bursts_at_every_screen_and_form_end_nothing(
    terminal: Terminal, folder: Path, tmp_path: Path, seed: int
) -> None:
    chance = random.Random(seed)
    for keys in chance.sample(OPENED, len(OPENED)):
        terminal.send(keys + "".join(burst(chance, terminal.rows, terminal.columns, 8)))
        terminal.read(0.02)
        assert terminal.process.poll() in (None, 0), keys
        if terminal.process.poll() == 0:
            break  # the palette may have been asked to quit
    terminal.read(0.5)
    assert terminal.process.poll() in (None, 0)
    assert not (tmp_path / "home" / "mistakes.log").exists()
    assert audit(folder) == ()


def test_a_desk_ends_when_its_terminal_is_gone_and_nothing_said_so(
    terminal: Terminal, folder: Path, tmp_path: Path
) -> None:
    terminal.send("w")
    terminal.read(0.5)
    kept = entries(folder)
    terminal.leave()
    assert terminal.process.wait(LONGEST_SECONDS) == 0
    assert entries(folder) == kept
    assert not (tmp_path / "home" / "mistakes.log").exists()
