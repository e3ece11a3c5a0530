"""Each hand's set as its pages have it by now, and the letters a line the text is cast off at."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.fitting import from_pages, moved

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from copydesk.book.fitting import Usage
    from copydesk.book.hand import HandSet

_STEP, _SMALL_STEP, _SMALL = 0.1, 0.05, 20.0
"""Letters a line are taken to the nearest tenth, under twenty to the nearest twentieth."""


def fitted(first: Mapping[str, HandSet], usages: Mapping[str, Sequence[Usage]]) -> dict[str, HandSet]:
    """The set of each hand after the pages it wrote; as it was before where it wrote none."""
    return {hand: from_pages(known, usages.get(hand, ())) for hand, known in first.items()}


def cast_at(known: HandSet, first: HandSet) -> float:
    """The letters a line at which the text of a hand is cast off.

    What pages tell is taken to a step far finer than they are sure of, so that a page which hardly moves the hand
    does not break the whole text anew; and by the step alone, so that every desk casts off alike. What a person
    stated or a sample told (``first``) stays as it is while the pages are within a step of it.
    """
    step = _SMALL_STEP if known.letters_per_line < _SMALL else _STEP
    if abs(known.letters_per_line - first.letters_per_line) < step:
        return first.letters_per_line
    return round(round(known.letters_per_line / step) * step, 2)


def history(known: HandSet, usages: Sequence[Usage], last: int = 12) -> tuple[float, ...]:
    """The letters a line as they stood after each of the hand's last pages, the older first."""
    return tuple(each.letters_per_line for each in moved(known, usages, last))
