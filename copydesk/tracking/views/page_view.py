"""What is known of a page: plan and record together, for screens, papers and other programs."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.sanitize import sanitize
from copydesk.book.layout.space_stages import Stage
from copydesk.book.structure.page import Page
from copydesk.tracking.later.later_work import open_passes
from copydesk.tracking.ledger.entry_kinds import SpaceEnd
from copydesk.tracking.ledger.page_record import PageState
from copydesk.tracking.views.space_view import spaces_on

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.casting.line_budget import PageBudget
    from copydesk.book.plan import Flaw, PassPlan
    from copydesk.book.structure.collation import PagePlace
    from copydesk.tracking.ledger.page_record import PageRecord
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.space_view import SpaceAccount


_SHOWN_WORDS = 4
"""Words given of a page's beginning and end, so that a scribe knows the place."""


class ActKind(StrEnum):
    """What comes next on a page; ``ink`` stands for a later pass, which adds another ink."""

    RULE = "rule"
    WRITE = "write"
    CHECK = "check"
    MEND = "mend"
    PAINT = "paint"
    INK = "ink"
    DONE = "done"
    BLANK = "blank"


_NOTHING_TO_DO = {
    ActKind.PAINT: "it waits for the artist",
    ActKind.DONE: "it is done",
    ActKind.BLANK: "no text comes here",
}


class NextAct(NamedTuple):
    """What comes next on a page; ``number`` says how many faults are to be mended, or spaces to be painted.

    ``name`` is the pass that comes next.
    """

    kind: ActKind
    number: int = 0
    name: str = ""

    def __str__(self) -> str:
        """As people and other programs read it: ``write``, ``mend 2``, ``rubrics``."""
        if self.name:
            return self.name
        return f"{self.kind} {self.number}" if self.number else str(self.kind)

    @property
    def is_writing(self) -> bool:
        """Whether the page is to be ruled or written."""
        return self.kind in (ActKind.RULE, ActKind.WRITE)

    @property
    def why_nothing(self) -> str:
        """Why a scribe or checker has nothing to do on the page; empty where there is something."""
        return _NOTHING_TO_DO.get(self.kind, "")


class CheckState(StrEnum):
    """How far the check of a page has come: what other programs read."""

    NOT_DUE = ""
    DUE = "due"
    BEGUN = "begun"
    BY_WRITER = "by its writer"
    BY_ANOTHER = "by another hand"


class PageAccount(NamedTuple):
    """A page: where it stands, what is planned, what is recorded, what comes next.

    ``label`` is what the page is called where people read it. ``from_word`` and ``to_word`` (exclusive) are exemplar
    positions; lines are text lines of all columns. ``passes`` are the later passes still to be done.
    """

    page: Page
    label: str
    place: PagePlace
    record: PageRecord
    budget: PageBudget
    ruled_lines: int
    lines_in_spaces: int
    lines_in_flaws: int
    from_word: int
    to_word: int
    first_words: str
    last_words: str
    spaces: tuple[SpaceAccount, ...]
    gap_words: int
    overlap_words: int
    flaws: tuple[Flaw, ...] = ()
    passes: tuple[PassPlan, ...] = ()

    @property
    def over(self) -> int:
        """Lines of its text that have no place on it; negative where lines are left empty."""
        return self.budget.over

    @property
    def spaces_waiting(self) -> int:
        """Spaces of this page still to be filled."""
        return sum(space.waiting for space in self.spaces)

    @property
    def spaces_filled(self) -> int:
        """Spaces of this page that are filled; those left empty on purpose or given up are not among them."""
        return sum(space.stage is SpaceEnd.DONE for space in self.spaces)

    @property
    def stages_due(self) -> tuple[Stage, ...]:
        """The stages that come next in its spaces, each once, the earliest in the work first."""
        due = {space.next_stage for space in self.spaces}
        return tuple(stage for stage in Stage if stage in due)

    @property
    def faults_mended(self) -> int:
        """Faults found on this page that are mended."""
        return len(self.record.faults) - len(self.record.open_faults)

    @property
    def check(self) -> CheckState:
        """How far its check has come."""
        record = self.record
        if record.whole and record.checked_by:
            return CheckState.BY_WRITER if record.self_checked else CheckState.BY_ANOTHER
        if record.read_to or (record.wanted and record.readings):
            return CheckState.BEGUN
        return CheckState.DUE if record.whole else CheckState.NOT_DUE

    @property
    def next_act(self) -> NextAct:
        """What is to be done next on the page."""
        return next_act_of(self.record, self.budget.planned, len(self.spaces), self.spaces_waiting, self.passes)


def next_act_of(
    record: PageRecord, planned: int, spaces: int, waiting: int, passes: Sequence[PassPlan] = ()
) -> NextAct:
    """What comes next on a page with this record, ``planned`` lines of text and ``spaces``, ``waiting`` among them.

    ``passes`` are those still to be done there, in their order.
    """
    match record.state:
        case PageState.UNRULED | PageState.RULED if not planned and not spaces:
            return NextAct(ActKind.BLANK)
        case PageState.UNRULED:
            return NextAct(ActKind.RULE)
        case PageState.RULED | PageState.BEGUN if planned:
            return NextAct(ActKind.WRITE)
        case PageState.WRITTEN:
            return NextAct(ActKind.CHECK)
        case PageState.CHECKED:
            return NextAct(ActKind.MEND, len(record.open_faults))
    if passes and not (waiting and passes[0].artist == "after"):
        return NextAct(ActKind.INK, name=passes[0].name)
    return NextAct(ActKind.PAINT, waiting) if waiting else NextAct(ActKind.DONE)


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
        lines_in_flaws=len(frame.lost - taken),
        from_word=from_word,
        to_word=to_word,
        first_words=sanitize(" ".join(words[:_SHOWN_WORDS])),
        last_words=sanitize(" ".join(words[-_SHOWN_WORDS:])),
        spaces=tuple(spaces_on(state, index)),
        gap_words=from_word - copy.word(budget.start - budget.gap) if budget.gap else 0,
        overlap_words=copy.word(budget.start + budget.overlap) - from_word if budget.overlap else 0,
        flaws=tuple(found.flaw for found in state.flaws.get(page.leaf, ())),
        passes=tuple(open_passes(state, index)),
    )
