"""Where in a text some copied words come from."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence


RUN = 3
"""Words that must agree running to count as one sign of a place."""
NEIGHBOURHOOD = 40
"""Signs count together when the places they point to lie within about so many words."""
LEAST_SHARE = 0.15
"""A place is likely when at least this share of the copied runs of three points to it."""
MOST_PLACES = 50
"""Three words that stand oftener than this in the copy vote no oftener."""


def locate(copy: Sequence[str], text: Sequence[str]) -> int | None:
    """The likely place in a text of the first of the copied words, or ``None``.

    Every run of three copied words votes for the places where it stands; the neighbourhood with the most votes
    wins, if they are enough.

    Args:
        copy: keys of the copied words.
        text: keys of the text to look in.
    """
    wanted: dict[tuple[str, ...], list[int]] = {}
    for at, words in enumerate(zip(*(copy[offset:] for offset in range(RUN)), strict=False)):
        wanted.setdefault(words, []).append(at)
    begins: list[int] = []
    for place, words in enumerate(zip(*(text[offset:] for offset in range(RUN)), strict=False)):
        if words in wanted:
            begins += [place - at for at in wanted[words][:MOST_PLACES]]
    return _likeliest(begins, len(copy) - RUN + 1)


def _likeliest(begins: list[int], runs: int) -> int | None:
    """The middle of the closest and largest group of votes."""
    if not begins:
        return None
    groups = Counter(begin // NEIGHBOURHOOD for begin in begins)
    best = max(groups, key=lambda group: (groups[group] + groups[group + 1], -group))
    votes = sorted(begin for begin in begins if begin // NEIGHBOURHOOD in (best, best + 1))
    return max(0, votes[(len(votes) - 1) // 2]) if len(votes) >= max(1, LEAST_SHARE * runs) else None
