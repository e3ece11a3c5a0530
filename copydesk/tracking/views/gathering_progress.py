"""How far each page, each gathering, the whole book and each book of a shelf has come.

A glance costs a small part of a page's whole account, so that every page of a large book can be counted after each act.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from copydesk.book.columns import Cell, Column, Report, rows_of
from copydesk.book.structure.page import Page
from copydesk.tracking.later.later_work import open_passes
from copydesk.tracking.ledger.page_record import PageState
from copydesk.tracking.state.page_content import placements_on
from copydesk.tracking.views.page_view import ActKind, next_act_of, page_account
from copydesk.tracking.views.space_view import spaces_on

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from copydesk.book.plan import Book
    from copydesk.tracking.state.book_state import BookState


class GatheringReport(NamedTuple):
    """A gathering: its leaves and sheets; pages with text, those written, checked, corrected; faults, spaces, hands.

    ``checked`` counts the pages read against the exemplar, ``corrected`` those of them with no fault open. ``painted``
    counts the spaces for which nothing waits, of ``all_spaces``; ``spaces`` the others.
    """

    number: int
    first: int
    last: int
    leaves: int
    sheets: int
    pages: int
    written: int
    checked: int
    corrected: int
    faults: int
    spaces: int
    painted: int
    all_spaces: int
    hands: str
    first_open: Page | None


def gathering_reports(state: BookState) -> list[GatheringReport]:
    """A report of every gathering, in order."""
    return [_report(state, gathering.number) for gathering in state.collation.gatherings]


def _report(state: BookState, number: int) -> GatheringReport:
    gathering = state.collation.gathering(number)
    leaves = state.collation.leaf_numbers(number)
    accounts = [page_account(state, index) for leaf in leaves for index in (leaf * 2 - 2, leaf * 2 - 1)]
    bearing = [account for account in accounts if account.next_act.kind is not ActKind.BLANK]
    hands = dict.fromkeys(hand for account in accounts for hand in account.record.hands)
    return GatheringReport(
        number=number,
        first=leaves[0] if leaves else 0,
        last=leaves[-1] if leaves else 0,
        leaves=len(leaves),
        sheets=len(gathering.sheet_numbers()),
        pages=len(bearing),
        written=sum(account.record.whole for account in bearing),
        checked=sum(account.record.state in (PageState.CHECKED, PageState.CORRECTED) for account in bearing),
        corrected=sum(account.record.state is PageState.CORRECTED for account in bearing),
        faults=sum(len(account.record.open_faults) for account in accounts),
        spaces=sum(account.spaces_waiting for account in accounts),
        painted=sum(not space.waiting for account in accounts for space in account.spaces),
        all_spaces=sum(len(account.spaces) for account in accounts),
        hands=", ".join(hands),
        first_open=next((account.page for account in bearing if account.next_act.kind is not ActKind.DONE), None),
    )


def _leaves(report: GatheringReport, book: Book) -> str:
    number = str if book.signing.foliation == "pages" else book.number_of_leaf
    return f"{number(report.first)} to {number(report.last)}" if report.leaves else "none"


def _of_pages(key: str, says: str) -> Column[GatheringReport]:
    return Column(key, Cell.NUMBER, says, heading=key, shown=lambda each, _: f"{getattr(each, key)}/{each.pages}")


GATHERINGS: Report[GatheringReport] = rows_of(
    "overview",
    "One row a gathering.",
    Column("gathering", Cell.NUMBER, "its number", "number", "gathering"),
    Column("leaves", Cell.NUMBER, "its leaves", heading="leaves", shown=_leaves),
    Column("sheets", Cell.NUMBER, "its sheets", heading="sheets"),
    _of_pages("written", "pages written whole"),
    _of_pages("checked", "pages read against the exemplar"),
    _of_pages("corrected", "pages with no fault open"),
    Column(
        "painted",
        Cell.NUMBER,
        "spaces for which nothing waits",
        heading="painted",
        shown=lambda each, _: f"{each.painted}/{each.all_spaces}" if each.all_spaces else "",
    ),
    Column("faults", Cell.NUMBER, "faults open", heading="faults", shown=lambda each, _: each.faults or ""),
    Column("hands", Cell.TEXT, "the hands in it", heading="hands"),
)


class PageGlance(NamedTuple):
    """One page: the next act, whether it is written whole and checked, faults open, spaces that wait, its hands."""

    act: ActKind
    written: bool
    checked: bool
    faults: int
    spaces: int
    hands: tuple[str, ...]


class Totals(NamedTuple):
    """Pages that are not blank, those written whole, those checked; faults open; spaces that wait; the hands."""

    pages: int
    written: int
    checked: int
    faults: int
    spaces: int
    hands: tuple[str, ...]


class BookGlance(NamedTuple):
    """The whole book: its totals, the pages each act waits on in reading order, the first page to rule or write."""

    totals: Totals
    waiting: dict[ActKind, list[Page]]
    ahead: int | None


def page_glance(state: BookState, index: int) -> PageGlance:
    """The page at ``index``."""
    record = state.record(state.skin_at(index))
    spaces = tuple(spaces_on(state, index)) if placements_on(state, index) else ()
    waiting = sum(space.waiting for space in spaces)
    passes = open_passes(state, index)
    act = next_act_of(record, state.budget.pages[index].planned, len(spaces), waiting, passes).kind
    checked = record.whole and bool(record.checked_by)
    return PageGlance(act, record.whole, checked, len(record.open_faults), waiting, record.hands)


def totals(glances: Iterable[PageGlance]) -> Totals:
    """What these pages come to."""
    pages = written = checked = faults = spaces = 0
    hands: dict[str, None] = {}
    for glance in glances:
        if glance.act is not ActKind.BLANK:
            pages += 1
            written += glance.written
            checked += glance.checked
        faults += glance.faults
        spaces += glance.spaces
        hands.update(dict.fromkeys(glance.hands))
    return Totals(pages, written, checked, faults, spaces, tuple(hands))


def book_glance(state: BookState, pages: range | None = None) -> BookGlance:
    """The whole book, or these pages of it."""
    pages = range(state.collation.pages) if pages is None else pages
    glances = {index: page_glance(state, index) for index in pages}
    waiting: dict[ActKind, list[Page]] = {kind: [] for kind in WORK}
    for index, glance in glances.items():
        if glance.act in waiting:
            waiting[glance.act].append(Page.at(index))
    ahead = next((at for at, glance in glances.items() if glance.act in (ActKind.RULE, ActKind.WRITE)), None)
    return BookGlance(totals(list(glances.values())), waiting, ahead)


WORK = (ActKind.WRITE, ActKind.CHECK, ActKind.MEND, ActKind.INK, ActKind.PAINT, ActKind.RULE)
"""The acts that wait for somebody, the scribe's first."""


class OnShelf(NamedTuple):
    """A book of the folder; ``refused`` says why one cannot be opened, and then nothing else is known of it."""

    folder: str
    title: str = ""
    pages: int = 0
    written: int = 0
    corrected: int = 0
    faults_open: int = 0
    spaces_waiting: int = 0
    refused: str = ""


def _known(value: Callable[[OnShelf], Any]) -> Callable[[OnShelf], Any]:
    return lambda book: None if book.refused else value(book)


SHELF: Report[OnShelf] = rows_of(
    "shelf",
    "One row a book of the folder; of one that cannot be opened only folder and refused.",
    Column("folder", Cell.TEXT, "its folder", "folder", "folder"),
    Column("title", Cell.TEXT, "its title", _known(lambda book: book.title), "title", optional=True),
    Column("pages", Cell.NUMBER, "pages that bear text", _known(lambda book: book.pages), "pages", optional=True),
    Column("written", Cell.NUMBER, "those written", _known(lambda book: book.written), "written", optional=True),
    Column(
        "settled",
        Cell.NUMBER,
        "those checked and corrected",
        _known(lambda book: book.corrected),
        "corrected",
        optional=True,
    ),
    Column("faults_open", Cell.NUMBER, "faults open", _known(lambda book: book.faults_open), "faults", optional=True),
    Column(
        "spaces_waiting",
        Cell.NUMBER,
        "spaces to fill",
        _known(lambda book: book.spaces_waiting),
        "spaces",
        optional=True,
    ),
    Column("refused", Cell.TEXT, "why it cannot be opened", lambda book: book.refused or None, optional=True),
)


def on_shelf(folder: str, title: str, reports: Iterable[GatheringReport]) -> OnShelf:
    """A book by the reports of its gatherings."""
    counts = ([each.pages, each.written, each.corrected, each.faults, each.spaces] for each in reports)
    pages, written, corrected, faults, spaces = map(sum, zip(*counts, strict=True))
    return OnShelf(folder, title, pages, written, corrected, faults, spaces)
