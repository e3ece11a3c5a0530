"""What the book would come to if a figure of the plan were another: leaves, gatherings, skins, blank lines, advice.

Gatherings that are begun stay as they are ruled: sheets of a gathering are pricked and ruled in one pile, so a change
is reckoned from the first gathering on which nothing is recorded yet. Nothing here changes the book.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.casting.line_budget import Budgeter
from copydesk.book.structure.leaf_ids import gathering_of, names_leaf
from copydesk.tracking.planning.plan_trial import Outcome, Reckoning

if TYPE_CHECKING:
    from collections.abc import Mapping

    from copydesk.book.casting.line_breaking import Lines
    from copydesk.book.layout.page_frame import Anchored, Cursor
    from copydesk.tracking.planning.gathering_choices import Sizes, Way
    from copydesk.tracking.planning.plan_figures import Trial
    from copydesk.tracking.state.book_state import BookState


MOST_MEASURES = 16
"""Measures whose line beginnings are kept: those of a book of a million words take some megabytes each."""


class Ground(NamedTuple):
    """What can no longer be turned: leaves of the gatherings begun, pages and sheets in them, and how far they go.

    ``used`` is how many of those pages bear text; ``left`` the lines for text that stay blank on them after the
    text's end, where it ends there.
    """

    sizes: Sizes
    pages: int
    sheets: int
    start: Cursor
    used: int
    left: int


class Planner:
    """Tries figures on one book as it stands."""

    def __init__(self, state: BookState) -> None:
        self.state = state
        self.ground = _ground(state)
        collation = state.collation
        sizes = Counter(len(gathering.leaves) for gathering in collation.gatherings)
        self.own_sheets = state.book.gatherings.sheets or max(-(-sizes.most_common(1)[0][0] // 2), 1)
        self._lines: dict[float, Lines] = {}
        self._widest: float | None = None
        self._last: Reckoning | None = None

    def outcome(self, trial: Trial) -> Outcome:
        """What the book comes to with the figures turned as ``trial`` says.

        Raises:
            Refused: where the page, or the cutting of the skins, cannot be: each reason a sentence.
        """
        return self._reckoning(trial).outcome()

    def ways(self, trial: Trial) -> tuple[Way, ...]:
        """The ways to gather the rest of the book with the figures turned so, the best first.

        Raises:
            Refused: as for ``outcome``.
        """
        return self._reckoning(trial).ways()

    def _reckoning(self, trial: Trial) -> Reckoning:
        """The trial worked out, once: its outcome and its ways are asked for one after the other."""
        if self._last is None or self._last.trial != trial:
            self._last = Reckoning(self, trial)
        return self._last

    def budgeter(self, measures: Mapping[str, float], anchors: list[Anchored]) -> Budgeter:
        """What casts the text at these measures; line beginnings found before are kept for a while."""
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


def _ground(state: BookState) -> Ground:
    """The gatherings up to the last on which anything is recorded."""
    collation, budget = state.collation, state.budget
    begun = gatherings_begun(state)
    kept = tuple(gathering for gathering in collation.gatherings if gathering.number <= begun)
    sizes = tuple(len(gathering.leaves) for gathering in kept)
    pages = 2 * sum(sizes)
    sheets = sum(len(gathering.sheet_numbers()) for gathering in kept)
    used = min(budget.last_page + 1, pages)
    left = sum(max(page.room - page.planned, 0) for page in budget.pages[max(used - 1, 0) : pages])
    return Ground(sizes, pages, sheets, _cursor_at(state, pages), used, left)


def gatherings_begun(state: BookState) -> int:
    """The number of the last gathering on which anything is recorded, 0 where there is none.

    A flaw noted on a leaf settles nothing; a leaf cancelled, lost, replaced or added does.
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
