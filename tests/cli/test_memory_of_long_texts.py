"""What a long text takes of the memory, worked out from two shorter ones, since the longest would take a minute."""

from __future__ import annotations

import os
import random
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PROGRAM = """
import sys
from copydesk.cli.main import main
if main(["plan", sys.argv[1], "--json"]):
    sys.exit("the plan was not shown")
with open("/proc/self/status") as status:
    print(next(line.split()[1] for line in status if line.startswith("VmHWM")), file=sys.stderr)
"""
PLAN = """title: A long measure
exemplar: {text: exemplar.txt}
page: {width: 170, height: 240, margins: {inner: 18, head: 24, outer: 36, foot: 48}}
columns: {count: 2, gap: 10}
ruling: {lines: 32}
hands: {A: {name: first, letters_per_line: 34}}
"""
LONGEST = 50_000_000
"""Bytes of the longest exemplar that is read."""
MOST = 1_000_000_000
"""Bytes it may take, by what is promised."""


def book_of(folder: Path, words: int, breaks: str) -> Path:
    """A book with a text of ``words`` made-up words of one to nine letters."""
    chance = random.Random(1)
    store = ["".join(chance.choices("etaoinshrdlu", k=chance.randint(1, 9))) for _ in range(20_000)]
    drawn = chance.choices(store, k=words)
    folder.mkdir()
    (folder / "book.yaml").write_text(f"{PLAN}line_breaks: {breaks}\n", "utf-8")
    text = "\n\n".join(" ".join(drawn[at : at + 85]) for at in range(0, words, 85))
    (folder / "exemplar.txt").write_text(text, "utf-8")
    return folder


def taken(folder: Path) -> tuple[int, int]:
    """The bytes of a book's exemplar, and the most bytes that its plan takes of the memory."""
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM, str(folder)],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        check=True,
    )
    return (folder / "exemplar.txt").stat().st_size, int(done.stderr.split()[-1]) * 1024


@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="only Linux tells the most a process ever took")
@pytest.mark.parametrize("breaks", ["words", "syllables\nlanguage: en", "anywhere"])
def test_the_longest_text_takes_less_than_a_gigabyte(tmp_path: Path, breaks: str) -> None:
    sizes = [taken(book_of(tmp_path / str(words), words, breaks)) for words in (200_000, 400_000)]
    (shorter, less), (longer, more) = sizes
    each = (more - less) / (longer - shorter)
    assert more + each * (LONGEST - longer) < MOST, f"{each:.1f} bytes of memory for a byte of text"
