"""All gatherings, a line each: how far each has come."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content
from textual.widgets import OptionList, Static

from copydesk.book.common.phrases import count_of, grouped
from copydesk.book.common.sanitize import sanitize
from copydesk.book.structure.page import Page, Side
from copydesk.desk.base.book_screen import BookScreen
from copydesk.desk.widgets.pick_list import PickList
from copydesk.tracking.fit.book_end import end_of_book
from copydesk.tracking.planning.outlook import end_words
from copydesk.tracking.views.gathering_progress import gathering_reports

if TYPE_CHECKING:
    from textual.app import ComposeResult

    from copydesk.book.plan import Book
    from copydesk.tracking.views.gathering_progress import GatheringReport


_ROW = " {:>9}  {:<14} {:>6} {:>8} {:>8} {:>10} {:>8} {:>7}  {}"
_HEADS = ("gathering", "leaves", "sheets", "written", "checked", "corrected", "painted", "faults", "hands")


class OverviewScreen(BookScreen):
    """A list of the gatherings; enter goes to the one chosen."""

    SCOPE = "overview"
    TOPIC = "overview"
    CHOOSES = "go"
    CSS_PATH = "overview.tcss"
    FOOT = ("go",)

    def compose(self) -> ComposeResult:
        """The list."""
        yield Static(Content(f" {self.job.book.title}"), id="title")
        yield Static(Content(_ROW.format(*_HEADS)), id="heads")
        yield PickList()
        yield Static(id="total", markup=False)
        yield from self.foot()

    def on_mount(self) -> None:
        """Begin on the gathering one comes from."""
        self.renew()
        options = self.query_one(OptionList)
        options.focus()
        for at, report in enumerate(self._reports):
            if report.first <= self._from_page.leaf <= report.last:
                options.highlighted = at

    def show_book(self) -> None:
        """Show the gatherings as they stand now."""
        self._reports = gathering_reports(self.job.state)
        self.show_rows(Content(_row(report, self.job.book)) for report in self._reports)
        end = end_words(end_of_book(self.job.state))
        total = f"{_total(self._reports)}\n The text to its end: {end}."
        self.show_text("#total", total)

    def action_go(self) -> None:
        """Go to the first page of the gathering that is not done."""
        report = self._reports[self.query_one(OptionList).highlighted or 0]
        self.close(at=report.first_open or Page(max(report.first, 1), Side.RECTO))


def _row(report: GatheringReport, book: Book) -> str:
    number = str if book.signing.foliation == "pages" else book.number_of_leaf
    leaves = f"{number(report.first)} to {number(report.last)}" if report.leaves else "none"
    counts = (
        f"{report.written}/{report.pages}",
        f"{report.checked}/{report.pages}",
        f"{report.corrected}/{report.pages}",
        f"{report.painted}/{report.all_spaces}" if report.all_spaces else "",
        str(report.faults or ""),
    )
    return sanitize(_ROW.format(report.number, leaves, report.sheets, *counts, report.hands)).rstrip()


def _total(reports: list[GatheringReport]) -> str:
    pages, written, checked, corrected, painted, spaces = (
        sum(getattr(report, name) for report in reports)
        for name in ("pages", "written", "checked", "corrected", "painted", "all_spaces")
    )
    said = (
        f" {grouped(written)} of {count_of(pages, 'page')} written, {grouped(checked)} checked, "
        f"{grouped(corrected)} corrected"
    )
    return f"{said}; {grouped(painted)} of {count_of(spaces, 'space')} painted" if spaces else said
