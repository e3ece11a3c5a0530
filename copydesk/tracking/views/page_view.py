"""What is told of a page: plan and record together, for screens, papers and other programs."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.sanitize import plain
from copydesk.book.structure.page import Page
from copydesk.tracking.views.space_view import spaces_on

if TYPE_CHECKING:
    from copydesk.book.casting.line_budget import PageBudget
    from copydesk.book.plan import Flaw
    from copydesk.book.structure.collation import PagePlace
    from copydesk.tracking.ledger.page_record import PageRecord
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.space_view import SpaceAccount


_SHOWN_WORDS = 4
"""Words given of a page's beginning and end, so that a scribe knows the place."""


class PageAccount(NamedTuple):
    """A page: where it stands, what is planned, what is recorded, what comes next.

    ``label`` is what the page is called where people read it. ``from_word`` and ``to_word`` (exclusive) are exemplar
    positions; lines are text lines of all columns.
    """

    page: Page
    label: str
    place: PagePlace
    record: PageRecord
    budget: PageBudget
    ruled_lines: int
    lines_in_spaces: int
    from_word: int
    to_word: int
    first_words: str
    last_words: str
    spaces: tuple[SpaceAccount, ...]
    gap_words: int
    overlap_words: int
    flaws: tuple[Flaw, ...] = ()

    @property
    def over(self) -> int:
        """Lines by which the text planned or written passes the room; negative where room is left."""
        return max(self.budget.planned, self.budget.written) - self.budget.room

    @property
    def spaces_waiting(self) -> int:
        """Spaces of this page still to be filled."""
        return sum(space.waiting for space in self.spaces)

    @property
    def next_act(self) -> str:
        """What is to be done next on the page, as a word: rule, write, check, mend 2, paint 1, done, blank."""
        state = self.record.state
        if state in ("unruled", "ruled") and not self.budget.planned and not self.spaces:
            return "blank"
        if state == "unruled":
            return "rule"
        if state in ("ruled", "begun"):
            return "write" if self.budget.planned else self._after_text()
        if state == "written":
            return "check"
        return f"mend {len(self.record.open_faults)}" if state == "checked" else self._after_text()

    def _after_text(self) -> str:
        return f"paint {self.spaces_waiting}" if self.spaces_waiting else "done"


def page_account(state: BookState, index: int) -> PageAccount:
    """The account of the page at ``index`` in reading order."""
    page = Page.at(index)
    place = state.collation.place(page)
    budget = state.budget.pages[index]
    copy, frame = state.copy, state.frame_of(index)
    words = copy.text(budget.start, budget.end)
    from_word, to_word = copy.word(budget.start), copy.word(budget.end)
    spaces = (placement for placement in (*frame.fixed, *budget.placed) if placement.share == 0.0)
    taken = {line for placement in spaces for line in frame.lines_of(placement)}
    return PageAccount(
        page=page,
        label=state.book.named(page),
        place=place,
        record=state.record(place.skin),
        budget=budget,
        ruled_lines=frame.columns * frame.lines,
        lines_in_spaces=len(taken),
        from_word=from_word,
        to_word=to_word,
        first_words=plain(" ".join(words[:_SHOWN_WORDS])),
        last_words=plain(" ".join(words[-_SHOWN_WORDS:])),
        spaces=tuple(spaces_on(state, index)),
        gap_words=from_word - copy.word(budget.start - budget.gap) if budget.gap else 0,
        overlap_words=copy.word(budget.start + budget.overlap) - from_word if budget.overlap else 0,
        flaws=tuple(found.flaw for found in state.flaws.get(page.leaf, ())),
    )
