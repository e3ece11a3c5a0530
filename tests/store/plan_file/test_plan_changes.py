"""The lines of the book file that turn one plan into another."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from copydesk.book.layout.page_layout import lay_out
from copydesk.book.plan import Columns, GatheringPlan, Hand, Margins, Ruling
from copydesk.store.plan_file.book_file import assemble, parse_plan
from copydesk.store.plan_file.plan_edits import edited
from copydesk.tracking.planning.plan_figures import FIGURES, tried

if TYPE_CHECKING:
    from copydesk.book.plan import Book
    from copydesk.tracking.planning.plan_figures import Figure

PLAN = """title: A book
divisions: [{title: all, letters: 9000}]
page: {width: 160, height: 240, margins: {inner: 15, head: 20, outer: 30, foot: 40}}
columns: {count: 2, gap: 8}
ruling: {lines: 30, first_line: above}
script: {name: round, nib: 0.8}
hands: {A: {name: first, letters_per_line: 30}, B: {name: second, letters_per_line: 28}}
gatherings: {sheets: 5}
"""


def read(text: str) -> Book:
    plan = parse_plan(text, "book.yaml")
    assert not plan.reading.problems, plan.reading.problems
    return assemble(plan.values)


BOOK = read(PLAN)


def changed_lines(after: Book) -> list[str]:
    """The lines of the edited plan that the plan has not; it reads as ``after``."""
    text = edited(PLAN, BOOK, after)
    assert read(text) == after
    return [line for line in text.splitlines() if line not in PLAN.splitlines()]


def test_an_unchanged_plan_needs_no_line() -> None:
    assert edited(PLAN, BOOK, BOOK) == PLAN


@pytest.mark.parametrize("figure", FIGURES, ids=lambda figure: figure.name)
def test_the_lines_put_into_the_file_make_the_plan_so(figure: Figure) -> None:
    layout = lay_out(BOOK.page, BOOK.columns, BOOK.ruling, BOOK.script)
    after = tried(BOOK, {figure.name: round(figure.value(BOOK, layout) - (0.1 if figure.sort == "fine" else 1), 4)})
    assert changed_lines(after)


def test_a_figure_turned_to_what_is_usual_is_said_all_the_same() -> None:
    after = replace(BOOK, columns=Columns(1, 8.0), gatherings=GatheringPlan(sheets=4))
    assert changed_lines(after) == ["columns: {count: 1, gap: 8}", "gatherings: {sheets: 4}"]


def test_a_key_that_is_left_is_not_said() -> None:
    after = replace(BOOK, ruling=Ruling(unit=6.5, first_line="above"))
    assert changed_lines(after) == ["ruling: {first_line: above, unit: 6.5}"]


def test_gatherings_become_a_formula() -> None:
    after = replace(BOOK, gatherings=GatheringPlan(sheets=None, formula="1-3^8 4^6"))
    assert changed_lines(after) == ['gatherings: {formula: "1-3^8 4^6"}']


def test_only_what_differs_is_given_and_several_together() -> None:
    hands = (Hand("A", "first", 33.0), BOOK.hands[1])
    after = replace(BOOK, hands=hands, page=BOOK.page._replace(margins=Margins(16.0, 20.0, 30.0, 40.0)))
    assert [line.split(":")[0] for line in changed_lines(after)] == ["page", "hands"]
