"""The plots of a book's progress: what each draws of the series, and in a sentence what it shows. No Textual here."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.phrases import capital, count_of, grouped, listed
from copydesk.desk.widgets.braille_plot import (
    Axis,
    Plot,
    PlotLine,
    PlotMarks,
    Stroke,
    Tick,
    day_axis,
    round_axis,
    spread,
    ticks_for,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from datetime import date

    from copydesk.tracking.planning.pace_series import Day, PaceSeries


_SIGNS = "●○◆◇▲△■□"
"""One for each hand, the hands in their order."""

_MOST_LABELS = 8


class PlotKind(NamedTuple):
    """One of the plots: its title, what it draws in so many cells across and down, and what it shows in a sentence.

    ``missing`` says why there is nothing to see yet; empty where there is.
    """

    title: str
    plot: Callable[[PaceSeries, date, int, int], Plot]
    says: Callable[[PaceSeries, date], str]
    missing: Callable[[PaceSeries], str]


def pages_plot(series: PaceSeries, today: date, width: int, height: int) -> Plot:
    """Pages written, against the plan and the way ahead."""
    pages = series.pages
    drawn = (
        PlotLine("plan", "planned", Stroke.DOTTED, _points(pages.plan)),
        PlotLine("", "expected", Stroke.DASHED, _points(pages.early)),
        PlotLine("80 % range", "expected", Stroke.DASHED, _points(pages.late)),
        PlotLine("expected", "expected", Stroke.SOLID, _points(pages.expected)),
        PlotLine("written", "done", Stroke.SOLID, _points(pages.written)),
    )
    days = [each.day for way in (pages.written, pages.plan, pages.late, pages.expected) for each in way] or [today]
    axis = day_axis(min(days), max(*days, today), today, width)
    up = round_axis(0, max(pages.total, 1), whole=True, ticks=ticks_for(height))
    return Plot(axis, up, tuple(line for line in drawn if line.points))


def pages_sentence(series: PaceSeries, today: date) -> str:
    """How many pages are written, beside what the plan asks for by today."""
    pages = series.pages
    done = int(pages.written[-1].value) if pages.written else 0
    said = f"{grouped(done)} of {count_of(pages.total, 'page')} {'is' if done == 1 else 'are'} written"
    if not pages.plan:
        return f"{said}; no due date is set, so there is no plan to compare with."
    return f"{said}; the plan asks for {grouped(round(_planned_by(pages.plan, today)))} by today."


def _planned_by(plan: Sequence[Day], today: date) -> float:
    before = [each for each in plan if each.day <= today]
    return before[-1].value if before else 0.0


def hands_plot(series: PaceSeries, today: date, width: int, height: int) -> Plot:
    """Lines an hour at each sitting, hand by hand, and the pace of each in the forecast."""
    drawn: list[PlotLine | PlotMarks] = []
    for at, hand in enumerate(series.hands):
        first = min(each.day for each in hand.sittings).toordinal()
        points = ((float(first), hand.pace), (float(today.toordinal()), hand.pace))
        drawn.append(PlotLine("", "expected", Stroke.DOTTED, points))
        label = f"{hand.hand}, {hand.pace:.0f} lines an hour"
        tone, sign = "done" if at % 2 == 0 else "expected", _SIGNS[at % len(_SIGNS)]
        drawn.append(PlotMarks(label, tone, sign, _points(hand.sittings)))
    days = [each.day for hand in series.hands for each in hand.sittings] or [today]
    values = [each.value for hand in series.hands for each in hand.sittings]
    up = round_axis(*spread(values), ticks=ticks_for(height))
    return Plot(day_axis(min(days), max(*days, today), today, width), up, tuple(drawn))


def hands_sentence(series: PaceSeries, _today: date) -> str:
    """How fast each hand writes."""
    said = [
        f"{hand.hand} {'writes ' if not at else ''}{hand.pace:.0f} lines an hour over "
        f"{count_of(len(hand.sittings), 'sitting')}"
        for at, hand in enumerate(series.hands)
    ]
    return f"{listed(said)}."


def drift_plot(series: PaceSeries, _today: date, _width: int, height: int) -> Plot:
    """How far the text is ahead of the first plan, or behind it, page by page."""
    points = [(float(each.page.index), each.lines) for each in series.drift]
    ahead = tuple(point for point in points if point[1] >= 0)
    behind = tuple(point for point in points if point[1] < 0)
    places = [x for x, _ in points] or [0.0]
    first, last = min(places), max(*places, min(places) + 1)
    chosen = series.drift[:: max(-(-len(series.drift) // _MOST_LABELS), 1)]
    axis = Axis(first, last, tuple(Tick(each.page.index, each.label) for each in chosen))
    most = max((abs(y) for _, y in points), default=0.0) * 1.05 or 1.0
    zero = PlotLine("", "planned", Stroke.DOTTED, ((first, 0.0), (last, 0.0)))
    signs = (PlotMarks("ahead of the first plan", "done", "●", ahead), PlotMarks("behind it", "wrong", "○", behind))
    return Plot(
        axis, round_axis(-most, most, ticks=ticks_for(height)), (zero, *(each for each in signs if each.points))
    )


def drift_sentence(series: PaceSeries, _today: date) -> str:
    """Where the text stands now, and where it was furthest off."""
    last, furthest = series.drift[-1], max(series.drift, key=lambda each: abs(each.lines))
    said = f"{last.label} ends {_off(last.lines)} the first plan"
    return f"{capital(said)}; furthest off is {furthest.label}, {_off(furthest.lines)} it."


def _off(lines: float) -> str:
    return f"{count_of(round(abs(lines), 1), 'line')} {'behind' if lines < 0 else 'ahead of'}"


PLOTS = (
    PlotKind("Pages written, against the plan", pages_plot, pages_sentence, lambda _series: ""),
    PlotKind(
        "Lines an hour by hand, sitting by sitting",
        hands_plot,
        hands_sentence,
        lambda series: (
            "" if series.hands else "No sitting is timed yet: run the stint clock, or give minutes with a page."
        ),
    ),
    PlotKind(
        "Drift: lines ahead of the first plan, or behind it, page by page",
        drift_plot,
        drift_sentence,
        lambda series: "" if series.drift else "No page is written whole yet.",
    ),
)
"""The plots, in the order in which one goes through them."""


def _points(way: Sequence[Day]) -> tuple[tuple[float, float], ...]:
    return tuple((float(each.day.toordinal()), each.value) for each in way)
