"""All gatherings, a line each: how far each has come."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.content import Content
from textual.screen import Screen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from copydesk.book.page import Page, Side
from copydesk.ledger.gathering_report import gathering_reports

if TYPE_CHECKING:
    from textual.app import ComposeResult
    from textual.binding import BindingType

    from copydesk.ledger.gathering_report import GatheringReport

_HEAD = " gathering   leaves      sheets   written   checked   faults   spaces   hands"


class OverviewScreen(Screen[Page | None]):
    """A list of the gatherings; enter goes to the one chosen."""

    CSS_PATH = "overview.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [("escape,q,o", "back", "back")]

    def __init__(self, page: Page) -> None:
        super().__init__()
        self._page = page

    def compose(self) -> ComposeResult:
        """The list."""
        standing = self.app.job.standing  # type: ignore[attr-defined]
        self._reports = gathering_reports(standing)
        yield Static(Content(f" {standing.book.title}"), id="title")
        yield Static(Content(_HEAD), id="heads")
        yield OptionList(*(Option(Content(_row(report))) for report in self._reports))
        yield Static(Content(_total(self._reports)), id="total")
        yield Static(Content(" enter goes there, escape goes back"), id="how")

    def on_mount(self) -> None:
        """Begin on the gathering one comes from."""
        options = self.query_one(OptionList)
        options.focus()
        for at, report in enumerate(self._reports):
            if report.first <= self._page.leaf <= report.last:
                options.highlighted = at

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Go to the first page of the gathering that is not done."""
        report = self._reports[event.option_index]
        self.dismiss(report.first_open or Page(max(report.first, 1), Side.RECTO))

    def action_back(self) -> None:
        """Go back to where one was."""
        self.dismiss(None)


def _row(report: GatheringReport) -> str:
    leaves = f"{report.first} to {report.last}" if report.leaves else "none"
    done = f"{report.written}/{report.pages}"
    checked = f"{report.corrected}/{report.pages}"
    width = 10
    filled = report.written * width // report.pages if report.pages else 0
    meter = "█" * filled + "·" * (width - filled)
    return (
        f" {report.number:>5}       {leaves:<11} {report.sheets:>4}   {done:>7}   {checked:>7}   {report.faults:>6}"
        f"   {report.spaces:>6}   {report.hands:<6} {meter}"
    )


def _total(reports: list[GatheringReport]) -> str:
    pages = sum(report.pages for report in reports)
    written = sum(report.written for report in reports)
    corrected = sum(report.corrected for report in reports)
    return f" {written} of {pages} pages written, {corrected} checked and settled"
