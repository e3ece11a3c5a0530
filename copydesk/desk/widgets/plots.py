"""The plots of a book's progress: series in, drawn on what the plotting library gives. No Textual here.

Lines differ in their signs, so that they are told apart without colour.
"""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Any, NamedTuple

from copydesk.book.common.phrases import say_short

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from copydesk.tracking.planning.pace_series import Burn, Day, Drift, HandPace, PaceSeries


Colour = tuple[int, int, int]

_TICKS = 6


class Inks(NamedTuple):
    """The colours of the plots: what was done, what is planned, what is expected, what is wrong."""

    done: Colour
    planned: Colour
    expected: Colour
    wrong: Colour


class PlotKind(NamedTuple):
    """One of the plots: its title, and what draws it."""

    title: str
    draw: Callable[[Any, PaceSeries, Inks, date], None]


def draw_burn(plot: Any, series: PaceSeries, inks: Inks, today: date) -> None:
    """Pages written, against the plan and the way ahead."""
    burn: Burn = series.burn
    _way(plot, burn.plan, "·", inks.planned, "the plan")
    for way, label in ((burn.early, ""), (burn.late, "four times in five")):
        _way(plot, way, "-", inks.expected, label)
    _way(plot, burn.expected, "+", inks.expected, "expected")
    _way(plot, burn.written, "█", inks.done, "written")
    days = [each.day for way in (burn.written, burn.plan, burn.late, burn.expected) for each in way]
    _day_ticks(plot, days, today)
    _whole_ticks(plot, max(burn.total, 1))


def draw_paces(plot: Any, series: PaceSeries, inks: Inks, today: date) -> None:
    """Lines an hour at each sitting, hand by hand, and the pace each is reckoned at."""
    hands: Sequence[HandPace] = series.hands
    colours = (inks.done, inks.expected, inks.planned, inks.wrong)
    for at, hand in enumerate(hands):
        colour = colours[at % len(colours)]
        days = [each.day.toordinal() for each in hand.sittings]
        values = [each.value for each in hand.sittings]
        plot.scatter(days, values, marker=hand.hand[:1] or "o", color=colour, label=f"{hand.hand} {hand.pace:.0f}")
        plot.plot([min(days), today.toordinal()], [hand.pace, hand.pace], marker="·", color=colour)
    _day_ticks(plot, [each.day for hand in hands for each in hand.sittings], today)
    most = max((each.value for hand in hands for each in hand.sittings), default=1.0)
    _whole_ticks(plot, int(most * 1.1) + 1)


def draw_drift(plot: Any, series: PaceSeries, inks: Inks, _today: date) -> None:
    """How far the text is ahead of the first plan, or behind it, page by page."""
    drift: Sequence[Drift] = series.drift
    places = [each.page.index for each in drift]
    ahead = [(at, each.lines) for at, each in zip(places, drift, strict=True) if each.lines >= 0]
    behind = [(at, each.lines) for at, each in zip(places, drift, strict=True) if each.lines < 0]
    for points, marker, colour, label in ((ahead, "+", inks.done, "ahead"), (behind, "-", inks.wrong, "behind")):
        if points:
            plot.scatter([at for at, _ in points], [y for _, y in points], marker=marker, color=colour, label=label)
    if places:
        plot.plot([min(places), max(places)], [0, 0], marker="·", color=inks.planned)
        chosen = places[:: max(len(places) // _TICKS, 1)]
        plot.xticks(chosen, [each.label for each in drift if each.page.index in chosen])
    most = int(max((abs(each.lines) for each in drift), default=0.0)) + 1
    _whole_ticks(plot, most, -most)


PLOTS = (
    PlotKind("Pages written, against the plan", draw_burn),
    PlotKind("Pace by hand, sitting by sitting", draw_paces),
    PlotKind("Drift: lines ahead of the first plan, or behind it, page by page", draw_drift),
)
"""The plots, in the order in which one goes through them."""


def nothing_to_plot(series: PaceSeries, at: int) -> str:
    """Why there is nothing to see on a plot yet; empty where there is."""
    if at == 1 and not series.hands:
        return "No sitting is timed yet: run the stint clock (S), or give minutes with a page (e)."
    if at == 2 and not series.drift:
        return "No page is written whole yet."
    return ""


def _way(plot: Any, way: Sequence[Day], marker: str, colour: Colour, label: str) -> None:
    if way:
        days, values = [each.day.toordinal() for each in way], [each.value for each in way]
        plot.plot(days, values, marker=marker, color=colour, label=label or None)


def _whole_ticks(plot: Any, most: int, least: int = 0) -> None:
    """Whole numbers up the side of a plot."""
    step = max(-(-(most - least) // _TICKS), 1)
    plot.ylim(least, most)
    chosen = list(range(-(-least // step) * step, most + 1, step))
    plot.yticks(chosen, [str(at) for at in chosen])


def _day_ticks(plot: Any, days: Sequence[date], today: date) -> None:
    """A few days along the foot of a plot."""
    if not days:
        return
    first, last = min(days).toordinal(), max(*days, today).toordinal()
    step = max((last - first) // _TICKS, 1)
    chosen = list(range(first, last + 1, step))
    plot.xticks(chosen, [say_short(date.fromordinal(at), today) for at in chosen])
