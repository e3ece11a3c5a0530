"""How the work goes on, on paper: pages written against the plan, pace by hand, drift, with the forecast above."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.ledger.book_end import end_of_book
from copydesk.ledger.outlook import outlook
from copydesk.ledger.outlook_words import RANGES, outlook_sentences
from copydesk.ledger.pace_series import pace_series
from copydesk.papers.chart import HEIGHT, WIDTH, burn_chart, drift_chart, pace_chart
from copydesk.papers.drawing import Drawing, Mark, Words, lowered
from copydesk.papers.svg import svg_of

if TYPE_CHECKING:
    from copydesk.papers.catalogue import Order

_TITLE, _LEADING, _GAP = 8.0, 5.0, 12.0
_SIZE, _TITLE_SIZE = 3.2, 4.6


def printed(order: Order) -> bytes:
    """Make it: the sentences as text, or with the charts as SVG."""
    standing, today = order.job.standing, order.job.clock().date()
    end = end_of_book(standing)
    seen = outlook(standing, today, end.chance_text_fits)
    title = f"{standing.book.title}: the work on {today.isoformat()}"
    told = [*outlook_sentences(seen, end), RANGES]
    if order.form == "text":
        return "\n".join([title, *told, ""]).encode()
    series = pace_series(standing, seen)
    marks: list[Mark] = [Words(0.0, _TITLE, title, _TITLE_SIZE, "start", strong=True)]
    y = _TITLE + _LEADING
    for sentence in told:
        y += _LEADING
        head, _, says = sentence.partition("  ")
        marks.append(Words(0.0, y, f"{head}: {says.strip()}" if says else head, _SIZE, "start"))
    for chart in (burn_chart(series.burn, today), pace_chart(series.hands, today), drift_chart(series.drift)):
        y += _GAP
        marks += (lowered(mark, y) for mark in chart)
        y += HEIGHT
    return svg_of(Drawing(title, WIDTH, y + _GAP, tuple(marks))).encode()
