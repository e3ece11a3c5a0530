"""The artist's list: each space to fill with boxes to tick, sheet by sheet, and cautions for its materials."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from copydesk.book.common.sanitize import sanitize
from copydesk.book.common.units import show_length
from copydesk.book.layout.page_layout import Rectangle, place_of
from copydesk.book.layout.space_stages import Stage, stages_in_order
from copydesk.book.materials.cautions import caution_words, cautions_for
from copydesk.book.structure.page import Side
from copydesk.papers.drawing.shapes import Box, DrawnLine, SmallDrawing
from copydesk.papers.paper_forms import BOX, TICKED, written
from copydesk.tracking.decoration.rubrication_tally import SORTS, tally, total_of
from copydesk.tracking.decoration.space_report import (
    apart_words,
    arranged,
    hours_words,
    kind_words,
    lines_words,
    place_words,
    progress,
    progress_words,
    size_words,
    space_reports,
    subject_words,
)
from copydesk.tracking.fit.line_ends import all_fillers, filler_words
from copydesk.tracking.ledger.entry_kinds import SheetPlace
from copydesk.tracking.views.sheet_pile import leave_words, whereabouts

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime

    from copydesk.book.plan import Book
    from copydesk.papers.drawing.shapes import Mark, Pen
    from copydesk.papers.paper_forms import Cell, PaperRequest, Writer
    from copydesk.tracking.decoration.rubrication_tally import Tally
    from copydesk.tracking.decoration.space_report import Group, SpaceReport
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.space_view import SpaceAccount


_SHARES = (6.0, 0.0, 38.0, 44.0, 26.0)
_STAGE_SHARE = 16.5
_PICTURE = 18.0  # the longer side of the drawing of a page, mm
_NONE = "No space is to be filled."
_HOW = (
    "Tick each stage as it is done, and the box before the space when all of it is. Sizes are those of the ruled page. "
    "A sheet may leave the desk when all its pages are written, checked and corrected."
)


def printed(order: PaperRequest) -> bytes:
    """Make the list, as PDF or as text.

    Raises:
        UnknownNameError: where we print on no such paper.
    """
    state, now = order.job.state, order.job.clock()
    return written(order, f"{state.book.title}: spaces to fill", lambda paper: _write(paper, state, now))


def _write(paper: Writer, state: BookState, now: datetime) -> None:
    reports = space_reports(state, now)
    waiting = [report for report in reports if report.waiting]
    paper.paragraph(_HOW if waiting else _NONE)
    everything = [_row(report, state, tuple(Stage)) for report in waiting]
    for group in arranged(state, waiting, "sheet"):
        _group(paper, group, state, everything)
    ended = [f"{report.account.plan.id} ({report.account.stage})" for report in reports if not report.waiting]
    if ended:
        paper.paragraph(f"Filled already, or left empty: {', '.join(ended)}.")
    if reports:
        paper.paragraph(f"So far: {progress_words(progress(state, reports))}.")
    _line_fillers(paper, state)
    _small_work(paper, state)
    cautions = cautions_for(name for report in waiting for name in report.account.plan.materials)
    if cautions:
        paper.heading("Cautions")
    for words in caution_words(cautions):
        paper.paragraph(words)


def _group(paper: Writer, group: Group, state: BookState, everything: Sequence[Sequence[Cell]]) -> None:
    """The spaces of one sheet, with a box for every stage, in the order each space goes through them.

    ``everything`` are the rows of all sheets, by which the columns are measured.
    """
    book = state.book
    sheet = group.reports[0].sheet
    paper.heading(group.title if sheet is None else f"{group.title}: {book.listed(sheet.sheet.pages())}")
    if said := _under(group, book):
        paper.lead(said)
    left = list(group.reports)
    for colour_first in (book.workshop.colour_first, not book.workshop.colour_first):
        stages = stages_in_order(colour_first=colour_first)
        fitting = [report for report in left if _goes_through(report.account.stages, stages)]
        left = [report for report in left if report not in fitting]
        if fitting:
            names = ("", "page", "space", "subject", "made with", *(stage.to_do for stage in stages))
            rows = [_row(report, state, stages) for report in fitting]
            paper.table(names, rows, (*_SHARES, *(_STAGE_SHARE for _ in stages)), everything)


def _goes_through(needed: Sequence[Stage], stages: Sequence[Stage]) -> bool:
    """Whether what is needed follows one another as in ``stages``."""
    return list(needed) == [stage for stage in stages if stage in needed]


def _line_fillers(paper: Writer, state: BookState) -> None:
    """The ends of lines that want a filler, page by page, with their widths; nothing where the book has none."""
    wanted = all_fillers(state)
    if not wanted:
        return
    paper.heading(f"Line fillers: {filler_words(wanted, state.book)}")
    rows = []
    for page, ends in groupby(wanted, key=lambda each: each.page):
        places = (f"{each.column}.{each.line} {show_length(each.short_mm, state.book.unit, 0)}" for each in ends)
        rows.append((BOX, state.book.named(page), ", ".join(places)))
    paper.table(("", "page", "column and line, and how wide"), rows, (1, 2, 16))


def _small_work(paper: Writer, state: BookState) -> None:
    """Headings, initials and other signs in colour, gathering by gathering, and their sum."""
    tallies = tally(state)
    paper.heading("Small work in colour, counted from the text")
    rows = [_tallied(each, state.book) for each in tallies]
    total = ("", "in all", "", *map(str, total_of(tallies).values()))
    paper.table(("", "gathering", "at the foot of", *SORTS), [*rows, total], (1, 2, 2, 2, 2, 2.3, 2))


def _under(group: Group, book: Book) -> str:
    """Where the sheet is, or what it waits for; hours."""
    sheet = group.reports[0].sheet
    if sheet is None:
        said = "no page has room for these: move them, give them up, or make room"
    elif sheet.record.place in (SheetPlace.DESK, SheetPlace.DRYING):
        said = leave_words(sheet, book)
    else:
        said = whereabouts(sheet.record)
    return sanitize(", ".join(part for part in (said, hours_words(group.hours)) if part))


def _row(report: SpaceReport, state: BookState, stages: Sequence[Stage]) -> tuple[Cell, ...]:
    account, book = report.account, state.book
    boxes = (TICKED if account.has(stage) else BOX if stage in account.stages else "" for stage in stages)
    apart = apart_words(report, book)
    place = (
        place_words(account, book),
        lines_words(account),
        size_words(account, book.unit),
        f"its text {apart}" if apart else "",
    )
    told = "; ".join(filter(None, (*place, report.artist, hours_words(account.hours_left))))
    made_with = ", ".join(account.plan.materials)
    seen, says = _page_picture(account, state), sanitize(f"{kind_words(account)}: {told}")
    return (BOX, seen, says, subject_words(account), sanitize(made_with), *boxes)


def _page_picture(account: SpaceAccount, state: BookState) -> SmallDrawing:
    """The page a space stands on, small, with its columns and the space; blank where the space has no page."""
    layout, page = state.layout, account.page
    scale = _PICTURE / max(layout.width, layout.height)
    width, height = layout.width * scale, layout.height * scale
    if page is None:
        return SmallDrawing(width, height, ())
    layout, placement = state.layout_on(page.index), account.placement
    fold = 0.0 if page.side is Side.RECTO else width
    columns = [
        Rectangle(left, layout.margins.head, layout.measure, layout.written_height)
        for left in layout.column_lefts(page.side)
    ]
    marks: list[Mark] = [Box(0, 0, width, height, "column"), DrawnLine(fold, 0, fold, height, "crease")]
    if placement is None or not placement.lines:  # a border: round the text
        marks.append(Box(0.8, 0.8, width - 1.6, height - 1.6, "here"))
        return SmallDrawing(width, height, (*marks, *(_scaled(column, scale, "column") for column in columns)))
    size = (account.width, account.height)
    place = place_of(layout, page.side, max(placement.column, 1), placement.from_line, size)
    marks += (_scaled(column, scale, "words") for column in columns)
    return SmallDrawing(width, height, (*marks, _scaled(place, scale, "here")))


def _scaled(place: Rectangle, scale: float, pen: Pen) -> Box:
    return Box(place.left * scale, place.top * scale, place.width * scale, place.height * scale, pen)


def _tallied(each: Tally, book: Book) -> tuple[str, ...]:
    foot = book.named(each.foot) if each.foot is not None else ""
    where = (str(each.gathering), foot) if each.gathering is not None else ("text without a page", "")
    return (BOX, *where, *(str(number) if number else "" for number in each.counts.values()))
