"""Large books for the benchmarks: a text of any length, and a ledger of any number of entries, made alike each time."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

PLAN = """title: A long measure
exemplar: {{text: exemplar.txt}}
page: {{width: 170, height: 240, margins: {{inner: 18, head: 24, outer: 36, foot: 48}}}}
columns: {{count: 2, gap: 10}}
ruling: {{lines: 32}}
hands:
  A: {{name: first, letters_per_line: 34}}
  B: {{name: second, letters_per_line: 35}}
gatherings: {{sheets: 4{count}}}
"""


def long_text(words: int, seed: int = 1) -> str:
    """Plain prose of ``words`` made-up words, most of them from a small store, in paragraphs of about 85 words."""
    chance = random.Random(seed)
    letters = "etaoinshrdlucmfwypvbgkjqxz"
    weights = [12, 9, 8, 8, 7, 7, 6, 6, 6, 4, 4, 3, 3, 2, 2, 2, 2, 2, 1, 1, 1, 1, 1, 1, 1, 1]
    store = ["".join(chance.choices(letters, weights, k=chance.randint(1, 9))) for _ in range(20_000)]
    commonness = [1 / (rank + 2) for rank in range(len(store))]
    drawn = chance.choices(store, commonness, k=words)
    return "\n\n".join(" ".join(drawn[at : at + 85]) for at in range(0, words, 85))


def make_book(folder: Path, words: int, gatherings: int | None = None) -> Path:
    """A book folder with a text of ``words`` words."""
    folder.mkdir(parents=True, exist_ok=True)
    count = f", count: {gatherings}" if gatherings else ""
    (folder / "book.yaml").write_text(PLAN.format(count=count), "utf-8")
    (folder / "exemplar.txt").write_text(long_text(words), "utf-8")
    return folder
