"""The figures a planner turns."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.layout.page_layout import lay_out
from copydesk.book.plan import Book, Columns, GatheringPlan, Hand, Margins, PageSize, Ruling, Script
from copydesk.tracking.planning.plan_figures import (
    FIGURES,
    Trial,
    figure_named,
    read_figure,
    show_figure,
    step_of,
    tried,
    turned,
    turned_letters,
)

if TYPE_CHECKING:
    from copydesk.book.common.units import Unit
    from copydesk.tracking.planning.plan_figures import Figure

BOOK = Book(
    title="A book",
    page=PageSize(160.0, 240.0, Margins(15.0, 20.0, 30.0, 40.0)),
    hands=(Hand("A", letters_per_line=30.0),),
    columns=Columns(2, 8.0),
    ruling=Ruling(lines=30, first_line="above"),
    script=Script(nib=0.8),
    gatherings=GatheringPlan(sheets=4, count=3),
)
LAYOUT = lay_out(BOOK.page, BOOK.columns, BOOK.ruling, BOOK.script)


def value(name: str, book: Book = BOOK) -> float | None:
    layout = lay_out(book.page, book.columns, book.ruling, book.script)
    return figure_named(name).value(book, layout)


@pytest.mark.parametrize("figure", FIGURES, ids=lambda figure: figure.name)
def test_what_is_put_is_read_again(figure: Figure) -> None:
    before = figure.value(BOOK, LAYOUT)
    wanted = before + 1 if figure.sort != "fine" else before + 0.1
    assert value(figure.name, tried(BOOK, {figure.name: wanted})) == pytest.approx(wanted)


def test_turning_one_leaves_the_rest_but_what_follows_from_it() -> None:
    for figure in FIGURES:
        turned_book = tried(
            BOOK, {figure.name: (figure.value(BOOK, LAYOUT) or 0) + 0.1 + (figure.sort != "fine") * 0.9}
        )
        follows = {"lines": {"unit"}, "unit": {"lines"}, "head": {"unit"}, "foot": {"unit"}, "height": {"unit"}}
        for other in FIGURES:
            if other.name not in {figure.name, *follows.get(figure.name, ())}:
                assert value(other.name, turned_book) == value(other.name), (figure.name, other.name)


def test_lines_and_line_height_cannot_both_be_turned() -> None:
    with pytest.raises(CopydeskError, match="follow from one another"):
        tried(BOOK, {"lines": 30, "unit": 5.0})
    assert tried(BOOK, {"lines": 31}).ruling == Ruling(lines=31, first_line="above")


def test_a_margin_of_a_canon_is_turned_with_the_other_three_as_the_canon_gives_them() -> None:
    canonical = replace(BOOK, page=PageSize(180.0, 270.0, Margins(canon="ninths")))
    margins = tried(canonical, {"inner": 25.0}).page.margins
    assert margins[:4] == pytest.approx((25.0, 30.0, 40.0, 60.0))


def test_a_canons_gap_stays_when_a_margin_is_turned() -> None:
    canonical = replace(BOOK, page=PageSize(240.0, 300.0, Margins(canon="saint-remi")), columns=Columns(2, 0.0))
    assert tried(canonical, {"inner": 30.0}).columns.gap == pytest.approx(240 / 4 * 4 / 21)


def test_sheets_turned_leave_the_number_of_gatherings_open() -> None:
    assert tried(BOOK, {"sheets": 5}).gatherings == GatheringPlan(sheets=5)
    formula = replace(BOOK, gatherings=GatheringPlan(sheets=None, formula="1-3^8"))
    assert tried(formula, {"sheets": 3}).gatherings == GatheringPlan(sheets=3)


@pytest.mark.parametrize(
    ("name", "now", "steps", "then"),
    [
        ("lines", 30, 1, 31),
        ("lines", 1, -5, 1),
        ("inner", 15.5, 1, 16),
        ("inner", 15.5, -1, 15),
        ("inner", 0.4, -1, 0),
        ("nib", 0.8, 1, 0.9),
        ("nib", 0.85, -1, 0.8),
        ("nib", None, 1, 0.2),
        ("unit", 6.3333, 1, 6.4),
    ],
)
def test_a_step_goes_to_a_whole_step(name: str, now: float | None, steps: int, then: float) -> None:
    assert turned(figure_named(name), now, steps, "mm") == pytest.approx(then)


def test_inches_are_turned_by_sixteenths() -> None:
    assert turned(figure_named("inner"), 25.4, 1, "in") == pytest.approx(25.4 * 17 / 16, abs=1e-3)
    assert step_of("fine", "in") == 0.1
    assert turned_letters(24.6, 1) == 25
    assert turned_letters(24.6, -1) == 24
    assert turned_letters(1.0, -3) == 1


@given(st.floats(0.5, 400), st.integers(1, 40), st.sampled_from(["mm", "cm", "in"]))
@settings(max_examples=100)
def test_as_many_steps_back_come_as_near(now: float, steps: int, unit: Unit) -> None:
    figure = figure_named("outer")
    up = turned(figure, now, steps, unit)
    assert up > now
    assert turned(figure, up, -steps, unit) == pytest.approx(now, abs=step_of("length", unit))


def test_values_are_read_with_their_unit() -> None:
    assert read_figure(figure_named("inner"), "1/2 in") == pytest.approx(12.7)
    assert read_figure(figure_named("nib"), "0.9") == 0.9
    assert read_figure(figure_named("lines"), "31") == 31


@pytest.mark.parametrize(
    ("name", "text"),
    [("lines", "30.5"), ("lines", "many"), ("lines", "0"), ("inner", "wide"), ("nib", "0"), ("gap", "-1")],
)
def test_what_is_no_value_is_refused(name: str, text: str) -> None:
    with pytest.raises(CopydeskError):
        read_figure(figure_named(name), text)


def test_an_unknown_figure_is_refused_with_those_there_are() -> None:
    with pytest.raises(CopydeskError, match="'colour' is no figure of the plan; give one of width, height, inner"):
        figure_named("colour")


def test_figures_are_shown_in_the_books_unit() -> None:
    assert show_figure("length", 25.4, "in") == "1 in"
    assert show_figure("fine", 6.3333, "mm") == "6.33 mm"
    assert show_figure("letters", 26.04, "mm") == "26"
    assert show_figure("count", 2.0, "mm") == "2"
    assert show_figure("fine", None, "mm") == "none"


def test_a_trial_turned_back_is_empty() -> None:
    trial = Trial().with_figure("lines", 31, planned=30)
    assert trial.figures == {"lines": 31}
    assert trial.with_figure("lines", 30, planned=30).empty
    assert trial.with_figure("unit", 5.0, planned=5.2).figures == {"unit": 5.0}
    assert Trial().with_figure("sheets", 4, planned=None).figures == {"sheets": 4}


def test_letters_are_kept_as_how_much_closer() -> None:
    trial = Trial().with_letters("A", 33, now=30)
    assert trial.closer == {"A": pytest.approx(1.1)}
    assert trial.with_letters("A", 30, now=33).empty
    assert trial.with_letters("B", 20, now=10).closer == {"A": pytest.approx(1.1), "B": 2}


def test_a_margin_of_a_canon_turned_comes_to_lengths_as_the_plan_keeps_them() -> None:
    canonical = replace(BOOK, page=PageSize(177.8, 254.0, Margins(canon="ninths")))
    margins = tried(canonical, {"inner": 18.0}).page.margins
    assert margins[:4] == (18.0, 28.222222, 39.511111, 56.444444)
