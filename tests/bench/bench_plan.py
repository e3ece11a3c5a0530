"""Reading a plan, beside YAML's own safe loader on the same text; and an exemplar's file beside decoding it.

``python tests/bench/bench_plan.py``. The ratios are what counts; milliseconds are those of this machine.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import yaml

from copydesk.store.files.source_texts import read_exemplar_file
from copydesk.store.plan_file.book_file import parse_plan

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.book.plan import Book

PROJECT = Path(__file__).parents[2]
PLAN = (PROJECT / "projects" / "twelve-waters" / "book.yaml").read_text(encoding="utf-8")
SPACE = "  - {{id: more{0}, kind: miniature, at: {{division: {1}}}, lines: 9, subject: one more picture of the ford}}\n"
TURNS = 30


def plan_of(size: int) -> str:
    """The shipped plan with as many spaces more as make it ``size`` bytes long."""
    head, spaces, rest = PLAN.partition("spaces:\n")
    more = "".join(SPACE.format(at, at % 9 + 1) for at in range(max(size - len(PLAN), 0) // len(SPACE)))
    return head + spaces + more + rest


def read(plan: str) -> Book:
    """The book of a plan."""
    return parse_plan(plan, "book.yaml").finish()


def milliseconds(act: Callable[[], object]) -> float:
    """The median time of one of ``TURNS`` turns."""
    times = []
    for _ in range(TURNS):
        begun = time.perf_counter()
        act()
        times.append(time.perf_counter() - begun)
    return 1000 * statistics.median(times)


def first_read() -> float:
    """Importing the reader and reading the shipped book in a new interpreter, less an interpreter that only starts."""
    act = "from pathlib import Path; from copydesk.store.plan_file.book_file import read_book; read_book(Path('{}'))"

    def whole(code: str) -> float:
        return milliseconds(lambda: subprocess.run([sys.executable, "-c", code], check=True, cwd=PROJECT))

    return whole(act.format(PROJECT / "projects" / "twelve-waters")) - whole("from pathlib import Path")


def main() -> None:
    """Print the ratios."""
    quickest = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    for size in (len(PLAN), 17_000, 170_000):
        plan = plan_of(size)
        ours, theirs = milliseconds(partial(read, plan)), milliseconds(partial(yaml.load, plan, quickest))
        print(f"plan of {len(plan):,} bytes: {ours:.2f} ms, {ours / theirs:.2f} times the YAML loader's {theirs:.2f}")
    print(f"importing the reader and reading the shipped book: {first_read():.0f} ms over a bare start")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "exemplar.txt"
        data = ("a wörd and anothér, then a third of them\n" * 150_000).encode()
        path.write_bytes(data)
        ours, theirs = milliseconds(lambda: read_exemplar_file(path, "x")), milliseconds(data.decode)
    print(f"exemplar of {len(data):,} bytes: {ours:.1f} ms, {ours / theirs:.1f} times decoding alone")


if __name__ == "__main__":
    main()
