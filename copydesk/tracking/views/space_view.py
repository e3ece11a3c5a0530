"""What is known of a reserved space: plan and record together, for screens, papers and other programs."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.layout import spaces as spaces_of
from copydesk.book.plan import Anchor, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.tracking.ledger.entry_kinds import SpaceEnd
from copydesk.tracking.state.page_content import placements_on, with_line

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.book.layout.page_frame import Placement
    from copydesk.book.layout.space_stages import Stage
    from copydesk.tracking.ledger.space_record import SpaceRecord
    from copydesk.tracking.state.book_state import BookState


class NotBegun(StrEnum):
    """Why a space shows no stage: room is kept for it and nothing done, or no page has room for its text."""

    RESERVED = "reserved"
    NEVER_REACHED = "never reached"


class SpaceAccount(NamedTuple):
    """A reserved space: its plan, where it stands (None where the text has not met it), what was done, its size in mm.

    ``stages`` are those it needs, in the order of work; ``lost`` are those done on a leaf that is gone.
    """

    plan: SpacePlan
    page: Page | None
    placement: Placement | None
    record: SpaceRecord
    stages: tuple[Stage, ...]
    width: float
    height: float
    lost: tuple[Stage | SpaceEnd, ...] = ()

    @property
    def waiting(self) -> bool:
        """Whether it is still to be filled, or to be left empty or given up."""
        return not self.record.ended and not set(self.stages) <= self.record.done_stages

    @property
    def stage(self) -> Stage | SpaceEnd | NotBegun:
        """How far it has come: the stage done last, how the work ended, or why it is not begun."""
        if self.record.ended is not None:
            return self.record.ended
        if not self.waiting:
            return SpaceEnd.DONE
        done = [stage for stage in self.stages if stage in self.record.done_stages]
        if done:
            return done[-1]
        return NotBegun.RESERVED if self.page is not None else NotBegun.NEVER_REACHED

    @property
    def next_stage(self) -> Stage | None:
        """The stage to be done next, None where nothing is to be done or it stands nowhere."""
        if not self.waiting or self.page is None:
            return None
        return self.stages_left[0]

    @property
    def stages_left(self) -> tuple[Stage, ...]:
        """The stages still to be done, in the order of work."""
        return tuple(stage for stage in self.stages if not self.has(stage)) if not self.record.ended else ()

    def has(self, stage: Stage) -> bool:
        """Whether a stage is done, by itself or with the whole."""
        return stage in self.record.done_stages or self.record.ended is SpaceEnd.DONE

    @property
    def hours_left(self) -> float:
        """Hours it is thought to take yet: those planned, shared evenly among its stages."""
        return (self.plan.hours or 0.0) * len(self.stages_left) / max(len(self.stages), 1)


def spaces_on(state: BookState, index: int) -> Iterator[SpaceAccount]:
    """The accounts of the spaces on a page; room kept for one that no plan speaks of any more is one still."""
    for placement in placements_on(state, index):
        plan = state.plan_of(placement.id) or _unplanned(placement, index)
        if plan is not None:
            yield space_account(state, plan, Page.at(index), placement)


def _unplanned(placement: Placement, index: int) -> SpacePlan | None:
    if not placement.lines:
        return None
    across = "all" if placement.column == 0 else "column"
    kind = "initial" if placement.share > 0.0 else "miniature"
    return SpacePlan(placement.id, kind, Anchor(page=str(Page.at(index))), placement.lines, across)  # type: ignore[arg-type]


def space_account(state: BookState, plan: SpacePlan, page: Page | None, placement: Placement | None) -> SpaceAccount:
    """The account of one space.

    Args:
        state: the book.
        plan: the space as planned today.
        page: the page it stands on; None where no page has room for it.
        placement: its lines there, where it takes or has any.
    """
    lines = placement.lines if placement is not None and placement.lines else plan.lines
    width, height = spaces_of.size_mm(plan, lines, state.layout)
    stages = spaces_of.stages_of(plan, colour_first=state.book.workshop.colour_first)
    everything = state.space_record(plan.id)
    record = everything.on_skin(str(state.skin_at(page.index)) if page is not None else "")
    lost = tuple(step.what for step in everything.stages if step not in record.stages)
    return SpaceAccount(plan, page, placement, record, stages, width, height, lost)


def space_accounts(state: BookState) -> list[SpaceAccount]:
    """Every space of the book in the order of the pages they stand on; those without a place at the end."""
    found: dict[str, SpaceAccount] = {}
    for index in range(len(state.budget.pages)):
        for account in _with_lines(state, index):
            found[account.plan.id] = account
    for plan in state.plans:
        if plan.id not in found:
            found[plan.id] = space_account(state, plan, None, None)
    return list(found.values())


def _with_lines(state: BookState, index: int) -> list[SpaceAccount]:
    """The accounts of the spaces on a page, those that go with their text at the line where that stands."""
    from copydesk.tracking.state.page_content import lines_of_page

    accounts, loose = list(spaces_on(state, index)), state.loose_spaces
    if not any(account.plan.id in loose for account in accounts):
        return accounts
    lines = lines_of_page(state, index)
    return [
        account._replace(placement=with_line(state, lines, account.placement)) if account.placement else account
        for account in accounts
    ]


def find_space(state: BookState, name: str) -> SpaceAccount | None:
    """The account of the space called ``name``; None where there is none today."""
    return next((account for account in space_accounts(state) if account.plan.id == name), None)
