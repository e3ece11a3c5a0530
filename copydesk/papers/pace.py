"""How the work goes on, on paper: pages written against the plan, pace by hand, drift, with the forecast above."""

from __future__ import annotations

from datetime import date
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.phrases import decimal, say_day, say_short
from copydesk.papers.drawing.shapes import Align, Drawing, DrawnLine, Mark, Pen, Ring, Words, lowered
from copydesk.papers.paper_forms import drawn
from copydesk.tracking.fit.book_end import end_of_book
from copydesk.tracking.planning.outlook import RANGES, outlook, outlook_sentences
from copydesk.tracking.planning.pace_series import pace_series

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from copydesk.papers.paper_forms import PaperRequest
    from copydesk.tracking.planning.pace_series import Day, Drift, HandPace, PaceSeries, PagesWritten


WIDTH, HEIGHT = 180.0, 64.0
"""Of one chart, in mm, as all lengths here."""

_TITLE, _LEADING, _GAP = 8.0, 5.0, 12.0
_HEAD_SIZE, _SENTENCE_SIZE = 4.6, 3.2
_LEFT, _TOP, _RIGHT, _BOTTOM = 12.0, 7.0, 4.0, 7.0
_SIZE, _TITLE_SIZE = 2.6, 3.6
_TICKS = 6
_DOT = 0.7
_KEY = 16.0
"""From the right edge to the ring that says which hand a pace is."""

DONE: Pen = "edge"
PLANNED: Pen = "crease"
EXPECTED: Pen = "cut"
RANGE: Pen = "flaw"
_AXIS: Pen = "bounding"


def printed(order: PaperRequest) -> bytes:
    """Make it: the sentences as text, or with the charts as SVG."""
    state, today = order.job.state, order.job.clock().date()
    end = end_of_book(state)
    seen = outlook(state, today, end.chance_text_fits)
    title = f"{state.book.title}: the work on {say_day(today)}"
    told = [*outlook_sentences(seen, end), RANGES]
    return drawn(order, lambda: [_drawing(title, told, pace_series(state, seen), today)], lambda: [title, *told])


def _drawing(title: str, told: Sequence[str], series: PaceSeries, today: date) -> Drawing:
    marks: list[Mark] = [Words(0.0, _TITLE, title, _HEAD_SIZE, "start", strong=True)]
    y = _TITLE + _LEADING
    for sentence in told:
        y += _LEADING
        head, _, says = sentence.partition("  ")
        marks.append(Words(0.0, y, f"{head}: {says.strip()}" if says else head, _SENTENCE_SIZE, "start"))
    for chart in (pages_chart(series.pages, today), pace_chart(series.hands, today), drift_chart(series.drift)):
        y += _GAP
        marks += (lowered(mark, y) for mark in chart)
        y += HEIGHT
    return Drawing(title, WIDTH, y + _GAP, tuple(marks))


class ChartScale(NamedTuple):
    """What the chart's field stands for: from left to right, and from its foot up."""

    left: float
    right: float
    least: float
    most: float

    def x(self, value: float) -> float:
        """Millimetres from the chart's left edge."""
        return _LEFT + (value - self.left) / max(self.right - self.left, 1e-9) * (WIDTH - _LEFT - _RIGHT)

    def y(self, value: float) -> float:
        """Millimetres from the chart's upper edge."""
        field = HEIGHT - _TOP - _BOTTOM
        return _TOP + field - (value - self.least) / max(self.most - self.least, 1e-9) * field


def pages_chart(pages: PagesWritten, today: date) -> list[Mark]:
    """Pages written day by day, the plan's line, and the way ahead with its range."""
    ways: tuple[tuple[Sequence[Day], Pen, str], ...] = (
        (pages.plan, PLANNED, "the plan"),
        (pages.early, RANGE, ""),
        (pages.late, RANGE, "80 % range"),
        (pages.expected, EXPECTED, "expected"),
        (pages.written, DONE, "written"),
    )
    days = [each.day for way, _, _ in ways for each in way] or [today]
    scale = ChartScale(min(days).toordinal(), max(*days, today).toordinal(), 0, max(pages.total, 1))
    marks = [*_field("Pages written, against the plan", scale), *_days(scale, today)]
    for way, pen, _ in ways:
        marks += _way(scale, [(each.day.toordinal(), each.value) for each in way], pen)
    return [*marks, *_key([(pen, says) for way, pen, says in ways if says and way])]


def pace_chart(hands: Sequence[HandPace], today: date) -> list[Mark]:
    """Lines an hour at each sitting, each hand in a line of its own, and its pace in the forecast."""
    days = [each.day for hand in hands for each in hand.sittings] or [today]
    most = max((each.value for hand in hands for each in hand.sittings), default=1.0)
    scale = ChartScale(min(days).toordinal(), max(*days, today).toordinal(), 0, most * 1.1)
    marks = [*_field("Lines an hour by hand, sitting by sitting", scale), *_days(scale, today)]
    for at, hand in enumerate(hands):
        pen, size = (DONE, EXPECTED, RANGE)[at % 3], _DOT * (1 + at // 3)
        for each in hand.sittings:
            marks.append(Ring(scale.x(each.day.toordinal()), scale.y(each.value), size, pen))
        first = min(each.day for each in hand.sittings).toordinal()
        marks += _way(scale, [(first, hand.pace), (scale.right, hand.pace)], PLANNED)
        marks.append(Ring(WIDTH - _RIGHT - _KEY, scale.y(hand.pace) - 1.9, size, pen))
        marks.append(Words(WIDTH - _RIGHT, scale.y(hand.pace) - 1, f"{hand.hand} {hand.pace:.0f}", _SIZE, "end"))
    return marks


def drift_chart(drift: Sequence[Drift]) -> list[Mark]:
    """Lines by which each written page ends ahead of the first plan, or behind it."""
    places = [each.page.index for each in drift] or [0]
    most = max((abs(each.lines) for each in drift), default=0.0) or 1.0
    scale = ChartScale(min(places), max(*places, min(places) + 1), -most, most)
    marks = _field("Drift: lines ahead of the first plan (up), or behind it", scale)
    marks.append(DrawnLine(_LEFT, scale.y(0), WIDTH - _RIGHT, scale.y(0), PLANNED))
    for each in drift:
        pen = DONE if each.lines >= 0 else EXPECTED
        marks.append(Ring(scale.x(each.page.index), scale.y(each.lines), _DOT, pen))
    for each in drift[:: max(len(drift) // _TICKS, 1)]:
        marks.append(Words(scale.x(each.page.index), HEIGHT - 2, each.label, _SIZE, "middle"))
    return marks


def _field(title: str, scale: ChartScale) -> list[Mark]:
    """The title, the two axes, and numbers up the left one."""
    foot = HEIGHT - _BOTTOM
    marks: list[Mark] = [
        Words(0.0, 3.6, title, _TITLE_SIZE, "start", strong=True),
        DrawnLine(_LEFT, _TOP, _LEFT, foot, _AXIS),
        DrawnLine(_LEFT, foot, WIDTH - _RIGHT, foot, _AXIS),
    ]
    for value in _round_numbers(scale.least, scale.most):
        y = scale.y(value)
        marks += [DrawnLine(_LEFT - 1, y, _LEFT, y, _AXIS), Words(_LEFT - 2, y + 0.9, decimal(value), _SIZE, "end")]
    return marks


def _round_numbers(least: float, most: float) -> Iterator[float]:
    """A few round numbers between two."""
    step = next((each for each in (0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500) if (most - least) / each <= _TICKS), 1000)
    at = -(-least // step) * step
    while at <= most:
        yield at
        at += step


def _days(scale: ChartScale, today: date) -> Iterator[Mark]:
    first, last = int(scale.left), int(scale.right)
    step = max((last - first) // _TICKS, 1)
    for at in range(first, last + 1, step):
        x = scale.x(at)
        yield DrawnLine(x, HEIGHT - _BOTTOM, x, HEIGHT - _BOTTOM + 1, _AXIS)
        align: Align = "middle" if x < WIDTH - _LEFT else "end"
        yield Words(x, HEIGHT - 2, say_short(date.fromordinal(at), today), _SIZE, align)


def _way(scale: ChartScale, points: Sequence[tuple[float, float]], pen: Pen) -> Iterator[Mark]:
    for (x1, y1), (x2, y2) in pairwise(points):
        yield DrawnLine(scale.x(x1), scale.y(y1), scale.x(x2), scale.y(y2), pen)


def _key(told: Sequence[tuple[Pen, str]]) -> Iterator[Mark]:
    """What each line is, in the upper left of the field."""
    for at, (pen, says) in enumerate(told):
        y = _TOP + 3 + 4 * at
        yield DrawnLine(_LEFT + 3, y - 0.9, _LEFT + 11, y - 0.9, pen)
        yield Words(_LEFT + 13, y, says, _SIZE, "start")
