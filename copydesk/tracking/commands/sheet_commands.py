"""Recording where a sheet is: who takes it, and the remarks made to them.

A sheet taken too early is recorded with a remark. A sheet another has already at the same place is refused, and
the other named. Two who take it at the same moment are both kept, and told: see ``SheetRecord.also``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import AlreadyDoneError, UnknownNameError
from copydesk.book.structure.sheets import find_sheet
from copydesk.tracking.ledger.entry import NONE_SEEN, Act
from copydesk.tracking.ledger.entry_kinds import SHEET_PLACES, SheetPlace
from copydesk.tracking.ledger.timestamps import moment, say_moment
from copydesk.tracking.views.sheet_pile import dry_at, sheet_status, waits_words, whereabouts

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.book.structure.sheets import OpenSheet
    from copydesk.tracking.state.book_state import BookState


def move_sheet(state: BookState, name: str, place: str, who: str = "", *, note: str = "", at: str = "") -> Act:
    """Record where a sheet is now.

    Args:
        state: the book as it stands.
        name: the sheet, as in ``3.2``.
        place: desk, drying, checker, artist or press.
        who: who has it there; the hand that records it where empty, and for the artist the book's.
        note: anything to be remembered.
        at: the time, as ISO text; drying is not looked at where empty.

    Raises:
        CopydeskError: where there is no such sheet or place, or it is there already.
    """
    sheet = find_sheet(state.collation, name)
    if place not in SHEET_PLACES:
        raise UnknownNameError(f"{place!r} is not where a sheet can be; give one of {', '.join(SHEET_PLACES)}")
    record = state.sheet_record(sheet.name)
    who = who or (state.book.workshop.artist if place == "artist" else "")
    if record.place == place and (place in ("desk", "press") or record.since):
        there = f"{'has been' if record.since else 'is'} {whereabouts(record)}"
        raise AlreadyDoneError(f"sheet {sheet.name} {there} already; nothing was recorded")
    remark = "; ".join(_remarks(state, sheet, place, at))
    facts = {"who": who, "seen": record.moved_by or NONE_SEEN, "remark": remark, "note": note}
    return Act(place, sheet.name, "", {fact: value for fact, value in facts.items() if value})


def _remarks(state: BookState, sheet: OpenSheet, place: str, at: str) -> Iterator[str]:
    """Remarks for the person who moves the sheet."""
    record = state.sheet_record(sheet.name)
    now = moment(at)
    if place in ("checker", "artist") and record.place in (SheetPlace.CHECKER, SheetPlace.ARTIST):
        yield f"it was {whereabouts(record)}"
    if place in ("artist", "press"):
        yield from _too_early(state, sheet, place)
    elif place == "checker" and not any(_begun(state, page.index) for page in sheet.pages()):
        yield "nothing on it is written yet"
    if place != "desk" and now is not None and record.place is SheetPlace.DRYING:
        dry = dry_at(record, state.book.workshop.drying_days)
        if dry is not None and now < dry:
            yield f"it was to dry until {say_moment(dry)}"


def _too_early(state: BookState, sheet: OpenSheet, place: str) -> Iterator[str]:
    found = sheet_status(state, sheet, None)
    if found.waits_for:
        yield f"it leaves early and still waits for {waits_words(found.waits_for, state.book)}"
    if place == "press" and found.spaces:
        names, one = ", ".join(found.spaces), len(found.spaces) == 1
        yield f"{'space' if one else 'spaces'} {names} on it {'is' if one else 'are'} still to be filled"


def _begun(state: BookState, index: int) -> bool:
    return bool(state.record(state.skin_at(index)).stints)
