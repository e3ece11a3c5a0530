"""Strange input for as long as one likes: ``python tests/long_fuzz.py [--examples 2000] [--seconds 60] [--seed N]``.

First examples by rule, as many of each kind as are asked for. Then, where ``atheris`` is installed (it is not among
the test's needs), bytes guided by which lines of the program they reach, for so many seconds a kind.
"""

from __future__ import annotations

import argparse
import random
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parent / "shared"))

from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

import fuzzing

if TYPE_CHECKING:
    from collections.abc import Callable

KINDS: dict[str, tuple[Callable[[Any], None], st.SearchStrategy[Any]]] = {
    "ledger": (fuzzing.try_ledger, fuzzing.documents()),
    "ledger bytes": (fuzzing.try_ledger_bytes, st.binary(max_size=400)),
    "exemplar": (fuzzing.try_exemplar, fuzzing.TEXTS),
    "sample": (fuzzing.try_sample, fuzzing.SAMPLES),
    "tei": (fuzzing.try_tei, fuzzing.tei()),
    "formula": (fuzzing.try_formula, fuzzing.FORMULAS),
    "plan": (fuzzing.try_plan, st.text(st.sampled_from("abt:{}[]-,'\"\\n #&*!|>0123456789."), max_size=120)),
}
SEEDS = {"plan": fuzzing.PLAN % "exemplar.txt", "exemplar": "# a\nb c\n\n| d\n", "formula": "1-6^8 7^6 (wants 6)"}
"""What guided bytes begin from."""


def main() -> None:
    """Every kind in turn; stops at the first that breaks."""
    parser = argparse.ArgumentParser(description="Strange input for as long as one likes.")
    parser.add_argument("--examples", type=int, default=2000, help="of each kind")
    parser.add_argument("--seconds", type=int, default=60, help="of guided bytes, a kind")
    parser.add_argument("--seed", type=int, default=None, help="repeat a run")
    parser.add_argument("--guided", choices=KINDS, help=argparse.SUPPRESS)
    chosen, rest = parser.parse_known_args()
    if chosen.guided:
        guided(chosen.guided, rest)
        return
    number = random.SystemRandom().randrange(10**9) if chosen.seed is None else chosen.seed
    say(f"seed {number}")
    for name, (trial, strategy) in KINDS.items():
        began = time.perf_counter()
        by_rule(trial, strategy, chosen.examples, number)
        say(f"{name}: {chosen.examples} by rule, none broke anything [{time.perf_counter() - began:.0f} s]")
    for name in KINDS if chosen.seconds else ():
        say(f"{name}: {start_guided(name, chosen.seconds, number)}")


def say(line: str) -> None:
    """Print a line at once."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def by_rule(trial: Callable[[Any], None], strategy: st.SearchStrategy[Any], examples: int, number: int) -> None:
    """So many examples of one kind."""
    rules = settings(
        max_examples=examples,
        deadline=None,
        database=None,
        suppress_health_check=list(HealthCheck),
        phases=[Phase.generate, Phase.shrink],
    )

    @rules
    @seed(number)
    @given(strategy)
    def run(value: Any) -> None:
        trial(value)

    run()


def start_guided(name: str, seconds: int, number: int) -> str:
    """Guided bytes in a process of their own, which ends with them; how many there were."""
    with tempfile.TemporaryDirectory() as top:
        corpus = Path(top) / "corpus"
        corpus.mkdir()
        (corpus / "first").write_text(SEEDS.get(name, "x"))
        limits = [f"-max_total_time={seconds}", f"-seed={number % 2**31 or 1}", "-max_len=600", "-verbosity=0"]
        command = [
            sys.executable,
            __file__,
            "--guided",
            name,
            *limits,
            f"-artifact_prefix={top}/",
            "-print_final_stats=1",
        ]
        done = subprocess.run([*command, str(corpus)], capture_output=True, text=True, check=False, cwd=top)
        if "atheris" in done.stderr and "No module" in done.stderr:
            return "atheris is not installed, so no guided bytes"
        if done.returncode:
            say(done.stdout[-3000:] + done.stderr[-6000:])
            sys.exit(f"{name} broke")
        counted = [line.split()[-1] for line in done.stderr.splitlines() if "number_of_executed_units" in line]
        return f"{(counted or ['?'])[0]} guided in {seconds} s, none broke anything"


def guided(name: str, limits: list[str]) -> None:
    """Be the process that tries guided bytes."""
    import atheris

    trial, _ = KINDS[name]
    takes_bytes = trial is fuzzing.try_ledger_bytes
    atheris.instrument_all()

    def try_bytes(data: bytes) -> None:
        if trial is fuzzing.try_ledger:
            provider = atheris.FuzzedDataProvider(data)
            trial([_entry(provider, number) for number in range(1 + len(data) // 60)])
        else:
            trial(data if takes_bytes else data.decode("utf-8", "replace"))

    atheris.Setup([sys.argv[0], *limits], try_bytes)
    atheris.Fuzz()


def _entry(provider: Any, number: int) -> dict[str, Any]:
    """An entry from bytes: every choice is one of them, so that a change of one changes one thing."""
    kinds, facts = sorted(fuzzing.KINDS), fuzzing.FACTS
    entry: dict[str, Any] = {
        "entry": f"e{number}",
        "tick": provider.ConsumeIntInRange(0, 12),
        "at": provider.PickValueInList(["2026-03-02T10:00:00+00:00", *fuzzing.TIMES, ""]),
        "hand": provider.PickValueInList(["A", "B", "Ines", ""]),
        "desk": provider.PickValueInList(["window", "door"]),
        "what": provider.PickValueInList(kinds),
        "about": provider.PickValueInList(fuzzing.ABOUTS),
    }
    for _ in range(provider.ConsumeIntInRange(0, 4)):
        value = provider.PickValueInList([None, True, "", "frost", "1.1", "page", [], {}, [[1, 2]], 1e300, "word"])
        entry[provider.PickValueInList(facts)] = provider.ConsumeInt(4) if value == "word" else value
    return entry


if __name__ == "__main__":
    main()
