"""How well slips are found: the share found, named rightly and placed within a line, kind by kind."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from copydesk.comparing.compare import compare
from slips import MAKERS, Slip, Spoiler, Text, place

if TYPE_CHECKING:
    from collections.abc import Iterable

    from copydesk.comparing.faults import Comparison


@dataclass(slots=True)
class Score:
    """Counts for one kind."""

    slips: int = 0
    found: int = 0
    named: int = 0
    placed: int = 0
    called: Counter[str] = field(default_factory=Counter)

    def add(self, slip: Slip, outcome: Comparison) -> None:
        """Count one slip: named only if it is the page's one fault and bears its name."""
        lines = [fault.line for fault in outcome.faults]
        self.slips += 1
        self.found += bool(lines)
        self.named += [fault.kind for fault in outcome.faults] == [slip.kind]
        self.placed += any(abs(line - place(slip.at)[1]) <= 1 for line in lines)
        self.called[" + ".join(fault.kind for fault in outcome.faults)] += 1


def read(slip: Slip, text: Text) -> Comparison:
    """Compare a spoilt page with its exemplar, whose lines and leaves are known where the slip needs them."""
    known = slip.kind in ("line skipped", "line displaced", "leaf skipped")
    return compare(
        slip.copied,
        slip.exemplar,
        slip.start,
        places=[place(at) for at in range(len(slip.copied))],
        exemplar_lines=text.lines if known else (),
        exemplar_leaves=text.leaves if known else (),
        glosses=slip.glosses,
    )


def score(text: Text, seeds: Iterable[int], kinds: Iterable[str] = MAKERS) -> dict[str, Score]:
    """Scores by kind over one slip a kind and seed."""
    scores = {kind: Score() for kind in kinds}
    for seed in seeds:
        for kind, counts in scores.items():
            slip = Spoiler(text, seed).slip(kind)
            counts.add(slip, read(slip, text))
    return scores


def total(scores: Iterable[Score]) -> Score:
    """Several scores as one."""
    whole = Score()
    for counts in scores:
        whole.slips += counts.slips
        whole.found += counts.found
        whole.named += counts.named
        whole.placed += counts.placed
        whole.called += counts.called
    return whole
