"""Plots in braille: ticks at round values, dots where the figures say, strokes told apart, nothing outside."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from copydesk.desk.widgets.braille_plot import (
    BLANK_BRAILLE,
    Axis,
    Plot,
    PlotLine,
    PlotMarks,
    RangePlot,
    RangeRow,
    Stroke,
    day_axis,
    draw_plot,
    draw_ranges,
    round_axis,
    spread,
)

TODAY = date(2026, 3, 2)
figures = st.floats(-1e6, 1e6, allow_nan=False, allow_infinity=False)


def text(plot: Plot, width: int = 40, height: int = 12) -> list[str]:
    return ["".join(piece.text for piece in row) for row in draw_plot(plot, width, height)]


def dots(rows: list[str]) -> int:
    """How many dots are set in all."""
    found = (ord(letter) - BLANK_BRAILLE for row in rows for letter in row)
    return sum(bits.bit_count() for bits in found if 0 <= bits < 256)


@given(figures, st.floats(0.001, 1e6), st.integers(1, 6))
def test_ticks_are_round_and_few_and_inside(least: float, span: float, most: int) -> None:
    axis = round_axis(least, least + span, ticks=most)
    assert len(axis.ticks) <= most + 1
    assert all(axis.least - span / 1e6 <= tick.at <= axis.most + span / 1e6 for tick in axis.ticks)
    for before, after in pairwise(axis.ticks):
        assert f"{after.at - before.at:.3e}"[:5] in ("1.000", "2.000", "5.000")


def test_values_a_person_would_choose() -> None:
    assert [tick.says for tick in round_axis(0, 57, whole=True).ticks] == ["0", "10", "20", "30", "40", "50"]
    assert [tick.says for tick in round_axis(0, 11576).ticks][-1] == "10,000"
    assert [tick.says for tick in round_axis(0, 0.75).ticks] == ["0", "0.2", "0.4", "0.6"]
    assert [tick.at for tick in round_axis(0, 2, whole=True).ticks] == [0, 1, 2]
    assert spread([3.0]) == (0.0, 3.15)


@given(st.integers(0, 3000), st.integers(10, 200))
def test_days_stand_at_days_mondays_or_firsts_of_months(length: int, width: int) -> None:
    axis = day_axis(TODAY, TODAY + timedelta(days=length), TODAY, width)
    days = [date.fromordinal(int(tick.at)) for tick in axis.ticks]
    assert days
    assert len(days) == 1 or len(days) * 13 <= width
    steps = {(after - before).days for before, after in pairwise(days)}
    assert steps <= {1} or all(day.weekday() == 0 for day in days) or all(day.day == 1 for day in days)


def test_a_line_goes_from_corner_to_corner_and_strokes_differ() -> None:
    axis, up = Axis(0, 10, ()), Axis(0, 10, ())
    ways = {stroke: PlotLine("", "done", stroke, ((0.0, 0.0), (10.0, 10.0))) for stroke in Stroke}
    drawn = {stroke: text(Plot(axis, up, (way,))) for stroke, way in ways.items()}
    solid = drawn[Stroke.SOLID]
    assert dots([solid[1][-2:]]) > 0
    assert dots([solid[-3][:4]]) > 0
    counts = [dots(drawn[stroke][1:]) for stroke in (Stroke.SOLID, Stroke.DASHED, Stroke.DOTTED)]
    assert counts[0] > counts[1] > counts[2] > 0


def test_signs_stand_above_lines_and_the_key_names_both() -> None:
    line = PlotLine("plan", "planned", Stroke.SOLID, ((0.0, 5.0), (10.0, 5.0)))
    rows = text(Plot(Axis(0, 10, ()), Axis(0, 10, ()), (PlotMarks("A", "done", "●", ((5.0, 5.0),)), line)))
    assert rows[0].split() == ["●", "A", "⠒⠒⠒", "plan"]
    assert any("●" in row for row in rows[1:])


@given(st.lists(st.tuples(figures, figures), max_size=5), st.integers(1, 60), st.integers(1, 20))
def test_nothing_falls_outside_whatever_the_figures(points: list[tuple[float, float]], width: int, height: int) -> None:
    axis = round_axis(*spread([x for x, _ in points]))
    up = round_axis(*spread([y for _, y in points]))
    rows = text(Plot(axis, up, (PlotLine("way", "done", Stroke.DOTTED, tuple(points)),)), width, height)
    assert len(rows) == height
    assert {len(row) for row in rows} == {width}


def test_ranges_hold_their_values_and_names_stand_before_them() -> None:
    plot = RangePlot(round_axis(0, 1), (RangeRow("hand A", 0.5, 0.2, 0.9), RangeRow("hand B", 0.1, 0.1, 0.2)))
    first, second, *rest = ["".join(piece.text for piece in row) for row in draw_ranges(plot, 60, 10)]
    assert (first.split()[:2], second.split()[:2]) == (["hand", "A"], ["hand", "B"])
    assert first.index("⠒") < first.index("●") < first.rindex("⠒")
    assert second.index("●") < first.index("⠒")
    assert rest[-1].split() == ["0", "0.2", "0.4", "0.6", "0.8", "1"]
