"""How far each reserved space has come, and where each sheet is: folds over their entries."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.spaces import STAGES

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from copydesk.ledger.entry import Entry

ENDS = ("done", "left-empty", "given-up")
"""How work in a space may end other than stage by stage."""

SHEET_PLACES = ("desk", "drying", "checker", "artist", "press")


class Step(NamedTuple):
    """A stage done, or the end of the work: by which hand, when; on which surface of skin, if that was settled."""

    what: str
    hand: str
    at: str
    on: str = ""


class SpaceRecord(NamedTuple):
    """What was done in a space: its stages, how it ended if it did, and changes of its plan.

    ``anew`` tells that it was given up and then added again, so that the added plan is the one that counts.
    """

    stages: tuple[Step, ...] = ()
    end: Step | None = None
    lines: int | None = None
    at: Mapping[str, object] | None = None
    plan: Mapping[str, object] | None = None
    anew: bool = False

    @property
    def ended(self) -> str:
        """``done``, ``left-empty``, ``given-up``, or nothing."""
        return self.end.what if self.end is not None else ""

    @property
    def settles(self) -> tuple[object, ...]:
        """What of the record the plan, and so the line budget, rests on."""
        return (self.lines, self.at, self.plan, self.ended)

    @property
    def done_stages(self) -> frozenset[str]:
        """The stages that are done."""
        return frozenset(step.what for step in self.stages)

    def step(self, stage: str) -> Step | None:
        """When and by whom a stage was done."""
        return next((step for step in self.stages if step.what == stage), None)

    def on_skin(self, skin: str) -> SpaceRecord:
        """The record without what was done on another piece of skin, which is lost with its leaf."""
        stages = tuple(step for step in self.stages if step.on in ("", skin))
        end = self.end if self.end is not None and self.end.on in ("", skin) else None
        return self if (stages, end) == (self.stages, self.end) else self._replace(stages=stages, end=end)


def fold_space(entries: Iterable[Entry]) -> SpaceRecord:
    """The space's record after these entries, oldest first."""
    stages: dict[str, Step] = {}
    end: Step | None = None
    lines: int | None = None
    at: Mapping[str, object] | None = None
    plan: Mapping[str, object] | None = None
    anew = False
    for entry in entries:
        step = Step(entry.what, entry.hand, entry.at, entry.text("on"))
        if entry.what in STAGES:
            stages[entry.what] = step
            end = end if end is not None and end.what == "done" else None
        elif entry.what in ENDS:
            end = step
        elif entry.what == "resized":
            lines = entry.number("lines")
        elif entry.what == "moved" and isinstance(entry.facts.get("anchor"), dict):
            at = entry.facts["anchor"]  # type: ignore[assignment]
        elif entry.what == "added" and isinstance(entry.facts.get("plan"), dict):
            anew = anew or (end is not None and end.what == "given-up")
            plan, stages, end, lines, at = entry.facts["plan"], {}, None, None, None  # type: ignore[assignment]
    return SpaceRecord(tuple(stages.values()), end, lines, at, plan, anew)


class SheetRecord(NamedTuple):
    """Where a sheet is, who has it and since when; whether the binder's walk passed it; the batch it was cut from.

    ``moved_by`` is the entry that put it there. ``also`` tells the place, and who, of the move before it, where
    whoever made the last one did not know of that: two people may think they have the sheet.
    """

    place: str = "desk"
    who: str = ""
    since: str = ""
    walked: bool = False
    batch: str = ""
    moved_by: str = ""
    also: tuple[str, str] | None = None


def fold_sheet(entries: Iterable[Entry]) -> SheetRecord:
    """The sheet's record after these entries, oldest first; moving a sheet undoes its having been walked."""
    record = SheetRecord()
    for entry in entries:
        if entry.what in SHEET_PLACES:
            record = _moved(record, entry)
        elif entry.what == "walked":
            record = record._replace(walked=True)
        elif entry.what == "cut":
            record = record._replace(batch=entry.text("batch"))
    return record


def _moved(before: SheetRecord, entry: Entry) -> SheetRecord:
    """The sheet as it was moved; ``seen`` is the move known to whoever recorded this one, "none" where none was."""
    seen = entry.text("seen")
    unknown = bool(seen) and before.moved_by not in ("", seen)
    return SheetRecord(
        place=entry.what,
        who=entry.text("who") or entry.hand,
        since=entry.at,
        batch=before.batch,
        moved_by=entry.entry,
        also=(before.place, before.who) if unknown else None,
    )
