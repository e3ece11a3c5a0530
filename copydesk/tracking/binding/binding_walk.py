"""The binder's walk: the sheets gathering by gathering, from the outermost in, each with the marks to find on it.

Leaf signatures, where the book has them, stand on all leaves of a gathering's first half, so that each sheet shows
one (R. Hanna, A Descriptive Catalogue of the Western Medieval Manuscripts of St John's College, Oxford, 2002, passim);
the catchword is at the foot of the last verso, on the outermost sheet.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import AlreadyDoneError, NotAllowedError
from copydesk.book.structure.sheets import OpenSheet, find_sheet, open_sheets
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.ledger.entry_kinds import SheetPlace
from copydesk.tracking.views.page_marks import page_marks
from copydesk.tracking.views.sheet_view import instead_of_page

if TYPE_CHECKING:
    from copydesk.book.structure.gathering import Gathering
    from copydesk.book.structure.page import Surface
    from copydesk.tracking.binding.assembly import Assembly, Point
    from copydesk.tracking.ledger.sheet_record import SheetRecord
    from copydesk.tracking.state.book_state import BookState


class WalkedSheet(NamedTuple):
    """A sheet in its place: its leaves, the surface outward, its marks, what is in a missing half's stead, its record.

    ``leaves`` has one number or two. ``obstacles`` are those to sewing it.
    """

    sheet: OpenSheet
    leaves: tuple[int, ...]
    outward: Surface
    signature: str
    catchword: str
    instead: str
    record: SheetRecord
    obstacles: tuple[Point, ...]

    @property
    def name(self) -> str:
        """``3.2``."""
        return self.sheet.name

    @property
    def ticked(self) -> bool:
        """Whether it was found in its place."""
        return self.record.walked


class WalkedGathering(NamedTuple):
    """A gathering of the walk: its number, first and last leaf, its sheets from the outermost in, obstacles."""

    number: int
    first: int
    last: int
    sheets: tuple[WalkedSheet, ...]
    obstacles: tuple[Point, ...]


def binding_walk(state: BookState, found: Assembly) -> list[WalkedGathering]:
    """Every gathering of which a leaf stands, in order."""
    by_sheet: dict[str, list[Point]] = {}
    for point in found.obstacles:
        by_sheet.setdefault(point.sheet, []).append(point)
    walk = []
    for gathering in state.collation.gatherings:
        leaves = state.collation.leaf_numbers(gathering.number)
        if not leaves:
            continue
        sheets = sorted(open_sheets(state.collation, gathering.number), key=lambda sheet: sheet.depth)
        walked = tuple(_sheet(state, gathering, sheet, by_sheet.get(sheet.name, [])) for sheet in sheets)
        own = tuple(point for point in by_sheet.get("", ()) if point.where == f"gathering {gathering.number}")
        walk.append(WalkedGathering(gathering.number, leaves[0], leaves[-1], walked, own))
    return walk


def _sheet(state: BookState, gathering: Gathering, sheet: OpenSheet, points: list[Point]) -> WalkedSheet:
    pages = sheet.pages()
    marks = [page_marks(state, page) for page in pages]
    return WalkedSheet(
        sheet=sheet,
        leaves=tuple(sorted({page.leaf for page in pages})),
        outward=sheet.outer.surface,
        signature=next((mark.signature for mark in marks if mark.signature), ""),
        catchword=next((mark.catchword for mark in marks if mark.catchword), ""),
        instead=instead_of_page(gathering, sheet.sheet) if len(pages) < 4 else "",
        record=state.sheet_record(sheet.name),
        obstacles=tuple(points),
    )


def walk_sheet(state: BookState, name: str) -> Act:
    """Tick a sheet as found in its place.

    Raises:
        CopydeskError: where there is no such sheet, it is not at hand, or it is ticked already.
    """
    sheet = find_sheet(state.collation, name)
    record = state.sheet_record(sheet.name)
    if record.place in (SheetPlace.ARTIST, SheetPlace.CHECKER):
        raise NotAllowedError(f"sheet {sheet.name} is {record.place.words}; bring it to the desk before it is walked")
    if record.walked:
        raise AlreadyDoneError(f"sheet {sheet.name} was found in its place already; nothing was recorded")
    return Act("walked", sheet.name, "", {})


def walked_by(state: BookState, name: str) -> tuple[str, str] | None:
    """Who ticked a sheet, and the entry that tells it; None where it is not ticked."""
    entries = [entry for entry in state.ledger.live("sheet", name) if entry.what == "walked"]
    return (entries[-1].hand, entries[-1].entry) if entries and state.sheet_record(name).walked else None
