"""Pages as a report: one row a page, for the terminal, spreadsheets and other programs."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report, page_or_none, rows_of
from copydesk.tracking.state.strange_pages import strange_on
from copydesk.tracking.views.page_view import PageAccount, page_account
from copydesk.tracking.views.sheet_view import instead_of_page

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from copydesk.book.checks import PageReading
    from copydesk.book.plan import Book
    from copydesk.tracking.ledger.stint import Stint
    from copydesk.tracking.state.book_state import BookState


class PageRow(NamedTuple):
    """A page of the report: its account, what is beside it on the sheet, and its stretch as plain data or None."""

    account: PageAccount
    instead: str
    stretch: Mapping[str, object] | None
    strange_words: int | None = None


def page_reports(state: BookState) -> list[PageAccount]:
    """The account of every page in reading order."""
    return [page_account(state, index) for index in range(state.collation.pages)]


def page_rows(state: BookState, stretch_at: Callable[[int], Mapping[str, object] | None]) -> list[PageRow]:
    """Every page in reading order; ``stretch_at`` gives the stretch of a page (an index), or None."""
    return [page_row(state, account, stretch_at(account.page.index)) for account in page_reports(state)]


def page_row(state: BookState, account: PageAccount, stretch: Mapping[str, object] | None = None) -> PageRow:
    """The row of one page."""
    place = account.place
    instead = (
        "" if place.conjugate else instead_of_page(state.collation.gathering(place.gathering), place.sheet).in_short
    )
    strange = strange_on(state, account.page.index)
    return PageRow(account, instead, stretch, strange.words if strange is not None else None)


def page_as_data(account: PageAccount, stretch: Mapping[str, object] | None = None) -> dict[str, object]:
    """One page as plain data; ``stretch`` is that of a page held at both ends."""
    return PAGES.data(PageRow(account, "", stretch))


def _beside(row: PageRow, book: Book) -> str:
    conjugate = row.account.place.conjugate
    return book.named(conjugate) if conjugate else row.instead


def _hands(row: PageRow) -> str:
    return "".join(row.account.record.hands)


def _hands_csv(row: PageRow) -> list[str]:
    return [f"{stint.hand} {stint.from_line}-{stint.to_line}" for stint in row.account.record.stints]


HAND_LINES: Report[Stint] = rows_of(
    "hands",
    "Which hand wrote which text lines of the page.",
    Column("hand", Cell.TEXT, "the hand"),
    Column("from_line", Cell.NUMBER, "its first text line"),
    Column("to_line", Cell.NUMBER, "its last text line"),
)

READINGS: Report[PageReading] = rows_of(
    "readings",
    "Every time a page was gone through against the exemplar.",
    Column("by", Cell.TEXT, "who followed the page"),
    Column("how", Cell.TEXT, "silently, aloud by two or by typing; null where not said", lambda each: each.how or None),
    Column("with", Cell.TEXT, "who read aloud; null where it was read by one", lambda each: each.beside or None),
    Column("at", Cell.MOMENT, "when"),
    Column("read", Cell.YES_NO, "whether it was read; false where it was only ticked"),
)

PAGES: Report[PageRow] = rows_of(
    "pages",
    "One row a page, in reading order. Lines are text lines of all columns.",
    Column(
        "page", Cell.PAGE, "leaf and side", lambda row: str(row.account.page), "page", lambda row, _: row.account.label
    ),
    Column("next", Cell.TEXT, "what is to be done next", lambda row: str(row.account.next_act), "next"),
    Column("state", Cell.TEXT, "unruled, ruled, begun, written, checked or corrected", "account.record.state", "state"),
    Column("written", Cell.NUMBER, "lines written", "account.record.written", "written"),
    Column("planned", Cell.NUMBER, "lines the text planned for it takes", "account.budget.planned", "planned"),
    Column(
        "lines_empty",
        Cell.NUMBER,
        "planned lines that stay empty, too narrow for the next word beside a space or a hole",
        "account.budget.empty",
    ),
    Column(
        "lines_kept",
        Cell.NUMBER,
        "lines that stay blank, as the heading, initial or division that follows has no room there",
        "account.budget.kept",
    ),
    Column("budget", Cell.NUMBER, "lines left for text", "account.budget.room", "budget"),
    Column(
        "over",
        Cell.NUMBER,
        "lines of its text that have no place on it, as lines that stay blank are no room for them; negative where "
        "lines are left empty",
        "account.over",
        "over",
        lambda row, _: row.account.over if row.account.over > 0 else "",
    ),
    Column("gathering", Cell.NUMBER, "the gathering", "account.place.gathering"),
    Column("leaf", Cell.NUMBER, "the leaf in its gathering", "account.place.leaf"),
    Column(
        "sheet",
        Cell.NUMBER,
        "the sheet in its gathering, 1 the outermost",
        "account.place.sheet",
        "sheet",
        lambda row, _: row.account.place.sheet_name,
    ),
    Column("side", Cell.TEXT, "outer or inner side of the sheet", "account.place.side.value", "side"),
    Column("surface", Cell.TEXT, "hair or flesh", "account.place.surface.value", "surface"),
    Column(
        "conjugate",
        Cell.PAGE,
        "the page beside it when the sheet lies open; null where there is none",
        lambda row: page_or_none(row.account.place.conjugate),
        "beside",
        _beside,
    ),
    Column(
        "hands",
        Cell.ROWS,
        "who wrote it",
        "account.record.stints",
        "hands",
        lambda row, _: _hands(row),
        HAND_LINES,
        csv=_hands_csv,
    ),
    Column("first_words", Cell.TEXT, "its first words", "account.first_words", "begins"),
    Column("last_words", Cell.TEXT, "its last words", "account.last_words", "ends"),
    Column("from_word", Cell.NUMBER, "its first word in the exemplar, from 0", "account.from_word"),
    Column("to_word", Cell.NUMBER, "the word after its last", "account.to_word"),
    Column("ruled_lines", Cell.NUMBER, "ruled lines of all columns", "account.ruled_lines"),
    Column("lines_in_spaces", Cell.NUMBER, "lines that spaces take", "account.lines_in_spaces"),
    Column("lines_in_flaws", Cell.NUMBER, "lines that flaws take whole", "account.lines_in_flaws"),
    Column(
        "checked_by",
        Cell.TEXT,
        "who checked it; null where nobody did",
        lambda row: row.account.record.checked_by or None,
    ),
    Column("self_checked", Cell.YES_NO, "whether its own writer checked it", "account.record.self_checked"),
    Column("ticked_not_read", Cell.YES_NO, "whether its check was ticked without reading", "account.record.unread"),
    Column("spaces_waiting", Cell.NUMBER, "spaces on it still to fill", "account.spaces_waiting"),
    Column("faults_open", Cell.NUMBER, "faults not yet corrected", lambda row: len(row.account.record.open_faults)),
    Column("faults_mended", Cell.NUMBER, "faults found on it and mended", "account.faults_mended"),
    Column("spaces_filled", Cell.NUMBER, "spaces on it that are filled", "account.spaces_filled"),
    Column(
        "stage_due",
        Cell.TEXT,
        "the earliest stage that comes next in its spaces: drawn, gilded, coloured or outlined; null where none",
        lambda row: next(iter(row.account.stages_due), None),
    ),
    Column(
        "check",
        Cell.TEXT,
        "how far its check has come: due, begun, by its writer or by another hand; null where none is due",
        lambda row: row.account.check or None,
    ),
    Column("label", Cell.TEXT, "the page as the book counts pages", "account.label"),
    Column(
        "gap_words", Cell.NUMBER, "words skipped before it", lambda row: row.account.gap_words or None, optional=True
    ),
    Column(
        "overlap_words",
        Cell.NUMBER,
        "words that stand on the page before too",
        lambda row: row.account.overlap_words or None,
        optional=True,
    ),
    Column(
        "strange_words",
        Cell.NUMBER,
        "words it holds beyond those so many lines of its hand do, negative where fewer; until it is checked",
        optional=True,
    ),
    Column(
        "readings",
        Cell.ROWS,
        "every time it was gone through against the exemplar since it was written",
        "account.record.readings",
        of=READINGS,
        csv=lambda row: [f"{each.by} {each.how}".rstrip() for each in row.account.record.readings],
    ),
    Column(
        "readings_wanted",
        Cell.TEXTS,
        "the ways of the readings still to be made, where the book names its readings",
        lambda row: list(row.account.record.wanted),
    ),
    Column("stretch", Cell.OBJECT, "the stretch of pages held at both ends that it lies in", optional=True),
)
