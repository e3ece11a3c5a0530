"""What the artist's screen shows: headings and rows, the bars of each stage, what there is to say of a space. Pure."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of
from copydesk.book.common.sanitize import sanitize
from copydesk.book.materials.cautions import LABEL, cautions_for
from copydesk.desk.wording.lines import ListRow, PanelLine, grouped_rows, under_one_head
from copydesk.tracking.decoration.rubrication_tally import tally_words, total_of
from copydesk.tracking.decoration.space_columns import SPACES
from copydesk.tracking.decoration.space_report import (
    apart_words,
    group_line,
    hours_words,
    lines_words,
    place_words,
    size_words,
)
from copydesk.tracking.ledger.entry_kinds import SheetPlace, SpaceEnd
from copydesk.tracking.ledger.timestamps import say_at
from copydesk.tracking.log.space_text import also_words
from copydesk.tracking.views.sheet_pile import leave_words, waits_words, whereabouts

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from copydesk.book.plan import Book
    from copydesk.tracking.decoration.rubrication_tally import Tally
    from copydesk.tracking.decoration.space_report import Arrangement, Group, Progress, SpaceReport


_WIDEST_BAR = 12

BY: dict[Arrangement, str] = {
    "sheet": "sheet",
    "leaving": "sheet, first those that may leave now",
    "stage": "stage",
    "material": "material",
}
"""What each order of the list is called."""


def rows(groups: Iterable[Group], by: Arrangement, book: Book) -> list[ListRow[SpaceReport]]:
    """The list: each group's heading, then its spaces."""
    report = SPACES.only("space", "kind", "page", "width" if by in ("sheet", "leaving") else "sheet_at", "waiting")
    name, *others = report.columns
    report = replace(report, columns=(replace(name, shown=_short_name), *others))
    return grouped_rows(((group_line(group, book), group.reports) for group in groups), report, book)


_LONGEST_NAME = 12


def _short_name(report: SpaceReport, _book: Book) -> str:
    """A space's name so short that its row fits; the panel has all of it."""
    name = report.account.plan.id
    return name if len(name) <= _LONGEST_NAME else f"{name[: _LONGEST_NAME - 1]}…"


def title(reports: Sequence[SpaceReport], by: Arrangement, width: int, *, waiting_only: bool) -> str:
    """The line above the list: the arrangement, how many wait, which sheets may leave or have left, hours left.

    What has no room in ``width`` cells is left out from the end.
    """
    waiting = [report for report in reports if report.waiting]
    parts = [
        f" Spaces by {BY[by]}{'' if waiting_only else ', filled ones too'}",
        f"{len(waiting)} of {len(reports)} to fill",
        _leaving(waiting),
        hours_words(sum(report.account.hours_left for report in waiting)),
    ]
    said = parts[0]
    for part in parts[1:]:
        longer = f"{said}   {part}"
        said = longer if part and len(longer) <= width else said
    return said


def _leaving(waiting: Iterable[SpaceReport]) -> str:
    """How many sheets with spaces to fill may leave the desk; where none may, how many have left it."""
    sheets = {report.sheet.sheet.name: report.sheet for report in waiting if report.sheet is not None}.values()
    ready = sum(sheet.may_leave and sheet.record.place in (SheetPlace.DESK, SheetPlace.DRYING) for sheet in sheets)
    out = sum(sheet.record.place is SheetPlace.ARTIST for sheet in sheets)
    if ready:
        return f"{count_of(ready, 'sheet')} may leave the desk"
    if out:
        return f"{count_of(out, 'sheet')} with the artist"
    return "no sheet may leave the desk yet" if sheets else ""


def progress_line(stages: Sequence[Progress], width: int) -> str:
    """How far each stage has come, figures and a short bar each, in ``width`` cells."""
    said = [f"{each.stage} {each.done}/{each.needed}" for each in stages]
    room = (width - sum(map(len, said)) - 1) // max(len(said), 1) - 4
    bars = (bar(each.done, each.needed, min(room, _WIDEST_BAR)) if room > 1 else "" for each in stages)
    return " " + "   ".join(f"{words} {drawn}".rstrip() for words, drawn in zip(said, bars, strict=True))


def bar(done: int, needed: int, width: int) -> str:
    """A bar ``width`` cells wide, drawn in half cells as far as ``done`` of ``needed``."""
    halves = done * width * 2 // needed if needed else 0
    drawn = "━" * (halves // 2) + ("╾" if halves % 2 else "")
    return drawn + "─" * (width - len(drawn))


def space_lines(report: SpaceReport, book: Book) -> Iterator[PanelLine]:
    """What there is to say of one space."""
    account, plan = report.account, report.account.plan
    letter = f' for "{plan.guide_letter}"' if plan.guide_letter else ""
    size = ", ".join(part for part in (lines_words(account), size_words(account, book.unit)) if part)
    yield PanelLine("Space", sanitize(f"{plan.id}, {plan.kind}{letter}: {place_words(account, book)}; {size}"))
    if apart := apart_words(report, book):
        yield PanelLine("Its text", apart)
    if plan.subject:
        yield PanelLine("Shows", sanitize(plan.subject))
    if plan.instruction:
        yield PanelLine("Note", sanitize(plan.instruction))
    yield PanelLine("Stages", _stages(report), wrong=account.page is None)
    if account.lost:
        yield PanelLine("Lost", f"{' and '.join(account.lost)} on a leaf that is gone", wrong=True)
    if plan.materials:
        yield PanelLine("Needs", sanitize(", ".join(plan.materials)))
    artist = ", ".join(part for part in (report.artist, hours_words(account.hours_left)) if part)
    if artist:
        yield PanelLine("Artist", sanitize(artist))
    yield from _where(report, book)


def _stages(report: SpaceReport) -> str:
    account = report.account
    record = account.record
    if record.ended is SpaceEnd.LEFT_EMPTY and record.end is not None:
        return sanitize(f"left empty on purpose by {record.end.hand}, {say_at(record.end.at)}")
    done = [f"{step.what} by {step.hand} {say_at(step.at)}" for step in record.stages]
    if record.ended is SpaceEnd.DONE and record.end is not None:
        done.append(f"done by {record.end.hand} {say_at(record.end.at)}")
    if account.page is None:
        done.append("never reached: no page has room for it")
    elif account.stages_left:
        done.append(f"then to be {', '.join(account.stages_left)}" if done else f"to be {', '.join(account.stages)}")
    return sanitize("; ".join(done))


def _where(report: SpaceReport, book: Book) -> Iterator[PanelLine]:
    sheet = report.sheet
    if sheet is None:
        return
    pages = book.listed(sheet.sheet.pages())
    said = [f"{sheet.sheet.name} ({pages}) {whereabouts(sheet.record)}"]
    if sheet.record.place in (SheetPlace.DESK, SheetPlace.DRYING):
        said.append(leave_words(sheet, book))
    elif sheet.waits_for:
        said.append(f"waits for {waits_words(sheet.waits_for, book)}")
    yield PanelLine("Sheet", sanitize("; ".join(said)))
    if sheet.record.also is not None:
        yield PanelLine("", sanitize(also_words(sheet.record.also)), wrong=True)


def caution_lines(reports: Iterable[SpaceReport]) -> list[PanelLine]:
    """The cautions for the materials of these spaces."""
    names = [name for report in reports for name in report.account.plan.materials]
    found = list(under_one_head(LABEL, map(str, cautions_for(names))))
    return found or [PanelLine(LABEL, "no materials are named, so there are no cautions")]


def tally_lines(tallies: list[Tally], book: Book) -> list[PanelLine]:
    """The small work in colour, gathering by gathering."""
    lines = [
        PanelLine("Tally", "small work in colour besides the spaces, to be noted at the foot of each gathering's end")
    ]
    for each in tallies:
        where = f"foot of {book.named(each.foot)}: " if each.foot is not None else "no page yet: "
        head = f"gath. {each.gathering}" if each.gathering is not None else ""
        lines.append(
            PanelLine(head, f"{where}{tally_words(each.counts)}; {each.written} of {each.total} on pages written")
        )
    return [*lines, PanelLine("In all", tally_words(total_of(tallies)))]
