"""Spaces and sheets in words, for the screen, the artist's list and the command line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of
from copydesk.book.common.sanitize import plain
from copydesk.book.common.units import AS_MEASURED, Unit, show_size
from copydesk.tracking.views.sheet_pile import leave_words

if TYPE_CHECKING:
    from collections.abc import Iterable

    from copydesk.book.layout.page_frame import Placement
    from copydesk.book.plan import Book
    from copydesk.tracking.decoration.space_report import Group, Progress, SpaceReport
    from copydesk.tracking.views.space_view import SpaceAccount


def where_words(account: SpaceAccount, book: Book) -> str:
    """Where a space stands, in short: ``3v col. 1 l. 5-16``; ``no page`` where it stands nowhere."""
    placement = _on_lines(account)
    if account.page is None:
        return "no page"
    if placement is None:
        return book.named(account.page)
    column = "all col." if placement.column == 0 else f"col. {placement.column}"
    last = placement.from_line + placement.lines - 1
    return f"{book.named(account.page)} {column} l. {placement.from_line}{f'-{last}' if placement.lines > 1 else ''}"


def place_words(account: SpaceAccount, book: Book) -> str:
    """The same at length: ``3v, column 1, lines 5 to 16``."""
    placement = _on_lines(account)
    if account.page is None:
        return "on no page"
    if placement is None:
        return book.named(account.page)
    column = "all columns" if placement.column == 0 else f"column {placement.column}"
    last = placement.from_line + placement.lines - 1
    lines = f"lines {placement.from_line} to {last}" if placement.lines > 1 else f"line {placement.from_line}"
    return f"{book.named(account.page)}, {column}, {lines}"


def _on_lines(account: SpaceAccount) -> Placement | None:
    """The lines of its page a space stands on; None where it stands on none of its own, as a border does."""
    placement = account.placement
    return placement if placement and placement.from_line and account.plan.kind != "border" else None


def size_words(account: SpaceAccount, unit: Unit = "mm") -> str:
    """A space's size: ``53 × 66 mm``; a border's is that of the page."""
    size = show_size(account.width, account.height, unit, AS_MEASURED[unit])
    return f"page {size}" if account.plan.kind == "border" else size


def lines_words(account: SpaceAccount) -> str:
    """The ruled lines a space takes: ``12 lines``; nothing for one that takes none."""
    lines = account.placement.lines if account.placement is not None else account.plan.lines
    return count_of(lines, "line") if lines else ""


def hours_words(hours: float) -> str:
    """``about 3.5 hours``; nothing for none."""
    return f"about {count_of(round(hours, 1), 'hour')}" if hours else ""


def group_line(group: Group, book: Book) -> str:
    """The heading of a group: its title, how many spaces wait, hours, and for a sheet whether it may leave."""
    waiting = sum(report.waiting for report in group.reports)
    said = [group.title]
    if group.title.startswith("Sheet ") and group.reports[0].sheet is not None:
        said.append(leave_words(group.reports[0].sheet, book))
    elif waiting > 1:
        said.append(f"{waiting} spaces")
    hours = hours_words(group.hours)
    return ": ".join((said[0], ", ".join(part for part in (*said[1:], hours) if part))).rstrip(": ")


def progress_words(stages: Iterable[Progress]) -> str:
    """How far each stage has come: ``drawn 5 of 22, gilded 2 of 9``."""
    return ", ".join(f"{each.stage} {each.done} of {each.needed}" for each in stages) or "no stages"


def about_words(report: SpaceReport) -> str:
    """What a space is: kind, guide letter, subject, instruction."""
    plan = report.account.plan
    letter = f' for "{plan.guide_letter}"' if plan.guide_letter else ""
    by = f"by {plan.artist}" if plan.artist else ""
    parts = (f"{plan.kind}{letter}", plan.subject, plan.instruction, by)
    return plain("; ".join(part for part in parts if part))
