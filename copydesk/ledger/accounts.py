"""What is told of a page and of a space: plan and record together, for screens, papers and other programs."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book import spaces as spaces_of
from copydesk.book.page import Page
from copydesk.book.plain import plain

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.book.book import SpacePlan
    from copydesk.book.budget import PageBudget
    from copydesk.book.casting import Placement
    from copydesk.book.collation import PagePlace
    from copydesk.ledger.page_record import PageRecord
    from copydesk.ledger.space_record import SpaceRecord
    from copydesk.ledger.standing import Standing

_SHOWN_WORDS = 4
"""Words given of a page's beginning and end, so that a scribe knows the place."""


class SpaceAccount(NamedTuple):
    """A reserved space: its plan, where it stands (None where the text has not met it), what was done, its size in mm.

    ``stages`` are those it needs, in the order of work; ``waiting`` tells that it is still to be filled.
    """

    plan: SpacePlan
    page: Page | None
    placement: Placement | None
    record: SpaceRecord
    stages: tuple[str, ...]
    width: float
    height: float

    @property
    def waiting(self) -> bool:
        """Whether work is still to be done in it."""
        return not self.record.ended and not set(self.stages) <= self.record.done_stages

    @property
    def stage(self) -> str:
        """How far it has come, in one word: reserved, a stage, done or left-empty."""
        if self.record.ended:
            return self.record.ended
        if not self.waiting:
            return "done"
        done = [stage for stage in self.stages if stage in self.record.done_stages]
        return done[-1] if done else "reserved"

    @property
    def next_stage(self) -> str | None:
        """The stage to be done next, None where nothing is to be done."""
        if not self.waiting:
            return None
        return next((stage for stage in self.stages if stage not in self.record.done_stages), None)


class PageAccount(NamedTuple):
    """A page: where it stands, what is planned, what is recorded, what comes next.

    ``from_word`` and ``to_word`` (exclusive) are exemplar positions; lines are text lines of all columns.
    """

    page: Page
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


def page_account(standing: Standing, index: int) -> PageAccount:
    """The account of the page at ``index`` in reading order."""
    page = Page.at(index)
    place = standing.collation.place(page)
    budget = standing.budget.pages[index]
    copy, frame = standing.copy, standing.frame
    words = copy.text(budget.start, budget.end)
    from_word, to_word = copy.word(budget.start), copy.word(budget.end)
    taken = sum(
        placement.lines * (frame.columns if placement.column == 0 else 1)
        for placement in budget.placed or standing.frames.get(index, frame).fixed
        if placement.share == 0.0
    )
    return PageAccount(
        page=page,
        place=place,
        record=standing.record(place.skin),
        budget=budget,
        ruled_lines=frame.columns * frame.lines,
        lines_in_spaces=taken,
        from_word=from_word,
        to_word=to_word,
        first_words=plain(" ".join(words[:_SHOWN_WORDS])),
        last_words=plain(" ".join(words[-_SHOWN_WORDS:])),
        spaces=tuple(_spaces_on(standing, index)),
        gap_words=from_word - copy.word(budget.start - budget.gap) if budget.gap else 0,
        overlap_words=copy.word(budget.start + budget.overlap) - from_word if budget.overlap else 0,
    )


def _spaces_on(standing: Standing, index: int) -> Iterator[SpaceAccount]:
    for placement in placements_on(standing, index):
        plan = standing.plan_of(placement.id)
        if plan is not None:
            yield space_account(standing, plan, Page.at(index), placement)


def placements_on(standing: Standing, index: int) -> tuple[Placement, ...]:
    """Spaces on a page: those fixed there and those the casting puts there."""
    fixed = standing.frames.get(index, standing.frame).fixed
    placed = standing.budget.pages[index].placed
    return (*fixed, *(each for each in placed if each not in fixed))


def space_account(standing: Standing, plan: SpacePlan, page: Page | None, placement: Placement | None) -> SpaceAccount:
    """The account of one space."""
    layout = standing.layout
    lines = placement.lines if placement is not None else plan.lines
    width, height = spaces_of.size_mm(
        plan,
        lines,
        measure=layout.measure,
        written_width=layout.written_width,
        line_height=layout.line_height,
    )
    stages = spaces_of.stages_of(plan, colour_first=standing.book.workshop.colour_first)
    return SpaceAccount(plan, page, placement, standing.space_record(plan.id), stages, width, height)


def space_accounts(standing: Standing) -> list[SpaceAccount]:
    """Every space of the book in the order of the pages they stand on; those without a place at the end."""
    found: dict[str, SpaceAccount] = {}
    for index in range(len(standing.budget.pages)):
        for account in _spaces_on(standing, index):
            found[account.plan.id] = account
    for plan in standing.plans:
        if plan.id not in found:
            found[plan.id] = space_account(standing, plan, None, None)
    return list(found.values())
