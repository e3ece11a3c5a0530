"""Where a trial of another plan starts: what cannot be changed any more, and the text it casts.

Gatherings that are begun stay as they are ruled: the sheets of a gathering are pricked and ruled in one pile, so a
change counts from the first gathering on which nothing is recorded yet.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from copydesk.book.casting.line_budget import Budgeter
from copydesk.book.structure.leaf_ids import gathering_of, names_leaf

if TYPE_CHECKING:
    from collections.abc import Mapping

    from copydesk.book.casting.line_breaking import Lines
    from copydesk.book.layout.page_frame import Anchored, Cursor
    from copydesk.tracking.state.book_state import BookState


MOST_MEASURES = 16
"""Measures whose line beginnings are kept: those of a book of a million words take some megabytes each."""


class TrialGround:
    """The book as it stands, its gatherings already begun, and line beginnings shared by all trials.

    Attributes:
        state: the book.
        sizes: leaves of each gathering begun.
        pages: pages of those gatherings.
        sheets: sheets of those gatherings.
        start: where the text goes on after them.
        used: how many of those pages bear text.
        left: text lines that stay blank on them after the end of the text, where it ends there.
        own_sheets: sheets of the book's usual gathering.
    """

    def __init__(self, state: BookState) -> None:
        collation, budget = state.collation, state.budget
        begun = _gatherings_begun(state)
        kept = [gathering for gathering in collation.gatherings if gathering.number <= begun]
        self.state = state
        self.sizes = tuple(len(gathering.leaves) for gathering in kept)
        self.pages = 2 * sum(self.sizes)
        self.sheets = sum(len(gathering.sheet_numbers()) for gathering in kept)
        self.start = _cursor_at(state, self.pages)
        self.used = min(budget.last_page + 1, self.pages)
        after = budget.pages[max(self.used - 1, 0) : self.pages]
        self.left = sum(max(page.room - page.planned, 0) for page in after)
        sizes = Counter(len(gathering.leaves) for gathering in collation.gatherings)
        self.own_sheets = state.book.gatherings.sheets or max(-(-sizes.most_common(1)[0][0] // 2), 1)
        self._lines: dict[float, Lines] = {}
        self._widest: float | None = None

    def budgeter(self, measures: Mapping[str, float], anchors: list[Anchored]) -> Budgeter:
        """What casts the text, given letters a line by hand and the spaces tied to the text.

        Line beginnings found for one measure serve every later trial at that measure: finding them takes most of the
        time of a trial.
        """
        while len(self._lines) > MOST_MEASURES:
            self._lines.pop(next(iter(self._lines)))
        return Budgeter(self.state.copy, measures, anchors, self._lines)

    @property
    def widest(self) -> float:
        """The widest piece of the text that no line may break, in letters of the mean width."""
        if self._widest is None:
            copy = self.state.copy
            pieces = map(float.__sub__, map(float, copy.sums[1:]), map(float, copy.sums[:-1]))
            self._widest = (max(pieces, default=0.0) - copy.space) / (copy.mean * copy.grain)
        return self._widest


def _gatherings_begun(state: BookState) -> int:
    """The number of the last gathering on which anything is recorded, 0 where there is none.

    A flaw noted on a leaf begins no gathering; a leaf cancelled, lost, replaced or added does.
    """
    ledger = state.ledger
    pages = (name.rpartition(":")[0] for name in ledger.about("page") if ledger.live("page", name))
    leaves = (entry.about for entry in ledger.live_of("leaf") if entry.what != "flaw")
    return max((gathering_of(leaf) for leaf in (*pages, *leaves) if names_leaf(leaf)), default=0)


def _cursor_at(state: BookState, index: int) -> Cursor:
    """Where the text goes on on the page at ``index``, which may be one past the last."""
    budget = state.budget
    if index < len(budget.casts) and (cast := budget.casts[index]) is not None:
        return cast.start
    last = budget.casts[-1] if budget.casts else None
    return last.end if last is not None else state.budgeter.cursor(budget.end)
