"""How the work goes on: the forecast in sentences, and three plots one goes through."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Static

from copydesk.desk.base.book_screen import BookScreen
from copydesk.desk.widgets.braille_plot import draw_plot
from copydesk.desk.widgets.plot_view import PlotView
from copydesk.desk.widgets.plots import PLOTS
from copydesk.tracking.fit.book_end import end_of_book
from copydesk.tracking.planning.outlook import outlook, outlook_sentences
from copydesk.tracking.planning.pace_series import pace_series

if TYPE_CHECKING:
    from textual.app import ComposeResult


class PaceScreen(BookScreen):
    """Pace and forecast."""

    SCOPE = "pace"
    TOPIC = "pace"
    PAPER = "pace"
    FOOT = ("next", "before")
    CSS_PATH = "pace.tcss"

    plot_at = 0

    def compose(self) -> ComposeResult:
        """The forecast, the plot's title, what it shows in a sentence, the plot, and the keys."""
        yield Static(Content(" Pace and forecast"), id="title")
        with Vertical(id="pace"):
            yield Static(id="forecast", markup=False)
            yield Static(id="plot", markup=False)
            yield Static(id="says", markup=False)
            yield PlotView()
        yield from self.foot()

    def on_mount(self) -> None:
        """Show them."""
        self.renew()

    def show_book(self) -> None:
        """Show the forecast, and draw the plot anew."""
        state, today = self.job.state, self.job.clock().date()
        end = end_of_book(state)
        self._seen = outlook(state, today, end.chance_text_fits)
        self._series = pace_series(state, self._seen)
        told = "\n".join(f" {sentence}" for sentence in outlook_sentences(self._seen, end))
        self.show_text("#forecast", told)
        self._draw()

    def text_to_copy(self) -> str:
        """The forecast."""
        return str(self.query_one("#forecast", Static).content)

    def _draw(self) -> None:
        kind, view = PLOTS[self.plot_at], self.query_one(PlotView)
        series, today = self._series, self._seen.today
        self.show_text("#plot", f" {kind.title} ({self.plot_at + 1} of {len(PLOTS)})")
        missing = kind.missing(series)
        self.show_text("#says", missing or kind.says(series, today))
        view.display = not missing
        if not missing:
            view.show(lambda width, height: draw_plot(kind.plot(series, today, width, height), width, height))

    def action_plot(self, step: int) -> None:
        """Go to the next plot, or the one before."""
        self.plot_at = (self.plot_at + step) % len(PLOTS)
        self._draw()
