"""All gatherings, a line each: how far each has come."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import OptionList, Static

from copydesk.book.common.phrases import count_of, grouped
from copydesk.book.structure.page import Page, Side
from copydesk.desk.base.book_screen import BookScreen
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.desk.widgets.pick_list import PickList
from copydesk.desk.wording.desk_panel_words import waiting_lines
from copydesk.tracking.fit.book_end import end_of_book
from copydesk.tracking.planning.outlook import end_words
from copydesk.tracking.views.gathering_progress import GATHERINGS, book_glance, gathering_reports

if TYPE_CHECKING:
    from textual.app import ComposeResult

    from copydesk.tracking.views.gathering_progress import GatheringReport


_COLUMNS = ("gathering", "leaves", "written", "checked", "corrected", "painted", "faults", "hands")


class OverviewScreen(BookScreen):
    """A list of the gatherings; enter goes to the one chosen."""

    SCOPE = "overview"
    TOPIC = "overview"
    CHOOSES = "go"
    CSS_PATH = "overview.tcss"
    FOOT = ("go",)
    VERTICAL_BREAKPOINTS = [(0, "-low"), (22, "-high")]  # noqa: RUF012 - as Textual declares it

    def compose(self) -> ComposeResult:
        """The list."""
        yield Static(Content(f" {self.job.book.title}"), id="title")
        yield Static(id="heads", markup=False)
        yield PickList()
        yield Static(id="total", markup=False)
        with VerticalScroll(id="told", can_focus=False):
            yield Static(id="whose", markup=False)
            yield LinesPanel(id="lines")
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
        heads, *rows = GATHERINGS.only(*_COLUMNS).laid_out(self._reports, self.job.book)
        self.show_text("#heads", f" {heads}")
        self.show_rows(Content(f" {row}") for row in rows)
        end = end_words(end_of_book(self.job.state))
        total = f"{_total(self._reports)}\n The text to its end: {end}."
        self.show_text("#total", total)
        self._show_waiting()

    def on_option_list_option_highlighted(self) -> None:
        """What waits follows the cursor."""
        self._show_waiting()

    def _show_waiting(self) -> None:
        """Tell which pages of the gathering in hand wait, and for what."""
        at = self.query_one(OptionList).highlighted
        if at is None or at >= len(self._reports):
            return
        report, state = self._reports[at], self.job.state
        waiting = waiting_lines(state, book_glance(state, range(max(2 * report.first - 2, 0), 2 * report.last)))
        said = "What waits in" if waiting else "Nothing waits in"
        self.show_text("#whose", f"{said} gathering {report.number}")
        self.query_one(LinesPanel).show_lines(waiting)

    def action_go(self) -> None:
        """Go to the first page of the gathering that is not done."""
        report = self._reports[self.query_one(OptionList).highlighted or 0]
        self.close(at=report.first_open or Page(max(report.first, 1), Side.RECTO))


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
