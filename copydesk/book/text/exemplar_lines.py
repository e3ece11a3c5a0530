"""Where the exemplar's own lines and leaves begin, as far as the notes of its places tell."""

from __future__ import annotations

from bisect import bisect_left
from itertools import pairwise
from typing import TYPE_CHECKING

from copydesk.book.text.exemplar import side_number

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


def whole_lines(exemplar: Exemplar, lines_a_page: int | None = None) -> list[tuple[int, int]]:
    """The lines of the exemplar known from end to end: the first word of each, and the one after its last.

    Args:
        exemplar: the text with its places.
        lines_a_page: lines on a page of the exemplar; where nobody said, the last that is noted anywhere.
    """
    last = lines_a_page or max((place.line or 1 for place in exemplar.places), default=0)
    lines = pairwise(exemplar.places)
    return [(one.word, other.word) for one, other in lines if one.word < other.word and _follows(one, other, last)]


def page_starts(exemplar: Exemplar) -> dict[int, int]:
    """The word with which each page begins that is to hold what the exemplar's page holds, by index from 0.

    The leaf noted first is the book's first, so rectos stay rectos; text before it has the leaf before. Leaves
    counted apart in roman numerals are followed at once by those counted in figures.
    """
    found: dict[int, int] = {}
    ahead, kind, index = 0, None, -1
    for place in exemplar.places:
        side = side_number(place.leaf)
        if side is None:
            continue
        if place.leaf[:-1].isdigit() is not kind:
            kind = place.leaf[:-1].isdigit()
            first = side - side % 2 - (2 if not found and place.word > 0 else 0)
            ahead = index + 1 + (index + 1) % 2 - first
        if side + ahead > index:
            index = side + ahead
            found.setdefault(index, place.word)
    return {0: 0} | found if found and 0 not in found and min(found.values()) > 0 else found


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
