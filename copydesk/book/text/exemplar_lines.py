"""Where the exemplar's own lines and leaves begin, as far as the notes of its places tell."""

from __future__ import annotations

from bisect import bisect_left
from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.text.exemplar import Exemplar, Place


def leaf_starts(exemplar: Exemplar, start: int, end: int) -> list[int]:
    """Words from about ``start`` to ``end`` at which a side of a leaf of the exemplar begins, in order."""
    places = _places_about(exemplar, start, end)
    first = [exemplar.places[0].word] if places and places[0] is exemplar.places[0] else []
    return [*first, *(place.word for before, place in pairwise(places) if before.leaf != place.leaf)]


def line_starts(exemplar: Exemplar, start: int, end: int, lines_a_page: int | None = None) -> list[int]:
    """Words from about ``start`` to ``end`` at which lines of the exemplar begin that are known to follow one another.

    A line noted alone, with its neighbours left out, tells nothing of how long it is and is not given.

    Args:
        exemplar: the text with its places.
        start: the first word looked at.
        end: the word after the last; one place more may be given on either side.
        lines_a_page: lines on a page of the exemplar, by which its last line is known; None where not told.
    """
    found: set[int] = set()
    for one, other in pairwise(_places_about(exemplar, start, end)):
        if _follows(one, other, lines_a_page):
            found.update((one.word, other.word))
    return sorted(found)


def _places_about(exemplar: Exemplar, start: int, end: int) -> Sequence[Place]:
    """The places noted from ``start`` up to ``end``, and one more on either side."""
    first = bisect_left(exemplar.places, start, key=lambda place: place.word)
    last = bisect_left(exemplar.places, end, key=lambda place: place.word)
    return exemplar.places[max(first - 1, 0) : last + 1]


def _follows(one: Place, other: Place, lines_a_page: int | None) -> bool:
    """Whether ``other`` begins the exemplar's next line after ``one``."""
    if one.leaf == other.leaf:
        return other.line is not None and other.line == (one.line or 1) + 1
    return one.line is not None and one.line == lines_a_page and other.line in (None, 1)
