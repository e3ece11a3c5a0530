"""How many leaps of the eye the watch had named, beside as many warnings by each simulated scribe's own rule."""

from __future__ import annotations

import random
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "shared"))

from copydesk.comparing.eye_skip import UNKNOWN, Pull, habits_of, leap_pull
from leaps import cast
from slips import help_topics
from watch_trials import SCRIBES, leaps, places, recall

PAGE = 300
SLIPS = 20


def watched(books: int, seed: int) -> None:
    """Recall of five warnings by the best rule, and as shares of it: nothing known, after 20 slips, no lines."""
    words = help_topics().words
    starts = range(0, min(len(words) - PAGE, books * PAGE), PAGE)
    pages = [words[start : start + PAGE] for start in starts]
    print(f"{'':22}{'best rule':>12}{'unknown':>12}{'20 slips':>12}{'no lines':>12}")
    for scribe in SCRIBES:
        rng = random.Random(f"{seed} {scribe}")
        known = habits_of([slip for slip in (_slip(rng, rng.choice(pages), scribe) for _ in range(SLIPS)) if slip])
        ours, best = recall(pages, scribe, UNKNOWN, seed)
        after, _ = recall(pages, scribe, known, seed)
        without, most = recall(pages, scribe, UNKNOWN, seed, own_lines=False)
        cells = (best, ours / best, after / best, without / most)
        print(f"{scribe:22}" + "".join(f"{each:12.3f}" for each in cells), flush=True)


def _slip(rng: random.Random, words: tuple[str, ...], scribe: str) -> Pull | None:
    """The pull of one leap this scribe makes on a page."""
    lines = cast(words, 55)
    weights = leaps(words, places(lines), scribe)
    if not weights:
        return None
    ((one, other),) = rng.choices(list(weights), list(weights.values()))
    return leap_pull(words, 0, one, other, [sum(map(len, lines[:at])) for at in range(len(lines) + 1)])


SECTIONS = {"watch": watched}
