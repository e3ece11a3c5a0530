"""What the entries about one loose sheet come to: where it is and where it has been."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.tracking.ledger.entry_kinds import SHEET_PLACES, SheetPlace

if TYPE_CHECKING:
    from collections.abc import Iterable

    from copydesk.tracking.ledger.entry import Entry


class SheetRecord(NamedTuple):
    """Where a sheet is, who has it and since when; whether the binder's walk passed it; the batch it was cut from.

    ``moved_by`` is the entry that put it there. ``also`` is the place, and who, of the move before it, where
    whoever made the last move did not know of that one: two people may think they have the sheet.
    """

    place: SheetPlace = SheetPlace.DESK
    who: str = ""
    since: str = ""
    walked: bool = False
    batch: str = ""
    moved_by: str = ""
    also: tuple[SheetPlace, str] | None = None


def fold_sheet(entries: Iterable[Entry]) -> SheetRecord:
    """The sheet's record after these entries, oldest first; moving a sheet undoes its having been walked."""
    record = SheetRecord()
    for entry in entries:
        if (place := SHEET_PLACES.get(entry.what)) is not None:
            record = _moved(record, entry, place)
        elif entry.what == "walked":
            record = record._replace(walked=True)
        elif entry.what == "cut":
            record = record._replace(batch=entry.text("batch"))
    return record


def _moved(before: SheetRecord, entry: Entry, place: SheetPlace) -> SheetRecord:
    """The sheet as it was moved; ``seen`` is the move known to whoever recorded this one, "none" where none was."""
    seen = entry.text("seen")
    unknown = bool(seen) and before.moved_by not in ("", seen)
    return SheetRecord(
        place=place,
        who=entry.text("who") or entry.hand,
        since=entry.at,
        batch=before.batch,
        moved_by=entry.entry,
        also=(before.place, before.who) if unknown else None,
    )
