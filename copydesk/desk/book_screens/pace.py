"""How the work goes on: the forecast in sentences, and three plots one goes through."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.color import Color
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Static

from copydesk.desk.base.book_screen import BookScreen
from copydesk.desk.widgets.plots import PLOTS, Inks, nothing_to_plot
from copydesk.tracking.fit.book_end import end_of_book
from copydesk.tracking.planning.outlook import outlook, outlook_sentences
from copydesk.tracking.planning.pace_series import pace_series

if TYPE_CHECKING:
    from textual.app import ComposeResult


class PaceScreen(BookScreen):
    """Pace and forecast."""

    SCOPE = "pace"
    TOPIC = "pace"
    FOOT = ("next", "before", "all.back", "all.help")
    CSS_PATH = "pace.tcss"

    plot_at = 0

    def compose(self) -> ComposeResult:
        """The forecast, the plot's title, the plot, and the keys."""
        from textual_plotext import PlotextPlot

        with Vertical(id="pace"):
            yield Static(id="forecast", markup=False)
            yield Static(id="title", markup=False)
            yield Static(id="nothing", markup=False)
            yield PlotextPlot(id="plot")
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
        from textual_plotext import PlotextPlot

        kind, plot = PLOTS[self.plot_at], self.query_one(PlotextPlot)
        where = f"{self.plot_at + 1} of {len(PLOTS)}"
        self.show_text("#title", f" {kind.title} ({where})")
        nothing = nothing_to_plot(self._series, self.plot_at)
        empty = self.query_one("#nothing", Static)
        empty.update(Content(f" {nothing}"))
        empty.display = bool(nothing)
        plot.display = not nothing
        if not nothing:
            plot.plt.clear_figure()
            kind.draw(plot.plt, self._series, self._inks(), self._seen.today)
            plot.refresh()

    def _inks(self) -> Inks:
        """The look's own colours."""
        theme = self.app.current_theme
        given = (theme.foreground, theme.secondary, theme.primary, theme.error)
        colours = [Color.parse(colour or "#808080") for colour in given]
        done, planned, expected, wrong = ((each.r, each.g, each.b) for each in colours)
        return Inks(done, planned, expected, wrong)

    def action_plot(self, step: int) -> None:
        """Go to the next plot, or the one before."""
        self.plot_at = (self.plot_at + step) % len(PLOTS)
        self._draw()
