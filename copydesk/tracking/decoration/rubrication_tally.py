"""The small work in colour that no space is planned for, counted from the text for each gathering as it fell.

A rubricator noted such a tally at the foot of a gathering's last verso (St John's College, Oxford, MS 31; R. Hanna,
*A Descriptive Catalogue of the Western Medieval Manuscripts of St John's College, Oxford*, 2002). Counted are
headings to be written in colour; the first letter of each paragraph and stanza, a small initial where it begins
a line and a paragraph mark where it runs on; every paragraph mark that stands in the text itself, one before a
paragraph in place of its small initial; and the first letter of every other line of verse. Where a space is kept for an
initial, or for the heading, that is not counted here.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.layout.spaces import is_initial
from copydesk.book.structure.page import Page, Side
from copydesk.tracking.state.text_layout import anchor_words

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from copydesk.tracking.state.book_state import BookState


PILCROWS = frozenset("¶⁋⸿")
"""Paragraph marks as they are typed: the pilcrow, also turned, and the older capitulum."""

SORTS = ("headings", "small initials", "paragraph marks", "verse letters")


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
    for piece, sort in _marks(state):
        index = _page_of(stretches, piece)
        number = state.collation.place(Page.at(index)).gathering if index is not None else None
        counts.setdefault(number, Counter())[sort] += 1
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


def _marks(state: BookState) -> Iterator[tuple[int, str]]:
    """The piece of the text each mark stands at, and its sort, in order."""
    copy = state.copy
    kept_headings, kept_letters = _kept(state)
    if copy.written is None:
        yield from ((piece, SORTS[0]) for word in copy.divisions if (piece := copy.piece(word)) not in kept_headings)
        return
    begins_line = {run.start for run in copy.runs}
    before = (0, -1)
    marked = [word for word, text in enumerate(copy.written.words) if not PILCROWS.isdisjoint(text)]
    yield from ((copy.first_piece[word] if copy.first_piece is not None else word, SORTS[2]) for word in marked)
    opened = set(marked)
    for block in copy.written.blocks:
        piece = block.start if copy.first_piece is None else copy.first_piece[block.start]
        if block.kind == "rubric":
            if piece not in kept_headings:
                yield piece, SORTS[0]
            continue
        opens = (block.division, block.paragraph) != before
        before = (block.division, block.paragraph)
        if piece in kept_letters or block.start in opened:
            continue
        if opens:
            yield piece, SORTS[1] if piece in begins_line else SORTS[2]
        elif block.kind == "verse":
            yield piece, SORTS[3]


def _kept(state: BookState) -> tuple[frozenset[int], frozenset[int]]:
    """The pieces where a space is planned for a heading, and for an initial."""
    plans = [plan for plan in state.plans if plan.kind == "rubric" or is_initial(plan.kind)]
    words = anchor_words(plans, state.exemplar, state.copy)
    found = [(plan.kind, state.copy.piece(words[plan.id])) for plan in plans if plan.id in words]
    headings = frozenset(piece for kind, piece in found if kind == "rubric")
    return headings, frozenset(piece for kind, piece in found if kind != "rubric")


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
