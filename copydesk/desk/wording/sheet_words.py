"""What the sheet view says: where the sheet lies, what stands on either half, what comes next on it. Pure."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.sanitize import sanitize
from copydesk.book.structure.sheets import pile
from copydesk.desk.wording.lines import PanelLine
from copydesk.desk.wording.page_words import next_words, page_lines
from copydesk.tracking.ledger.entry_kinds import SheetPlace
from copydesk.tracking.views.skin_batches import skin_of_sheet

if TYPE_CHECKING:
    from copydesk.book.structure.gathering import SheetSide
    from copydesk.tracking.ledger.sheet_record import SheetRecord
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.sheet_view import HalfAccount, SheetAccount, SideAccount


def heading(state: BookState, sheet: SheetAccount, up: SideAccount, lines_a_row: int, width: int) -> str:
    """The line above the picture; what has no room in ``width`` cells is left out from the end."""
    parts = [
        f" Gathering {sheet.sheet.gathering}, sheet {sheet.sheet.sheet}",
        f"{up.side} side up, {up.surface}",
        f"pile: {_pile(state, sheet)}",
        _where(sheet.record),
        _cut_from(state, sheet),
        f"{lines_a_row} lines a row" if lines_a_row > 1 else "",
    ]
    said = ""
    for part in parts:
        longer = f"{said}   {part}" if said else part
        if part and len(longer) <= width:
            said = longer
    return sanitize(said)


def _pile(state: BookState, sheet: SheetAccount) -> str:
    """The sheets of the gathering as they lie inner sides up, the innermost first; this one in brackets."""
    names = (each.sheet for each in pile(state.collation, sheet.sheet.gathering))
    return " ".join(f"[{name}]" if name == sheet.sheet.sheet else str(name) for name in names)


def _where(record: SheetRecord) -> str:
    place = record.place.words if record.place is not SheetPlace.DESK else ""
    return f"{place}, {record.who}" if place and record.who else place


def _cut_from(state: BookState, sheet: SheetAccount) -> str:
    """The skin it was cut from, where that was noted."""
    skin = skin_of_sheet(state.ledger, sheet.sheet.name)
    return f"from skin {skin}" if skin else ""


def half_lines(state: BookState, half: HalfAccount) -> list[PanelLine]:
    """What is said under one half: what comes next first, then the panel's lines that the picture does not show."""
    if half.page is None:
        return [PanelLine("", half.instead or "")]
    _, *rest = page_lines(state, half.page)
    shown = [line for line in rest if line.head not in ("Beside", "Next", "Sheet")]
    return [PanelLine("Next", next_words(state, half.page)), *shown]


def under_lines(state: BookState, half: HalfAccount) -> list[PanelLine]:
    """The same for a half of the side that lies under, with its page's label."""
    label = half.page.label if half.page is not None else ""
    return [PanelLine(label, f"on the {half.lies.value} of the other side"), *half_lines(state, half)]


def next_on_sheet(state: BookState, sheet: SheetAccount, up: SheetSide) -> str:
    """The answer to: what do I write next on this sheet?"""
    account = sheet.next_page
    if account is None:
        return "Next: nothing; all pages of this sheet are done."
    turn = "" if account.place.side is up else " on the other side"
    said = f"Next: {account.label}{turn}, {next_words(state, account)}"
    more = sum(each.next_act.is_writing for each in sheet.pages if each is not account)
    if account.next_act.is_writing:
        said += f"; {more} more to write" if more else "; the last one to write"
    return sanitize(f"{said}.")
