"""The small work in colour that no space is planned for, counted from the text for each gathering as it fell.

A rubricator noted such a tally at the foot of a gathering's last verso (St John's College, Oxford, MS 31; R. Hanna,
*A Descriptive Catalogue of the Western Medieval Manuscripts of St John's College, Oxford*, 2002). What is counted is
what the text leaves to later passes (``tracking/later/later_work.py``).
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.layout.passes import OF_TEXT
from copydesk.book.structure.page import Page, Side
from copydesk.tracking.later.later_work import later_marks

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from copydesk.tracking.state.book_state import BookState


SORTS = tuple(sort.value for sort in OF_TEXT)


class Tally(NamedTuple):
    """One gathering's tally: how many of each sort, and how many of all stand on pages written whole.

    ``gathering`` is None for what no page has room for yet; ``foot`` is the page whose foot it is noted at.
    """

    gathering: int | None
    foot: Page | None
    counts: Mapping[str, int]
    written: int

    @property
    def total(self) -> int:
        """All of them."""
        return sum(self.counts.values())


def tally(state: BookState) -> list[Tally]:
    """The tally of each gathering, and of text that has no page yet if there is any.

    Where the text is known by counts alone, only the headings of its divisions can be counted.
    """
    counts: dict[int | None, Counter[str]] = {each.number: Counter() for each in state.collation.gatherings}
    written: Counter[int | None] = Counter()
    stretches = sorted((page.start, page.end, index) for index, page in enumerate(state.budget.pages))
    for mark in later_marks(state).all:
        index = _page_of(stretches, mark.piece)
        number = state.collation.place(Page.at(index)).gathering if index is not None else None
        counts.setdefault(number, Counter())[mark.sort] += 1
        written[number] += index is not None and state.record(state.skin_at(index)).whole
    return [
        Tally(number, _foot(state, number), {sort: found[sort] for sort in SORTS}, written[number])
        for number, found in counts.items()
    ]


def total_of(tallies: list[Tally]) -> dict[str, int]:
    """All gatherings together."""
    return {sort: sum(each.counts[sort] for each in tallies) for sort in SORTS}


def tally_words(counts: Mapping[str, int]) -> str:
    """A tally in words: ``3 headings, 14 small initials, 22 verse letters``; ``nothing`` where there is none."""
    said = (f"{number} {sort if number != 1 else sort[:-1]}" for sort, number in counts.items() if number)
    return ", ".join(said) or "nothing"


def _page_of(stretches: Sequence[tuple[int, int, int]], piece: int) -> int | None:
    """The index of the page a piece of the text stands on; None where it has none.

    ``stretches`` are first piece, end and index of every page, by first piece.
    """
    for start, end, index in reversed(stretches[: bisect_right(stretches, piece, key=lambda each: each[0])]):
        if start <= piece < end:
            return index
        if start < end:
            return None
    return None


def _foot(state: BookState, gathering: int | None) -> Page | None:
    leaves = state.collation.leaf_numbers(gathering) if gathering is not None else range(0)
    return Page(leaves[-1], Side.VERSO) if leaves else None
