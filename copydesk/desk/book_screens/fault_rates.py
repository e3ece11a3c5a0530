"""What the faults found tell, in figures and a plot: by hand, by kind, over the day, over a sitting."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from copydesk.desk.base.book_screen import BookScreen
from copydesk.tracking.checking.fault_rates_report import (
    FaultRates,
    band_words,
    fault_rate_rows,
    fault_rate_sentences,
    fault_rates,
)

if TYPE_CHECKING:
    from textual.app import ComposeResult

    from copydesk.tracking.checking.fault_rates import FaultRate


class Plot(NamedTuple):
    """Bars to be drawn: what they are by, and each one's name and rate."""

    by: str
    bars: tuple[tuple[str, FaultRate], ...]


def plots(told: FaultRates) -> list[Plot]:
    """What can be drawn: each way of looking at the faults that has anything to show."""
    ways = [
        Plot("hand", tuple(told.hands.items())),
        Plot("kind", tuple(told.kinds.items())),
        Plot("time of day", tuple((band_words(band, "h"), band.rate) for band in told.day)),
        Plot("minutes without a rest", tuple((f"from {band.start:g}", band.rate) for band in told.sitting)),
    ]
    return [way for way in ways if way.bars]


class SlipsScreen(BookScreen):
    """Figures above, one plot below."""

    SCOPE = "slips"
    TOPIC = "faults"
    FOOT = ("plot", "all.back", "all.help")
    CSS_PATH = "slips.tcss"

    _which: int | None = None

    def compose(self) -> ComposeResult:
        """The figures, the plot, and the keys."""
        from textual_plotext import PlotextPlot

        yield Static(Content(" What the faults found tell"), id="title")
        with VerticalScroll(id="figures"):
            yield Static(id="said", markup=False)
        yield PlotextPlot()
        yield from self.foot()

    def on_mount(self) -> None:
        """Show them."""
        self.renew()

    def show_book(self) -> None:
        """Show the figures as they stand now, and the plot in hand."""
        told = fault_rates(self.job.state)
        lines = [f" {sentence}" for sentence in fault_rate_sentences(told)]
        if told.lines:
            lines += ["", f" {'':<34}{'faults':>7}{'lines':>7}{'in 100':>8}{'from':>7}{'to':>7}"]
            lines += [_row(by, name, rate) for by, name, rate in fault_rate_rows(told)]
        self.show_text("#said", "\n".join(lines))
        self._draw(told)

    def text_to_copy(self) -> str:
        """The figures."""
        return str(self.query_one("#said", Static).content)

    def _draw(self, told: FaultRates) -> None:
        from textual_plotext import PlotextPlot

        drawn = self.query_one(PlotextPlot)
        ways = plots(told)
        drawn.display = bool(ways)
        if not ways:
            return
        if self._which is None:  # one bar alone tells little
            self._which = next((at for at, way in enumerate(ways) if len(way.bars) > 1), 0)
        way = ways[self._which % len(ways)]
        plt, rates = drawn.plt, [rate for _, rate in way.bars]
        plt.clear_figure()
        plt.title(f"faults in a hundred lines, by {way.by}, each with its range")
        at = [float(number) for number in range(1, len(rates) + 1)]
        middle = [(rate.low + rate.high) / 2 for rate in rates]
        plt.error(at, middle, yerr=[rate.high - rate.low for rate in rates])
        plt.scatter(at, [rate.per_100 for rate in rates], marker="●")
        plt.xticks(at, [name for name, _ in way.bars])
        plt.xlim(0.5, len(rates) + 0.5)
        plt.ylim(0, 1.1 * max(rate.high for rate in rates))
        drawn.refresh()

    def action_plot(self) -> None:
        """Show the next plot."""
        self._which = (self._which or 0) + 1
        self.renew()


def _row(by: str, name: str, rate: FaultRate) -> str:
    label = f"{by} {name}" if by in ("hand", "kind") else name if by == "hand, kind" else f"{by}, {name}"
    return f" {label:<34}{rate.faults:>7}{rate.lines:>7}{rate.per_100:>8.2f}{rate.low:>7.2f}{rate.high:>7.2f}"
