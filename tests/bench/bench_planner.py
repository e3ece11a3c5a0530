"""Turning one figure of a book of a million words, against splitting its text: reckoned, and until it is on the screen.

Run: python tests/bench/bench_planner.py [words]
Prints ratios; nothing here passes or fails.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING

sys.path.insert(0, str(Path(__file__).parent))

from bench_desk import Terminal
from large_books import long_text, make_book

from copydesk.desk.wording.planner_words import figure_rows, outcome_lines
from copydesk.job import Job
from copydesk.tracking.planning.plan_figures import Trial
from copydesk.tracking.planning.planner import Planner
from copydesk.tracking.planning.ways_report import formula_of_way

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from copydesk.tracking.planning.planner import Outcome

PRESSES = 9
DOWN = b"\x1b[B"


def trials() -> Iterator[tuple[str, list[Trial]]]:
    """What is turned, and so many values of it that none was reckoned before."""
    yield "lines a column", [Trial({"lines": 33.0 + step}) for step in range(PRESSES)]
    yield "sheets a gathering", [Trial({"sheets": 2.0 + step}) for step in range(PRESSES)]
    yield "inner margin", [Trial({"inner": 19.0 + step}) for step in range(PRESSES)]
    yield "nib and columns", [Trial({"nib": 1.0 + step / 10, "columns": 1.0 + step % 3}) for step in range(PRESSES)]
    yield "letters a line", [Trial({}, {"A": 1.01 + step / 50}) for step in range(PRESSES)]


def reckon(planner: Planner, base: Outcome, trial: Trial) -> None:
    """Everything the screen shows, as words."""
    outcome = planner.outcome(trial)
    list(outcome_lines(base, outcome))
    figure_rows(base, outcome, trial, planner.ground.own_sheets)
    for way in planner.ways(trial)[:4]:
        formula_of_way(planner, way)


def timed(work: Callable[[Trial], None], values: list[Trial]) -> list[float]:
    """Seconds that each turn takes."""
    taken = []
    for value in values:
        begun = time.perf_counter()
        work(value)
        taken.append(time.perf_counter() - begun)
    return taken


def splitting(text: str) -> float:
    """The shortest time to split the text, in seconds."""
    taken = []
    for _ in range(5):
        begun = time.perf_counter()
        text.split()
        taken.append(time.perf_counter() - begun)
    return min(taken)


def on_screen(folder: Path) -> Iterator[tuple[str, list[float]]]:
    """Seconds from a key sent to the terminal until the turned figure is on its screen, for some presses each."""
    with Terminal([sys.executable, "-m", "copydesk", str(folder)]) as terminal:
        terminal.wait_for(b"Gathering")
        terminal.drain()
        terminal.press(b"vp")
        terminal.wait_for(b"as planned, and as turned")
        terminal.drain()
        yield "lines a column", [_press(terminal, 33 + step) for step in range(PRESSES)]
        for _ in range(4):
            terminal.press(DOWN)
            terminal.drain()
        yield "letters a line", [_press(terminal, 35 + step) for step in range(PRESSES)]


def _press(terminal: Terminal, expected: int) -> float:
    begun = time.perf_counter()
    terminal.press(b"+")
    terminal.wait_for(f"{expected} ◂".encode())
    taken = time.perf_counter() - begun
    terminal.drain()
    return taken


def main(words: int = 1_000_000) -> None:
    """Print a line for each figure turned."""
    split = splitting(long_text(words))
    with tempfile.TemporaryDirectory() as name:
        folder = make_book(Path(name), words)
        planner = Planner(Job.open(folder, desk="bench").state)
        base = planner.outcome(Trial())
        print(f"{words} words, split in {split * 1000:.0f} ms; {PRESSES} turns each")
        for said, values in trials():
            _tell(f"reckoned   {said}", timed(lambda trial: reckon(planner, base, trial), values), split)
        for said, taken in on_screen(folder):
            _tell(f"on screen  {said}", taken, split)


def _tell(said: str, taken: list[float], split: float) -> None:
    median, most = statistics.median(taken), max(taken)
    print(f"{said:<32} {median * 1000:5.0f} ms, {most * 1000:5.0f} at most   {median / split:5.2f} x split")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
