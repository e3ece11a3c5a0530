"""How far each reserved space has come: a fold over its entries."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.layout.page_frame import Placement
from copydesk.book.layout.space_stages import STAGES
from copydesk.tracking.ledger.entry_kinds import SPACE_ENDS, SpaceEnd

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from copydesk.book.layout.space_stages import Stage
    from copydesk.tracking.ledger.entry import Entry


MOST_LINES = 10_000
"""No page has more lines; a higher figure in an entry is a slip."""


class StageDone(NamedTuple):
    """A stage done, or the end of the work: by which hand, when; on which surface of skin, if it was fixed on one.

    ``plan`` are the facts of the space as it was planned then, where they are known.
    """

    what: Stage | SpaceEnd
    hand: str
    at: str
    on: str = ""
    plan: Mapping[str, object] | None = None


class SpaceRecord(NamedTuple):
    """What was done in a space: its stages, how it ended if it did, and changes of its plan.

    ``anew`` says that it was given up and then added again, so that the added plan is the one that counts.
    """

    stages: tuple[StageDone, ...] = ()
    end: StageDone | None = None
    lines: int | None = None
    at: Mapping[str, object] | None = None
    plan: Mapping[str, object] | None = None
    anew: bool = False

    @property
    def ended(self) -> SpaceEnd | None:
        """How the work ended; None where it goes on stage by stage."""
        return SPACE_ENDS.get(self.end.what) if self.end is not None else None

    @property
    def plan_key(self) -> tuple[object, ...]:
        """What of the record the plan, and so the line budget, rests on."""
        return (self.lines, self.at, self.plan, self.ended)

    @property
    def done_stages(self) -> frozenset[Stage | SpaceEnd]:
        """The stages that are done."""
        return frozenset(step.what for step in self.stages)

    def step(self, stage: str) -> StageDone | None:
        """When and by whom a stage was done."""
        return next((step for step in self.stages if step.what == stage), None)

    def on_skin(self, skin: str) -> SpaceRecord:
        """The record without what was done on another piece of skin, which is lost with its leaf."""
        stages = tuple(step for step in self.stages if step.on in ("", skin))
        end = self.end if self.end is not None and self.end.on in ("", skin) else None
        return self if (stages, end) == (self.stages, self.end) else self._replace(stages=stages, end=end)


def fold_space(entries: Iterable[Entry]) -> SpaceRecord:
    """The space's record after these entries, oldest first."""
    stages: dict[Stage, StageDone] = {}
    end: StageDone | None = None
    lines: int | None = None
    at: Mapping[str, object] | None = None
    plan: Mapping[str, object] | None = None
    anew = False
    for entry in entries:
        planned = entry.facts.get("plan")
        how = (entry.hand, entry.at, entry.text("on"), planned if isinstance(planned, dict) else None)
        if (stage := STAGES.get(entry.what)) is not None:
            stages[stage] = StageDone(stage, *how)
            # Whoever works on a space left empty, or given up, takes that back; what is done as a whole stays done.
            end = end if end is not None and end.what is SpaceEnd.DONE else None
        elif entry.what in SPACE_ENDS:
            end = StageDone(SPACE_ENDS[entry.what], *how)
        elif entry.what == "resized":
            lines = entry.number("lines")
        elif entry.what == "moved" and isinstance(entry.facts.get("anchor"), dict):
            at = entry.facts["anchor"]  # type: ignore[assignment]
        elif entry.what == "added" and isinstance(entry.facts.get("plan"), dict):
            anew = anew or (end is not None and end.what is SpaceEnd.GIVEN_UP)
            plan, stages, end, lines, at = entry.facts["plan"], {}, None, None, None  # type: ignore[assignment]
    return SpaceRecord(tuple(stages.values()), end, lines, at, plan, anew)


def placements_from(facts: Mapping[str, object]) -> tuple[Placement, ...]:
    """Spaces fixed on a page, from the facts of the entry that ruled it: lists of id, column, line, lines, share.

    A row of another form (by another program, or by a slip) is passed over.
    """
    rows = facts.get("placements")
    found = map(_placement, rows) if isinstance(rows, list) else ()
    return tuple(placement for placement in found if placement is not None)


def _placement(row: object) -> Placement | None:
    if not isinstance(row, list | tuple) or len(row) != 5:
        return None
    name, *places, share = row
    sound = isinstance(name, str) and all(type(each) is int and 0 <= each <= MOST_LINES for each in places)
    if not sound or type(share) not in (int, float) or not 0 <= share < 1:
        return None
    return Placement(name, places[0], places[1], places[2], float(share))
