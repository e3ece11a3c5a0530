"""One loose sheet: its two sides as they lie open, the page or what else fills each half, its state."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.structure.gathering import HalfState, Lies, SheetSide
from copydesk.tracking.views.page_marks import PageMarks, page_marks
from copydesk.tracking.views.page_view import ActKind, PageAccount, page_account

if TYPE_CHECKING:
    from copydesk.book.structure.gathering import Gathering
    from copydesk.book.structure.page import Page, Surface
    from copydesk.book.structure.sheets import OpenSheet, OpenSide
    from copydesk.tracking.ledger.sheet_record import SheetRecord
    from copydesk.tracking.state.book_state import BookState


class NoLeaf(StrEnum):
    """Why half a sheet has no leaf: what people read, in a table in one word (``in_short``)."""

    SINGLE = "a stub: this leaf is single"
    CANCELLED = "a stub: the leaf was cancelled"
    WANTING = "nothing: the leaf is wanting"
    TIPPED_IN = "nothing: this leaf is tipped in"

    @property
    def is_stub(self) -> bool:
        """Whether a stub is left of it."""
        return self in (NoLeaf.SINGLE, NoLeaf.CANCELLED)

    @property
    def in_short(self) -> str:
        """``stub`` or ``nothing``."""
        return "stub" if self.is_stub else "nothing"


class HalfAccount(NamedTuple):
    """One half of a side: its page with what is written in its margins, or why there is no leaf."""

    lies: Lies
    page: PageAccount | None
    marks: PageMarks | None
    instead: NoLeaf | None


class SideAccount(NamedTuple):
    """One side of an open sheet."""

    side: SheetSide
    surface: Surface
    left: HalfAccount
    right: HalfAccount

    @property
    def pages(self) -> tuple[PageAccount, ...]:
        """Its pages, left before right."""
        return tuple(half.page for half in (self.left, self.right) if half.page is not None)


class SheetAccount(NamedTuple):
    """A loose sheet: where it lies in its gathering, its sides, where it is today."""

    sheet: OpenSheet
    outer: SideAccount
    inner: SideAccount
    record: SheetRecord

    def side(self, side: SheetSide) -> SideAccount:
        """The side that is asked for."""
        return self.outer if side is SheetSide.OUTER else self.inner

    @property
    def pages(self) -> tuple[PageAccount, ...]:
        """Its pages in reading order."""
        return tuple(sorted((*self.outer.pages, *self.inner.pages), key=lambda account: account.page))

    @property
    def next_page(self) -> PageAccount | None:
        """The page on which work comes next: the first to rule or write, else to check, to mend, to paint."""
        for acts in _IN_TURN:
            found = next((account for account in self.pages if account.next_act.kind in acts), None)
            if found is not None:
                return found
        return None


_IN_TURN = ((ActKind.RULE, ActKind.WRITE), (ActKind.CHECK,), (ActKind.MEND,), (ActKind.INK,), (ActKind.PAINT,))


def sheet_account(state: BookState, sheet: OpenSheet) -> SheetAccount:
    """The account of one sheet."""
    gathering = state.collation.gathering(sheet.gathering)
    return SheetAccount(
        sheet,
        _side(state, gathering, sheet, SheetSide.OUTER),
        _side(state, gathering, sheet, SheetSide.INNER),
        state.sheet_record(sheet.name),
    )


def instead_of_page(gathering: Gathering, sheet: int) -> NoLeaf:
    """What there is where a sheet (numbered from 1, the outermost) has no leaf."""
    gone = next((half for half in gathering.sheet(sheet) if not half.stands), None)
    return _NO_LEAF[gone.state] if gone is not None else NoLeaf.TIPPED_IN


_NO_LEAF = {
    HalfState.STUB: NoLeaf.SINGLE,
    HalfState.CANCELLED: NoLeaf.CANCELLED,
    HalfState.WANTING: NoLeaf.WANTING,
}


def _side(state: BookState, gathering: Gathering, sheet: OpenSheet, which: SheetSide) -> SideAccount:
    side: OpenSide = sheet.outer if which is SheetSide.OUTER else sheet.inner
    missing = instead_of_page(gathering, sheet.sheet)
    left = _half(state, Lies.LEFT, side.left, missing)
    return SideAccount(which, side.surface, left, _half(state, Lies.RIGHT, side.right, missing))


def _half(state: BookState, lies: Lies, page: Page | None, missing: NoLeaf) -> HalfAccount:
    if page is None:
        return HalfAccount(lies, None, None, missing)
    return HalfAccount(lies, page_account(state, page.index), page_marks(state, page), None)
