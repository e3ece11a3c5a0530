"""All gatherings, a line each: how far each has come."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.content import Content
from textual.widgets import OptionList, Static

from copydesk.book.structure.page import Page, Side
from copydesk.desk.base.book_screen import BookScreen
from copydesk.desk.base.keys import bindings
from copydesk.tracking.fit.book_end import end_of_book
from copydesk.tracking.planning.outlook import end_words
from copydesk.tracking.views.gathering_progress import gathering_reports

if TYPE_CHECKING:
    from textual.app import ComposeResult
    from textual.binding import BindingType

    from copydesk.book.plan import Book
    from copydesk.tracking.views.gathering_progress import GatheringReport


_HEAD = " gathering  leaves     sheets  written  checked  faults  spaces  hands"


class OverviewScreen(BookScreen):
    """A list of the gatherings; enter goes to the one chosen."""

    SCOPE = "overview"
    TOPIC = "overview"
    CHOOSES = "go"
    CSS_PATH = "overview.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("overview"), ("o", "back", "back")]

    def compose(self) -> ComposeResult:
        """The list."""
        yield Static(Content(f" {self.job.book.title}"), id="title")
        yield Static(Content(_HEAD), id="heads")
        yield OptionList()
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
    done = f"{report.written}/{report.pages}"
    checked = f"{report.corrected}/{report.pages}"
    width = 6
    filled = report.written * width // report.pages if report.pages else 0
    meter = "█" * filled + "·" * (width - filled)
    return (
        f" {report.number:>9}  {leaves:<10} {report.sheets:>6} {done:>8} {checked:>8} {report.faults:>7}"
        f" {report.spaces:>7}  {report.hands:<5} {meter}"
    )


def _total(reports: list[GatheringReport]) -> str:
    pages = sum(report.pages for report in reports)
    written = sum(report.written for report in reports)
    corrected = sum(report.corrected for report in reports)
    return f" {written} of {pages} pages written, {corrected} checked and settled"
