"""Whether the figures come true: simulated workshops beside what copydesk tells of them, as tables.

Run: python tests/bench/calibration.py [--books 200] [--seed 1] [SECTION ...]
Without a section all are run, which takes long. Nothing here passes or fails; short forms stand in the suite. Each
module of sections has a table ``SECTIONS``: its name, and a function of the books in each row and the seed that prints
its tables.
"""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

import calibration_faults
import calibration_hands
import calibration_pace
import calibration_watch

if TYPE_CHECKING:
    from collections.abc import Callable


SECTIONS: dict[str, Callable[[int, int], None]] = {
    **calibration_hands.SECTIONS,
    **calibration_pace.SECTIONS,
    **calibration_faults.SECTIONS,
    **calibration_watch.SECTIONS,
}


def main() -> None:
    """Print the tables of the sections asked for."""
    parser = argparse.ArgumentParser(description="Whether the figures come true.")
    parser.add_argument("--books", type=int, default=200, help="simulated books in each row")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("sections", nargs="*", metavar="SECTION", help=", ".join(SECTIONS))
    asked = parser.parse_args()
    if unknown := set(asked.sections) - set(SECTIONS):
        parser.error(f"no such section: {', '.join(sorted(unknown))}; there are {', '.join(SECTIONS)}")
    for name in asked.sections or SECTIONS:
        print(f"\n== {name} ==")
        SECTIONS[name](asked.books, asked.seed)


if __name__ == "__main__":
    main()
