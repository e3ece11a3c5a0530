"""How far each page has come in each pass: done, may begin, or waits and for what. All who ask, ask here.

A pass may begin on a page when its text is whole, the passes before it are done there, the artist has painted what
comes before it, no ink on the same loose sheet is wet, and the sheet is at hand. So it is common practice: a sheet is
turned and stacked while it is worked on.
"""

from __future__ import annotations

from datetime import timedelta
from enum import StrEnum
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.layout.passes import Sort
from copydesk.book.plan import PassPlan
from copydesk.book.structure.page import Page
from copydesk.tracking.later.later_work import PassWork, passes_on
from copydesk.tracking.ledger.entry_kinds import SheetPlace
from copydesk.tracking.ledger.timestamps import moment
from copydesk.tracking.state.page_content import page_of_word
from copydesk.tracking.views.space_view import spaces_on

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import datetime

    from copydesk.book.plan import Book
    from copydesk.book.structure.sheets import OpenSheet
    from copydesk.tracking.ledger.page_record import PageRecord
    from copydesk.tracking.state.book_state import BookState


class PassState(StrEnum):
    """How far a page has come in a pass; the value is what people and other programs read."""

    NOTHING = "nothing"
    DONE = "done"
    LEFT = "left open"
    READY = "may begin"
    WAITS = "waits"


class PassWait(NamedTuple):
    """What a pass waits for on a page: the page to come to something, or, where ``page`` is None, ``what`` alone."""

    page: Page | None
    what: str

    def __str__(self) -> str:
        """As other programs read it: ``3r written``, ``dry on 2026-03-03``, ``sheet 1.2 at the desk``."""
        return f"{self.page} {self.what}" if self.page is not None else self.what

    def named(self, book: Book) -> str:
        """The same for people, the page called as the book counts."""
        return f"{book.named(self.page)} {self.what}" if self.page is not None else self.what


class PassStatus(NamedTuple):
    """A page in one pass: what it needs there, how far it has come, what it waits for, the sheet it stands on.

    ``left`` counts the things left open in a pass that was done; of the text, ``work`` has no marks.
    """

    page: Page
    sheet: str
    work: PassWork
    state: PassState
    waits_for: tuple[PassWait, ...] = ()
    left: int = 0

    @property
    def name(self) -> str:
        """The pass's name."""
        return self.work.plan.name

    @property
    def things(self) -> int:
        """How many things the page needs in the pass."""
        return len(self.work.marks)

    @property
    def open(self) -> bool:
        """Whether anything is still to be done."""
        return self.state not in (PassState.NOTHING, PassState.DONE)


def statuses_on(state: BookState, index: int, now: datetime | None) -> list[PassStatus]:
    """A page in every pass of the book, the text's first; with ``now``, ink still wet counts."""
    page, record = Page.at(index), state.record(state.skin_at(index))
    sheet = state.collation.place(page).sheet_name
    found, before = [_text(state, page, sheet, record)], list[PassWait]()
    if not record.whole and found[0].state is not PassState.NOTHING:
        before.append(PassWait(page, "written"))
    needed = {work.plan.name: work for work in passes_on(state, index)}
    shared: list[PassWait] | None = None
    for plan in state.book.later_passes:
        work, done = needed.get(plan.name), record.passes.get(plan.name)
        if work is None:
            found.append(PassStatus(page, sheet, PassWork(plan, ()), PassState.NOTHING))
            continue
        if done is not None:
            left = sum(mark.word in done.left for mark in work.marks)
            found.append(PassStatus(page, sheet, work, PassState.LEFT if left else PassState.DONE, (), left))
            continue
        if shared is None:
            shared = list(_of_sheet(state, page, now))
        painted = list(_unpainted(state, index)) if plan.artist == "after" else []
        waits = (
            *before,
            *_unfixed(state, work),
            *painted,
            *(each for each in shared if not _has_it(state, sheet, plan, each)),
        )
        found.append(PassStatus(page, sheet, work, PassState.WAITS if waits else PassState.READY, waits))
        before.append(PassWait(page, plan.name))
    return found


def all_statuses(state: BookState, now: datetime | None) -> list[list[PassStatus]]:
    """Every page that bears text, in every pass of the book, in reading order."""
    rows = (statuses_on(state, index, now) for index in range(state.collation.pages))
    return [row for row in rows if any(each.state is not PassState.NOTHING for each in row)]


def status_of(state: BookState, index: int, name: str, now: datetime | None) -> PassStatus | None:
    """A page in the later pass called ``name``; None where the book has no such pass."""
    return next((each for each in statuses_on(state, index, now)[1:] if each.name == name), None)


def _text(state: BookState, page: Page, sheet: str, record: PageRecord) -> PassStatus:
    plan = state.book.passes[0] if state.book.passes else PassPlan("text")
    if not state.budget.pages[page.index].planned and not record.stints:
        return PassStatus(page, sheet, PassWork(plan, ()), PassState.NOTHING)
    return PassStatus(page, sheet, PassWork(plan, ()), PassState.DONE if record.whole else PassState.READY)


def _unfixed(state: BookState, work: PassWork) -> Iterator[PassWait]:
    """The pages that a list of contents names and that are not whole yet, so that what begins there may still move."""
    words = (mark.word for mark in work.marks if mark.sort is Sort.CONTENTS_LINES)
    pages = dict.fromkeys(page for word in words if (page := page_of_word(state, word)) is not None)
    return (PassWait(page, "written") for page in pages if not state.record(state.skin_at(page.index)).whole)


def _unpainted(state: BookState, index: int) -> Iterator[PassWait]:
    """The spaces on a page that the artist has still to fill."""
    return (PassWait(None, f"space {space.plan.id}") for space in spaces_on(state, index) if space.waiting)


_AWAY = "at the desk"


def _of_sheet(state: BookState, page: Page, now: datetime | None) -> Iterator[PassWait]:
    """What keeps the whole loose sheet from being worked on: it is elsewhere, or ink on it is wet."""
    sheet = sheet_of(state, page)
    if state.sheet_record(sheet.name).place not in (SheetPlace.DESK, SheetPlace.DRYING):
        yield PassWait(None, f"sheet {sheet.name} {_AWAY}")
    wet = max((each for each in (dry_when(state, other.index) for other in sheet.pages()) if each), default=None)
    if now is not None and wet is not None and wet > now:
        yield PassWait(None, f"dry on {wet.date()}")


def _has_it(state: BookState, sheet: str, plan: PassPlan, wait: PassWait) -> bool:
    """Whether the sheet that is waited for is with the very person who does the pass."""
    record = state.sheet_record(sheet)
    return wait.what.endswith(_AWAY) and bool(plan.hand) and record.who == plan.hand


def sheet_of(state: BookState, page: Page) -> OpenSheet:
    """The loose sheet a page stands on."""
    from copydesk.book.structure.sheets import find_sheet

    return find_sheet(state.collation, state.collation.place(page).sheet_name)


def dry_when(state: BookState, index: int) -> datetime | None:
    """When the ink put on a page last is dry; None where there is none, or nobody noted when."""
    record, usual = state.record(state.skin_at(index)), state.book.workshop.drying_days
    days: dict[str, float] = {
        plan.name: usual if plan.drying_days is None else plan.drying_days for plan in state.book.passes
    }
    inks = [(stint.at, days.get("text", usual)) for stint in record.stints[-1:]]
    inks += [(done.at, days.get(name, usual)) for name, done in record.passes.items()]
    dry = [at + timedelta(days=take) for when, take in inks if (at := moment(when)) is not None]
    return max(dry, default=None)
