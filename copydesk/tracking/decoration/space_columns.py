"""The columns of the spaces and of the rubrication tally, for the terminal, spreadsheets and other programs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.columns import Cell, Column, Report, page_or_none, rows_of
from copydesk.book.common.phrases import grouped
from copydesk.tracking.decoration.rubrication_tally import SORTS
from copydesk.tracking.decoration.space_report import apart_words, size_words, where_words
from copydesk.tracking.ledger.entry_kinds import SheetPlace
from copydesk.tracking.views.sheet_pile import leave_words

if TYPE_CHECKING:
    from copydesk.book.plan import Book
    from copydesk.tracking.decoration.rubrication_tally import Tally
    from copydesk.tracking.decoration.space_report import SpaceReport


def _column(r: SpaceReport) -> int | None:
    placement = r.account.placement
    return (placement.column or 1) if placement is not None and placement.from_line else None


def _from_line(r: SpaceReport) -> int | None:
    return (r.account.placement.from_line or None) if r.account.placement is not None else None


def _lines(r: SpaceReport) -> int:
    placement = r.account.placement
    return placement.lines if placement is not None else r.account.plan.lines


def _leaves(r: SpaceReport, book: Book) -> str:
    return leave_words(r.sheet, book) if r.sheet is not None else ", ".join(r.waits_for)


def _waits_for_act(r: SpaceReport, _: Book) -> str:
    """What is to be done next, else how far it has come."""
    return r.account.next_stage.to_do if r.account.next_stage is not None else r.account.stage


def _sheet_in_short(r: SpaceReport, _: Book) -> str:
    """Its sheet, and in a word whether that may go to the artist."""
    if r.sheet is None:
        return ""
    place = r.sheet.record.place
    return f"{r.sheet.sheet.name} {place if place is not SheetPlace.DESK else 'now' if r.may_leave else 'waits'}"


def _hours(r: SpaceReport) -> str:
    return grouped(round(r.account.hours_left, 1)) if r.account.hours_left else ""


SPACES: Report[SpaceReport] = rows_of(
    "spaces",
    "One row a reserved space, those still to fill first. Widths and heights are millimetres.",
    Column("space", Cell.TEXT, "its name", "account.plan.id", "space"),
    Column("kind", Cell.TEXT, "its kind, as miniature", "account.plan.kind", "kind"),
    Column(
        "page",
        Cell.PAGE,
        "its page; null where none has room",
        lambda r: page_or_none(r.account.page),
        "stands on",
        lambda r, book: where_words(r.account, book),
    ),
    Column("column", Cell.NUMBER, "its column, from 1; null where it takes no lines", _column),
    Column("from_line", Cell.NUMBER, "its first line; null where it takes no lines", _from_line),
    Column("lines", Cell.NUMBER, "ruled lines it takes", _lines),
    Column(
        "width",
        Cell.NUMBER,
        "its width in mm",
        lambda r: round(r.account.width, 2),
        "size",
        lambda r, book: size_words(r.account, book.unit),
    ),
    Column("height", Cell.NUMBER, "its height in mm", lambda r: round(r.account.height, 2)),
    Column("stage", Cell.TEXT, "the stage it has reached", "account.stage", "so far"),
    Column("waiting", Cell.YES_NO, "whether it is still to be filled", shown=_waits_for_act),
    Column(
        "sheet",
        Cell.TEXT,
        "its sheet, as 1.3; null where it has no page",
        lambda r: r.sheet.sheet.name if r.sheet else None,
        "sheet",
    ),
    Column("may_leave", Cell.YES_NO, "whether its sheet may go to the artist now", "may_leave", "may leave", _leaves),
    Column("waits_for", Cell.TEXTS, "what must be done first, as 3r checked", lambda r: list(r.waits_for)),
    Column("subject", Cell.TEXT, "what it shows", "account.plan.subject", "subject"),
    Column("materials", Cell.TEXTS, "materials the plan names", lambda r: list(r.account.plan.materials)),
    Column("across", Cell.TEXT, "column or all columns", "account.plan.across"),
    Column(
        "stages",
        Cell.OBJECT,
        "each stage of its kind, and whether it is done",
        lambda r: {stage: r.account.has(stage) for stage in r.account.stages},
    ),
    Column("next", Cell.TEXT, "the stage that comes next; null where none does", "account.next_stage", "next"),
    Column("instruction", Cell.TEXT, "what the artist is told", "account.plan.instruction"),
    Column("guide_letter", Cell.TEXT, "the letter to paint", "account.plan.guide_letter"),
    Column("artist", Cell.TEXT, "who fills it"),
    Column("hours", Cell.NUMBER, "hours the plan gives it", "account.plan.hours"),
    Column(
        "hours_left",
        Cell.NUMBER,
        "hours thought to be left",
        lambda r: round(r.account.hours_left, 2),
        "hours",
        lambda r, _: _hours(r),
    ),
    Column(
        "sheet_at",
        Cell.TEXT,
        "where its sheet is; null where it has no page",
        lambda r: r.sheet.record.place if r.sheet else None,
        shown=_sheet_in_short,
    ),
    Column(
        "text_page",
        Cell.PAGE,
        "the page of its text; null where it is tied to a page, takes no lines, or either has no page",
        lambda r: str(r.distance.page) if r.distance else None,
    ),
    Column(
        "lines_from_text",
        Cell.NUMBER,
        "text lines from its text to it; negative where it stands before its text; null as for text_page",
        lambda r: r.distance.lines if r.distance else None,
        "its text",
        lambda r, book: apart_words(r, book).removeprefix("its text "),
    ),
    last=("subject",),
)


def _sort_column(sort: str) -> Column[Tally]:
    return Column(sort.replace(" ", "_"), Cell.NUMBER, f"how many {sort}", lambda each: each.counts[sort])


TALLY: Report[Tally] = rows_of(
    "spaces --tally",
    "One row a gathering: rubrics, small initials and marks that colour is wanted for.",
    Column("gathering", Cell.NUMBER, "the gathering; null for text without a page"),
    Column("foot_of", Cell.PAGE, "the page whose foot the tally goes on", lambda each: page_or_none(each.foot)),
    *map(_sort_column, SORTS),
    Column("total", Cell.NUMBER, "all of them"),
    Column("on_written_pages", Cell.NUMBER, "those on pages written", "written"),
)
