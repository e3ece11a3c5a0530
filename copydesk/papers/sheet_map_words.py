"""What the sheet map says of a half of a sheet, of a sheet and of a gathering, whatever it is made as."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.phrases import count_of
from copydesk.book.common.sanitize import plain
from copydesk.book.common.units import show_size
from copydesk.book.structure.openings import opening_label, unlike_openings, why_unlike
from copydesk.book.structure.sheets import open_sheets
from copydesk.tracking.ledger.entry_kinds import SheetPlace
from copydesk.tracking.views.page_view import ActKind
from copydesk.tracking.views.sheet_view import HalfAccount, SheetAccount, sheet_account

if TYPE_CHECKING:
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount
    from copydesk.tracking.views.space_view import SpaceAccount


class HalfWords(NamedTuple):
    """A half in words: its page's label and what comes next on it, what stands there, what is signed at its foot."""

    label: str
    next_act: str
    lines: tuple[str, ...]
    foot: str


class GatheringMap(NamedTuple):
    """A gathering on the map: its heading, its sheets from the outermost, remarks on openings that break."""

    number: int
    heading: str
    sheets: tuple[SheetAccount, ...]
    remarks: tuple[str, ...]


def gathering_maps(state: BookState) -> list[GatheringMap]:
    """Every gathering of the book of which a leaf stands."""
    collation, numbering = state.collation, state.book.signing.foliation
    remarks: dict[int, list[str]] = {}
    for opening in unlike_openings(collation):
        said = f"At {opening_label(opening, numbering)} hair faces flesh: {why_unlike(collation, opening, numbering)}."
        remarks.setdefault(opening.gatherings[0], []).append(said)
    return [
        GatheringMap(
            gathering.number,
            _heading(state, gathering.number),
            tuple(sheet_account(state, sheet) for sheet in open_sheets(collation, gathering.number)),
            tuple(remarks.get(gathering.number, ())),
        )
        for gathering in collation.gatherings
        if gathering.leaves
    ]


def _heading(state: BookState, number: int) -> str:
    leaves = state.collation.leaf_numbers(number)
    gathering = state.collation.gathering(number)
    sheets = len(gathering.sheet_numbers())
    span = state.book.leaves_named(leaves)
    count = count_of(sheets, "sheet")
    return f"Gathering {number}: {span}, {count}, {gathering.leaves[0].recto} outward"


def sheet_words(sheet: SheetAccount) -> str:
    """What a sheet is called, and where it is when it is not at the desk."""
    place = sheet.record.place.words if sheet.record.place is not SheetPlace.DESK else ""
    who = f", {sheet.record.who}" if place and sheet.record.who else ""
    return plain(f"Sheet {sheet.sheet.name}{f' ({place}{who})' if place else ''}")


def half_words(state: BookState, half: HalfAccount) -> HalfWords:
    """A half of a side in words."""
    account, marks = half.page, half.marks
    if account is None or marks is None:
        return HalfWords("", "", (half.instead,), "")
    foot = f"{marks.signature}{'   ' if marks.signature and marks.catchword else ''}"
    if marks.catchword:
        foot += f'catchword "{marks.catchword}"'
    ruling = [] if account.next_act.kind is ActKind.BLANK else [_lines(account)]
    lines = (_text(state, account), *ruling, *map(_space, account.spaces), *_flaws(state, account))
    return HalfWords(marks.label, str(account.next_act), lines, plain(foot))


def _text(state: BookState, account: PageAccount) -> str:
    if account.budget.start >= account.budget.end:
        return "no text"
    if state.exemplar is None:
        return f"words {account.from_word} to {account.to_word}"
    return f'"{account.first_words}" to "{account.last_words}"'


def _lines(account: PageAccount) -> str:
    ruled = f"{account.ruled_lines} lines ruled" if account.record.ruled else f"{account.ruled_lines} lines to rule"
    said = f"{ruled}, {account.record.written} of {account.budget.planned} written"
    return f"{said}, {account.over} over" if account.over > 0 else said


def _space(space: SpaceAccount) -> str:
    placement = space.placement
    where = ""
    if placement is not None and placement.lines:
        column = "across" if placement.column == 0 else f"column {placement.column}"
        where = f", {column}, lines {placement.from_line} to {placement.from_line + placement.lines - 1}"
    return f"{space.plan.id}: {space.plan.kind}, {space.stage}{where}"


def _flaws(state: BookState, account: PageAccount) -> list[str]:
    return [f"flaw of {show_size(flaw.width, flaw.height, state.book.unit)}" for flaw in account.flaws]
