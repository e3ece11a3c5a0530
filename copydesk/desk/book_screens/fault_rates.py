"""What the faults found tell, in figures and a plot: by hand, by kind, over the day, over a sitting."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from copydesk.book.common.phrases import decimal
from copydesk.book.common.text_table import laid_out
from copydesk.desk.base.book_screen import BookScreen
from copydesk.desk.widgets.braille_plot import RangePlot, RangeRow, draw_ranges, round_axis, spread
from copydesk.desk.widgets.plot_view import PlotView
from copydesk.tracking.checking.fault_rates_report import (
    RATES,
    FaultRates,
    band_words,
    fault_rate_rows,
    fault_rate_sentences,
    fault_rates,
)

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from textual.app import ComposeResult

    from copydesk.book.plan import Book
    from copydesk.tracking.checking.fault_rates import FaultRate


class RatePlot(NamedTuple):
    """Rates to be drawn: what they are by, and each one's name and rate."""

    by: str
    rates: tuple[tuple[str, FaultRate], ...]


def plots(told: FaultRates) -> list[RatePlot]:
    """What can be drawn: each way of looking at the faults that has anything to show."""
    ways = [
        RatePlot("hand", tuple(told.hands.items())),
        RatePlot("kind", tuple(told.kinds.items())),
        RatePlot("time of day", tuple((band_words(band, "h"), band.rate) for band in told.day)),
        RatePlot("minutes without a rest", tuple((band_words(band, "min"), band.rate) for band in told.sitting)),
    ]
    return [way for way in ways if way.rates]


def plot_sentence(way: RatePlot) -> str:
    """What a plot shows: the highest rate, and whether it may be chance that it is."""
    name, most = max(way.rates, key=lambda each: each[1].per_100)
    said = f"Faults in a hundred lines by {way.by}, each with its 90 % range. Most: {name}, {decimal(most.per_100, 2)}"
    others = [rate for other, rate in way.rates if other != name]
    if not others:
        return f"{said}."
    chance = any(rate.high >= most.low for rate in others)
    return f"{said}; {'the ranges overlap, so that may be chance' if chance else 'no other range reaches it'}."


class SlipsScreen(BookScreen):
    """Figures above, one plot below."""

    SCOPE = "slips"
    TOPIC = "faults"
    FOOT = ("plot",)
    CSS_PATH = "slips.tcss"

    _which: int | None = None

    def compose(self) -> ComposeResult:
        """The figures, what the plot shows in a sentence, the plot, and the keys."""
        yield Static(Content(" What faults tell"), id="title")
        with VerticalScroll(id="figures"):
            yield Static(id="said", markup=False)
        yield Static(id="says", markup=False)
        yield PlotView()
        yield from self.foot()

    def on_mount(self) -> None:
        """Show them."""
        self.renew()

    def show_book(self) -> None:
        """Show the figures as they stand now, and the plot in hand."""
        told = fault_rates(self.job.state)
        lines = [f" {sentence}" for sentence in fault_rate_sentences(told)]
        if told.lines:
            lines += ["", *_table(told, self.job.book)]
        self.show_text("#said", "\n".join(lines))
        self._draw(told)

    def idle_now(self) -> Collection[str]:
        """With one plot, or none, there is no other."""
        return ("plot",) if len(plots(fault_rates(self.job.state))) < 2 else ()

    def text_to_copy(self) -> str:
        """The figures."""
        return str(self.query_one("#said", Static).content)

    def _draw(self, told: FaultRates) -> None:
        view, ways = self.query_one(PlotView), plots(told)
        view.display = bool(ways)
        self.show_text("#says", "")
        if not ways:
            return
        if self._which is None:  # one row alone tells little
            self._which = next((at for at, way in enumerate(ways) if len(way.rates) > 1), 0)
        way = ways[self._which % len(ways)]
        self.show_text("#says", plot_sentence(way))
        rows = tuple(RangeRow(name, rate.per_100, rate.low, rate.high) for name, rate in way.rates)
        axis = round_axis(*spread([row.high for row in rows]))
        view.show(lambda width, height: draw_ranges(RangePlot(axis, rows), width, height))

    def action_plot(self) -> None:
        """Show the next plot."""
        self._which = (self._which or 0) + 1
        self.renew()


def _table(told: FaultRates, book: Book) -> Iterator[str]:
    rows = ((_label(by, name), *RATES.cells(rate, book)) for by, name, rate in fault_rate_rows(told))
    return (f" {row}" for row in laid_out(("", *RATES.headings()), rows))


def _label(by: str, name: str) -> str:
    return f"{by} {name}" if by in ("hand", "kind") else name if by == "hand, kind" else f"{by}, {name}"
