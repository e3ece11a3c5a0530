"""What has happened to each thing of a book, folded from the ledger: pages, spaces, sheets, the text's changes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.checks import counted_readings
from copydesk.book.plan import Change
from copydesk.tracking.ledger.page_record import BLANK, PageRecord, fold_page
from copydesk.tracking.ledger.sheet_record import SheetRecord, fold_sheet
from copydesk.tracking.ledger.space_plans import plans_now
from copydesk.tracking.ledger.space_record import SpaceRecord, fold_space

if TYPE_CHECKING:
    from copydesk.book.checks import ReadingRules
    from copydesk.book.plan import Book, SpacePlan
    from copydesk.book.structure.page import SkinPage
    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.ledger.ledger import Ledger


def change_of(entry: Entry) -> Change:
    """The departure from the exemplar that an entry records; words ``from_word`` up to ``to_word`` of the exemplar."""
    start = entry.number("from_word") or 0
    end = entry.number("to_word") or start
    return Change(start, end, entry.text("write"), entry.text("why"), entry.text("who") or entry.hand)


def _with_readings(record: PageRecord, rules: ReadingRules) -> PageRecord:
    """The record of a page as the book's readings have it: checked once all of them are made, by others if by any."""
    if not rules.ways:
        return record
    counted, wanted = counted_readings(rules, record.readings, record.hands)
    if wanted:
        return record._replace(checked_by="", checked_at="", unread=False, checked_text="", wanted=wanted)
    others = [reading for reading in counted if {reading.by} != set(record.hands)]
    return record._replace(checked_by=(others or counted)[-1].by, unread=False)


class Records:
    """The records of a book's things; each is folded when first asked for, and again once an entry is about it."""

    def __init__(self, book: Book, ledger: Ledger) -> None:
        self.book = book
        self.ledger = ledger
        self._pages: dict[str, PageRecord] = {}
        self._spaces: dict[str, SpaceRecord] = {}
        self._sheets: dict[str, SheetRecord] = {}
        self._plans: tuple[SpacePlan, ...] | None = None
        self._named: tuple[tuple[SpacePlan, ...], dict[str, SpacePlan]] | None = None

    def record(self, skin: SkinPage) -> PageRecord:
        """What has happened on a page of skin."""
        name = str(skin)
        if name not in self._pages:
            entries = self.ledger.live("page", name)
            record = fold_page(entries, self.ledger.fault_numbers) if entries else BLANK
            self._pages[name] = _with_readings(record, self.book.readings)
        return self._pages[name]

    def space_record(self, space: str) -> SpaceRecord:
        """What was done in a reserved space."""
        if space not in self._spaces:
            self._spaces[space] = fold_space(self.ledger.live("space", space))
        return self._spaces[space]

    def sheet_record(self, sheet: str) -> SheetRecord:
        """Where a sheet (``3.2``: gathering 3, sheet 2) is."""
        if sheet not in self._sheets:
            self._sheets[sheet] = fold_sheet(self.ledger.live("sheet", sheet))
        return self._sheets[sheet]

    @property
    def changes(self) -> tuple[Change, ...]:
        """Departures from the exemplar made on purpose: those planned and those recorded."""
        recorded = map(change_of, self.ledger.live_of("text"))
        return (*self.book.changes, *recorded)

    @property
    def plans(self) -> tuple[SpacePlan, ...]:
        """The reserved spaces as planned today: those of the book and those added, less those given up."""
        if self._plans is None:
            self._plans = plans_now(self.book.spaces, self.ledger.about("space"), self.space_record)
        return self._plans

    def plan_of(self, space: str) -> SpacePlan | None:
        """The plan of the space called ``space``; None where there is none today."""
        if self._named is None or self._named[0] is not self.plans:
            self._named = (self.plans, {plan.id: plan for plan in reversed(self.plans)})
        return self._named[1].get(space)
