"""The artist's list: a row a space with a box to tick, sheet by sheet, and the cautions for what it is made with."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

from copydesk.book.common.phrases import say_day
from copydesk.book.common.sanitize import plain
from copydesk.book.layout.space_stages import stages_in_order
from copydesk.book.materials.cautions import cautions_for
from copydesk.papers.plain_paper import BOX, TICKED
from copydesk.tracking.decoration.rubrication_tally import SORTS, tally, tally_words, total_of
from copydesk.tracking.decoration.space_report import (
    about_words,
    arranged,
    hours_words,
    lines_words,
    place_words,
    progress,
    progress_words,
    size_words,
    space_reports,
)
from copydesk.tracking.ledger.entry_kinds import SheetPlace
from copydesk.tracking.views.sheet_pile import leave_words, whereabouts

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from datetime import datetime

    from copydesk.book.layout.space_stages import Stage
    from copydesk.book.plan import Book
    from copydesk.papers.catalogue import PaperRequest
    from copydesk.papers.drawing.flowing_text import FlowingPaper
    from copydesk.tracking.decoration.rubrication_tally import Tally
    from copydesk.tracking.decoration.space_report import Group, SpaceReport
    from copydesk.tracking.state.book_state import BookState


_WIDTH = 78
_SHARES = (6.0, 38.0, 44.0, 26.0)
_STAGE_SHARE = 16.5
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
    title = f"Spaces to fill: {state.book.title}"
    if order.form == "text":
        return ("\n".join(_text(state, now, title)) + "\n").encode()
    from copydesk.papers.drawing.flowing_text import FlowingPaper

    paper = FlowingPaper(title, order.paper, say_day(now.date()))
    _write(paper, state, now)
    return paper.finish()


def _write(paper: FlowingPaper, state: BookState, now: datetime) -> None:
    book, reports = state.book, space_reports(state, now)
    waiting = [report for report in reports if report.waiting]
    stages = stages_in_order(colour_first=book.workshop.colour_first)
    paper.paragraph(_HOW if waiting else _NONE)
    for group in arranged(state, waiting, "sheet"):
        paper.heading(_heading(group, book))
        if said := _under(group, book):
            paper.paragraph(said)
        rows = [_row(report, stages, book) for report in group.reports]
        names = ("", "space", "shows", "made with", *(stage.to_do for stage in stages))
        paper.table(names, rows, (*_SHARES, *(_STAGE_SHARE for _ in stages)))
    for line in _ending(state, reports):
        paper.paragraph(line)
    tallies = tally(state)
    paper.heading("Small work in colour, counted from the text")
    paper.table(
        ("", "gathering", "at the foot of", *SORTS), [_tallied(each, book) for each in tallies], (1, 2, 2, 2, 2, 2, 2)
    )
    cautions = _cautions(waiting)
    if cautions:
        paper.heading("Cautions")
    for caution in cautions:
        paper.paragraph(caution)


def _heading(group: Group, book: Book) -> str:
    sheet = group.reports[0].sheet
    if sheet is None:
        return group.title
    return f"{group.title}: {book.listed(sheet.sheet.pages())}"


def _under(group: Group, book: Book) -> str:
    """Where the sheet is, or what it waits for; hours."""
    sheet = group.reports[0].sheet
    if sheet is None:
        said = "no page has room for these: move them, give them up, or make room"
    elif sheet.record.place in (SheetPlace.DESK, SheetPlace.DRYING):
        said = leave_words(sheet, book)
    else:
        said = whereabouts(sheet.record)
    return plain(", ".join(part for part in (said, hours_words(group.hours)) if part))


def _row(report: SpaceReport, stages: Sequence[Stage], book: Book) -> tuple[str, ...]:
    account = report.account
    needed = (_box(report, stage) if stage in account.stages else "" for stage in stages)
    hours = hours_words(account.hours_left)
    place = f"{account.plan.id}: {_place(report, book)}{f'; {hours}' if hours else ''}"
    return (BOX, plain(place), about_words(report), plain(", ".join(account.plan.materials)), *needed)


def _place(report: SpaceReport, book: Book) -> str:
    account = report.account
    return "; ".join(
        part for part in (place_words(account, book), lines_words(account), size_words(account, book.unit)) if part
    )


def _box(report: SpaceReport, stage: Stage) -> str:
    return TICKED if report.account.has(stage) else BOX


def _ending(state: BookState, reports: Sequence[SpaceReport]) -> Iterator[str]:
    """What is filled or left already, and how far each stage has come."""
    ended = [f"{report.account.plan.id} ({report.account.stage})" for report in reports if not report.waiting]
    if ended:
        yield plain(f"Filled already, or left: {', '.join(ended)}.")
    if reports:
        yield f"So far: {progress_words(progress(state, reports))}."


def _cautions(waiting: Sequence[SpaceReport]) -> list[str]:
    return [str(each) for each in cautions_for(name for report in waiting for name in report.account.plan.materials)]


def _tallied(each: Tally, book: Book) -> tuple[str, ...]:
    foot = book.named(each.foot) if each.foot is not None else ""
    where = (str(each.gathering), foot) if each.gathering is not None else ("text without a page", "")
    return (BOX, *where, *(str(number) if number else "" for number in each.counts.values()))


def _text(state: BookState, now: datetime, title: str) -> Iterator[str]:
    book, reports = state.book, space_reports(state, now)
    waiting = [report for report in reports if report.waiting]
    yield from (plain(title), "=" * min(len(title), _WIDTH), say_day(now.date()), "")
    yield from textwrap.wrap(_HOW if waiting else _NONE, _WIDTH)
    for group in arranged(state, waiting, "sheet"):
        heading = plain(_heading(group, book))
        yield from ("", heading, "-" * min(len(heading), _WIDTH))
        yield from textwrap.wrap(_under(group, book), _WIDTH)
        for report in group.reports:
            yield from _entry(report, book)
    yield ""
    for line in _ending(state, reports):
        yield from textwrap.wrap(line, _WIDTH)
    yield from ("", "Small work in colour, counted from the text", "-" * 43)
    tallies = tally(state)
    for each in tallies:
        where = (
            f"gathering {each.gathering}, foot of {book.named(each.foot)}"
            if each.foot is not None
            else "text without a page"
        )
        yield f"{BOX} {where}: {tally_words(each.counts)}"
    yield f"    in all: {tally_words(total_of(tallies))}"
    cautions = _cautions(waiting)
    if cautions:
        yield from ("", "Cautions", "-" * 8)
    for caution in cautions:
        yield from textwrap.wrap(plain(caution), _WIDTH, subsequent_indent="  ")


def _entry(report: SpaceReport, book: Book) -> Iterator[str]:
    """A space in the text: its box and place, then what it shows, what it is made with, its stages."""
    account = report.account
    told = [f"{account.plan.id}: {_place(report, book)}", about_words(report)]
    if account.plan.materials:
        told.append(f"made with {', '.join(account.plan.materials)}")
    if report.artist or account.hours_left:
        told.append(", ".join(part for part in (report.artist, hours_words(account.hours_left)) if part))
    first, *rest = (plain(line) for line in told)
    yield ""
    yield from textwrap.wrap(first, _WIDTH, initial_indent=f"{BOX} ", subsequent_indent="    ")
    for line in rest:
        yield from textwrap.wrap(line, _WIDTH, initial_indent="    ", subsequent_indent="      ")
    yield "    " + "   ".join(f"{_box(report, stage)} {stage}" for stage in account.stages)
