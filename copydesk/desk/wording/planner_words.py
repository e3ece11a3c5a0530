"""What the planner's screen shows: a row for each figure that can be changed, and what follows in sentences. Pure."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.phrases import count_of, grouped, say_day
from copydesk.book.common.units import show_length, show_size
from copydesk.desk.wording.lines import PanelLine, under_one_head
from copydesk.tracking.planning.gathering_choices import say_sizes
from copydesk.tracking.planning.plan_figures import FIGURES, LETTERS, show_figure
from copydesk.tracking.planning.ways_report import outcome_advice
from copydesk.tracking.views.skin_order import days_words

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from datetime import date

    from copydesk.book.common.units import Unit
    from copydesk.tracking.planning.gathering_choices import Way
    from copydesk.tracking.planning.plan_figures import Sort, Trial
    from copydesk.tracking.planning.planner import Outcome
    from copydesk.tracking.views.skin_order import SkinDays


MOST_WAYS = 4
"""Ways told beside the figures; a key lists them all."""

READY_BY, AT_ONCE = "ready by", "at once"
"""The two rows that are not of the book file: the day the skins are wanted, and how many the bath holds."""


def title_words(title: str, begun: int) -> str:
    """What the screen is about: gatherings that are begun stay as they are ruled."""
    return f"{title}, {f'from gathering {begun + 1} on' if begun else 'the whole book'}: as planned, and as tried"


class FigureRow(NamedTuple):
    """One figure of the table: its name, what people call it, as planned and now, and what is tried.

    ``value`` and ``sort`` are None for the two rows that are not of the book file.
    """

    name: str
    says: str
    planned: str
    now: str
    value: float | None = None
    sort: Sort | None = None

    @property
    def is_tried(self) -> bool:
        """Whether another value than the planned one is tried."""
        return self.planned != self.now


def figure_rows(base: Outcome, outcome: Outcome | None, trial: Trial, own_sheets: int) -> list[FigureRow]:
    """The rows of the book's figures; where the trial is impossible, those tried show what was asked."""
    shown, unit = outcome or base, base.book.unit
    rows = []
    for figure in FIGURES:
        planned = figure.value(base.book, base.layout)
        now = trial.figures.get(figure.name, figure.value(shown.book, shown.layout))
        if figure.name == "sheets":
            planned, now = planned or own_sheets, now or own_sheets
        texts = (show_figure(figure.sort, planned, unit), show_figure(figure.sort, now, unit))
        rows.append(FigureRow(figure.name, figure.says, *texts, now, figure.sort))
    for hand, letters in base.letters.items():
        texts = (show_figure("letters", letters, unit), show_figure("letters", shown.letters[hand], unit))
        rows.append(FigureRow(f"{LETTERS}.{hand}", f"letters a line, {hand}", *texts, shown.letters[hand], "letters"))
    return rows


def skin_rows(ready_by: date | None, at_once: int, today: date) -> list[FigureRow]:
    """The rows of the skins: the day they are wanted, and how many the bath holds."""
    soon, every = "soon", "all"
    return [
        FigureRow(READY_BY, "skins ready by", soon, say_day(ready_by, today) if ready_by else soon),
        FigureRow(AT_ONCE, "skins at once", every, str(at_once) if at_once else every),
    ]


def outcome_lines(base: Outcome, outcome: Outcome) -> Iterator[PanelLine]:
    """What the book comes to, beside what is planned where that differs."""
    unit = outcome.book.unit
    yield _beside("Leaves", _leaves(outcome), _leaves(base))
    yield PanelLine("Gathered", say_sizes(outcome.sizes))
    yield _beside("Sheets", grouped(outcome.sheets), grouped(base.sheets))
    if outcome.cutting is not None:
        yield _beside("Skins", _skins(outcome), _skins(base))
    yield _beside("Blank", _blank(outcome), _blank(base))
    yield _beside("Lines", _lines(outcome, unit), _lines(base, unit))
    yield _beside("Written", _written(outcome, unit), _written(base, unit))
    yield from (PanelLine("Advice", words) for words in outcome_advice(outcome))
    if outcome.estimate:
        yield PanelLine("Estimate", f"{outcome.estimate}")


def _beside(head: str, now: str, planned: str) -> PanelLine:
    return PanelLine(head, now if now == planned else f"{now}; as planned {planned}")


def _leaves(outcome: Outcome) -> str:
    return f"{grouped(outcome.leaves_needed)} needed of {grouped(outcome.leaves)}"


def _skins(outcome: Outcome) -> str:
    if outcome.cutting is None or not outcome.cutting.count:
        return "none: a skin is smaller than a sheet"
    said = f"{grouped(outcome.skins_with_flyleaves)} to order, {count_of(outcome.cutting.count, 'sheet')} from each"
    return f"{said}, flyleaves counted in" if outcome.skins_with_flyleaves != outcome.skins else said


def _blank(outcome: Outcome) -> str:
    return f"{count_of(outcome.blank_leaves, 'leaf', 'leaves')}, {count_of(outcome.blank_lines, 'line')}"


def _lines(outcome: Outcome, unit: Unit) -> str:
    layout = outcome.layout
    return f"{show_length(layout.line_height, unit)} high, {layout.lines_a_page} a page"


def _written(outcome: Outcome, unit: Unit) -> str:
    layout = outcome.layout
    space = show_size(layout.written_width, layout.written_height, unit)
    return f"{space}, a line {show_length(layout.measure, unit)} long"


def way_lines(formulas: Sequence[tuple[Way, str]]) -> Iterator[PanelLine]:
    """The best ways to gather the rest, a line each."""
    return under_one_head("Ways", (f"{formula}: {say_way(way)}" for way, formula in formulas[:MOST_WAYS]))


def say_way(way: Way) -> str:
    """What a way comes to."""
    blank = f"{count_of(way.blank_leaves, 'leaf', 'leaves')} blank" if way.blank_leaves else "no leaf blank"
    return f"{blank}, {count_of(way.skins, 'skin')}" if way.skins else f"{blank}, {count_of(way.sheets, 'sheet')}"


def begin_line(days: SkinDays, today: date, *, asked: bool) -> PanelLine:
    """When to start on the skins."""
    return PanelLine("Begin", days_words(days, today, asked=asked, steps=False), wrong=bool(days.late and asked))
