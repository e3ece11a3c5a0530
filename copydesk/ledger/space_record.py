"""How far each reserved space has come, and where each sheet is: folds over their entries."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from copydesk.ledger.entry import Entry

STAGES = ("drawn", "gilded", "coloured", "outlined")
"""The stages of work on a space, in the commoner order (S. Farnsworth, *Illumination*, 1922, ch. XVIII)."""

SHEET_PLACES = ("desk", "drying", "checker", "artist", "press")


@dataclass(frozen=True, slots=True)
class SpaceRecord:
    """What was done in a space: stages with the hand and time of each; how it ended, if it did; changes of plan."""

    stages: tuple[tuple[str, str, str], ...] = ()
    ended: str = ""
    lines: int | None = None
    at: Mapping[str, object] | None = None
    plan: Mapping[str, object] | None = None

    @property
    def done_stages(self) -> frozenset[str]:
        """The stages that are done."""
        return frozenset(stage for stage, _, _ in self.stages)


def fold_space(entries: Iterable[Entry]) -> SpaceRecord:
    """The space's record after these entries, oldest first."""
    stages: dict[str, tuple[str, str, str]] = {}
    ended, lines = "", None
    at: Mapping[str, object] | None = None
    plan: Mapping[str, object] | None = None
    for entry in entries:
        if entry.what in STAGES:
            stages[entry.what] = (entry.what, entry.hand, entry.at)
            ended = "" if ended != "done" else ended
        elif entry.what in ("done", "left-empty", "given-up"):
            ended = entry.what
        elif entry.what == "resized":
            lines = entry.number("lines")
        elif entry.what == "moved" and isinstance(entry.facts.get("at"), dict):
            at = entry.facts["at"]  # type: ignore[assignment]
        elif entry.what == "added" and isinstance(entry.facts.get("plan"), dict):
            plan = entry.facts["plan"]  # type: ignore[assignment]
    return SpaceRecord(tuple(stages.values()), ended, lines, at, plan)


@dataclass(frozen=True, slots=True)
class SheetRecord:
    """Where a sheet is, who has it and since when; whether the binder's walk passed it; the batch it was cut from."""

    place: str = "desk"
    who: str = ""
    since: str = ""
    walked: bool = False
    batch: str = ""


def fold_sheet(entries: Iterable[Entry]) -> SheetRecord:
    """The sheet's record after these entries, oldest first; moving a sheet undoes its having been walked."""
    place, who, since, walked, batch = "desk", "", "", False, ""
    for entry in entries:
        if entry.what in SHEET_PLACES:
            place, who, since, walked = entry.what, entry.text("who") or entry.hand, entry.at, False
        elif entry.what == "walked":
            walked = True
        elif entry.what == "cut":
            batch = entry.text("batch")
    return SheetRecord(place, who, since, walked, batch)
