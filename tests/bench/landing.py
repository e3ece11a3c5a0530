"""How stretches land: simulated scribes who follow the advice page by page, and some who agree and do not look again.

Run: python tests/bench/landing.py [stretches] [seed]
Prints how many land within a line, and what the remedies said beside what came true. Nothing here passes or fails; a
short form stands in tests/tracking/fit/test_landing.py.
"""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "shared"))

from landing_trials import agreed, followed, share_within


def main(count: int, seed: int) -> None:
    """Print the tables."""
    for name, counts in (("comes to the letters asked for", True), ("writes closer by the share asked for", False)):
        found = followed(count, seed, counts=counts)
        print(f"page by page, a scribe who {name}: {share_within(found):.3f} of {len(found)} within a line")
        print("    lines over:", ", ".join(f"{over}: {times}" for over, times in sorted(Counter(found).items())))
    told = agreed(count, seed)
    print("agreed on and not looked at again:  stretches, fits said and true, within a line said and true")
    for low, high in ((2, 3), (4, 6), (7, 10), (2, 10)):
        rows = [each for each in told if low <= each.pages <= high]
        fits, within = (sum(values) / len(rows) for values in ([e.fits for e in rows], [e.within or 0 for e in rows]))
        true_fits = sum(each.over <= 0 for each in rows) / len(rows)
        print(
            f"    {low:>2} to {high:>2} pages: {len(rows):>4}  {fits:.3f} {true_fits:.3f}  "
            f"{within:.3f} {share_within([each.over for each in rows]):.3f}"
        )


if __name__ == "__main__":
    main(*(int(each) for each in (*sys.argv[1:], *("400", "1")[len(sys.argv) - 1 :])))
