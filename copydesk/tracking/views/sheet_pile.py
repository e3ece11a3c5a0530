"""All sheets of the book, one by one: where each is, who has it, and what it waits for before it may leave the desk."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report, iso, rows_of
from copydesk.book.common.phrases import count_of
from copydesk.book.structure.sheets import open_sheets
from copydesk.tracking.later.later_work import open_passes
from copydesk.tracking.ledger.entry_kinds import SheetPlace
from copydesk.tracking.ledger.page_record import PageState
from copydesk.tracking.ledger.timestamps import moment, say_at, say_moment
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import date, datetime

    from copydesk.book.plan import Book
    from copydesk.book.structure.page import Page
    from copydesk.book.structure.sheets import OpenSheet
    from copydesk.tracking.ledger.sheet_record import SheetRecord
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount


class SheetWait(NamedTuple):
    """What a sheet waits for: a page to come to a state, or to be gone over in a pass; or the day its ink is dry.

    ``page`` is None for the last.
    """

    page: Page | None
    state: PageState | str | None = None
    dry: date | None = None

    def __str__(self) -> str:
        """As other programs read it: ``3r checked``, ``dry on 2026-03-03``."""
        return f"{self.page} {self.state}" if self.page is not None else f"dry on {self.dry}"


class SheetStatus(NamedTuple):
    """A sheet: where it is; what it waits for before it may leave the desk; spaces on it to be filled; when it is dry.

    ``dry`` is given while it lies drying.
    """

    sheet: OpenSheet
    record: SheetRecord
    waits_for: tuple[SheetWait, ...]
    spaces: tuple[str, ...]
    dry: datetime | None

    @property
    def waiting_pages(self) -> tuple[Page, ...]:
        """The pages it waits for."""
        return tuple(wait.page for wait in self.waits_for if wait.page is not None)

    @property
    def may_leave(self) -> bool:
        """Whether it may go to the artist: every page written, checked, corrected and gone over, and its ink dry."""
        return not self.waits_for


def pile_now(state: BookState, now: datetime) -> list[SheetStatus]:
    """Every sheet of the book, gathering by gathering, from the outermost in; with ``now``, ink still wet counts."""
    return [
        sheet_status(state, sheet, now)
        for gathering in state.collation.gatherings
        for sheet in open_sheets(state.collation, gathering.number)
    ]


def sheet_status(state: BookState, sheet: OpenSheet, now: datetime | None) -> SheetStatus:
    """Where one sheet is and what it waits for; whether its ink is dry is not looked at where ``now`` is None."""
    accounts = [page_account(state, page.index) for page in sheet.pages()]
    record = state.sheet_record(sheet.name)
    waits = [SheetWait(account.page, wait) for account in accounts if (wait := page_wait(account)) is not None]
    waits += [SheetWait(page, name) for page in sheet.pages() for name in passes_before_artist(state, page)]
    dry = dry_at(record, state.book.workshop.drying_days) if record.place is SheetPlace.DRYING else None
    if dry is not None and now is not None and dry > now:
        waits.append(SheetWait(None, dry=dry.date()))
    return SheetStatus(
        sheet,
        record,
        tuple(waits),
        tuple(space.plan.id for account in accounts for space in account.spaces if space.waiting),
        dry,
    )


def page_wait(account: PageAccount) -> PageState | None:
    """The state a page must come to next before its sheet may go to the artist; None where it waits for nothing.

    A page no text comes to must be ruled where room is to be kept on it, and waits for nothing else.
    """
    state = account.record.state
    if state is PageState.CORRECTED:
        return None
    if state in (PageState.UNRULED, PageState.RULED) and not account.budget.planned:
        kept = any(space.placement is not None and space.placement.lines for space in account.spaces)
        return PageState.RULED if kept and state is PageState.UNRULED else None
    return {PageState.WRITTEN: PageState.CHECKED, PageState.CHECKED: PageState.CORRECTED}.get(state, PageState.WRITTEN)


def passes_before_artist(state: BookState, page: Page) -> list[str]:
    """The passes still to be done on a page before its sheet may go to the artist."""
    return [plan.name for plan in open_passes(state, page.index) if plan.artist == "before"]


def dry_at(record: SheetRecord, days: float) -> datetime | None:
    """When a sheet laid to dry is dry, after ``days`` (days off count); None where nobody noted when it was laid."""
    from datetime import timedelta

    since = moment(record.since)
    return since + timedelta(days=days) if since is not None else None


def leave_words(sheet: SheetStatus, book: Book) -> str:
    """Whether a sheet may go to the artist, or what it waits for; or that it is there."""
    record = sheet.record
    if record.place is SheetPlace.ARTIST:
        return f"{record.place.words} ({record.who})" if record.who else record.place.words
    if sheet.waits_for:
        return f"waits for {waits_words(sheet.waits_for, book)}"
    if record.place is SheetPlace.DRYING:
        return "dry, may leave the desk"
    return "may leave the desk now" if record.place is SheetPlace.DESK else record.place.words


def waits_words(waits: Iterable[SheetWait], book: Book) -> str:
    """What a sheet waits for, pages put together: ``17r 17v written, 9v corrected``."""
    pages: dict[PageState | str | None, list[Page]] = {}
    dry = []
    for wait in waits:
        if wait.page is None:
            dry.append(f"its ink to be dry on {wait.dry}")
        else:
            pages.setdefault(wait.state, []).append(wait.page)
    parts = [*(f"{book.listed(found)} {state}" for state, found in pages.items()), *dry]
    return ("; " if any("," in part for part in parts) else ", ").join(parts)


def whereabouts(record: SheetRecord) -> str:
    """Where a sheet is, who has it and since when: ``with the artist (Ines) since 2 March 14:30``."""
    who = f" ({record.who})" if record.who and record.place is not SheetPlace.DESK else ""
    since = f" since {say_at(record.since)}" if record.since else ""
    return f"{record.place.words}{who}{since}"


def _in_short(sheet: SheetStatus, book: Book) -> str:
    """Who has a sheet since when, when it is dry, what it waits for, what is to be painted on it."""
    record, said = sheet.record, []
    if record.also is not None:
        said.append(f"taken twice: {record.who} and {record.also[1]}")
    if record.since and record.place is not SheetPlace.DESK:
        said.append(f"{record.who} since {say_at(record.since, short=True)}")
    if sheet.dry is not None:
        wet = any(wait.page is None for wait in sheet.waits_for)
        said.append(f"dry {'on' if wet else 'since'} {say_moment(sheet.dry, short=True)}")
    waits = waits_words((wait for wait in sheet.waits_for if wait.page is not None), book)
    said.append(f"waits for {waits}" if waits else "text done")
    if sheet.spaces:
        said.append(f"{count_of(len(sheet.spaces), 'space')} to fill")
    return "; ".join(said)


def _also(sheet: SheetStatus) -> dict[str, object] | None:
    also = sheet.record.also
    return {"place": also[0], "who": also[1]} if also is not None else None


WHERE: Report[SheetStatus] = rows_of(
    "sheets --where",
    "One row a sheet: where it is, and what it waits for before it may go to the artist.",
    Column("sheet", Cell.TEXT, "gathering and sheet, as 3.2", "sheet.name", "sheet"),
    Column(
        "place",
        Cell.TEXT,
        "desk, drying, checker, artist or press",
        "record.place",
        "place",
        lambda each, _: each.record.place.words,
    ),
    Column("who", Cell.TEXT, "who has it; null where nobody was named", lambda each: each.record.who or None, "who"),
    Column(
        "since",
        Cell.MOMENT,
        "since when; null where it never moved",
        lambda each: each.record.since or None,
        "since",
        lambda each, _: say_at(each.record.since),
    ),
    Column(
        "pages",
        Cell.TEXTS,
        "the pages on it",
        lambda each: [str(page) for page in each.sheet.pages()],
        "pages",
        lambda each, book: book.listed(each.sheet.pages()),
    ),
    Column("may_leave", Cell.YES_NO, "whether it may go to the artist now", shown=_in_short),
    Column(
        "waits_for",
        Cell.TEXTS,
        "what must be done first, as 3r checked",
        lambda each: list(map(str, each.waits_for)),
        "waits for",
        lambda each, book: waits_words(each.waits_for, book),
    ),
    Column(
        "spaces_waiting",
        Cell.TEXTS,
        "spaces on it still to fill",
        lambda each: list(each.spaces),
        "spaces",
        lambda each, _: ", ".join(each.spaces),
    ),
    Column(
        "dry",
        Cell.MOMENT,
        "when it is dry; null where it does not lie to dry",
        lambda each: iso(each.dry),
        "dry",
        lambda each, _: say_moment(each.dry) if each.dry is not None else "",
    ),
    Column("also", Cell.OBJECT, "where another desk put it at the same time; null where none did", _also),
)
