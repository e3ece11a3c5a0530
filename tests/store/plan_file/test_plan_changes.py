"""The lines of the book file that would turn one plan into another."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from copydesk.book.layout.page_layout import lay_out
from copydesk.book.plan import Columns, GatheringPlan, Hand, Margins, Ruling
from copydesk.store.plan_file.book_file import assemble, parse_plan
from copydesk.store.plan_file.plan_text import changed_lines
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


def written_in(lines: str) -> str:
    """The plan with these lines in place of those that begin with the same keys."""
    keys = {line.split(":")[0] for line in lines.splitlines() if not line.startswith((" ", "#"))}
    kept = [line for line in PLAN.splitlines() if line.split(":")[0] not in keys]
    return "\n".join([*kept, lines, ""])


def test_an_unchanged_plan_needs_no_line() -> None:
    assert changed_lines(BOOK, BOOK) == ""


@pytest.mark.parametrize("figure", FIGURES, ids=lambda figure: figure.name)
def test_the_lines_put_into_the_file_make_the_plan_so(figure: Figure) -> None:
    layout = lay_out(BOOK.page, BOOK.columns, BOOK.ruling, BOOK.script)
    after = tried(BOOK, {figure.name: round(figure.value(BOOK, layout) - (0.1 if figure.sort == "fine" else 1), 4)})
    lines = changed_lines(BOOK, after)
    assert lines
    assert read(written_in(lines)) == after


def test_a_figure_turned_to_what_is_usual_is_said_all_the_same() -> None:
    after = replace(BOOK, columns=Columns(1, 8.0), gatherings=GatheringPlan(sheets=4))
    lines = changed_lines(BOOK, after)
    assert lines.splitlines() == ["columns: {count: 1, gap: 8}", "gatherings: {sheets: 4}"]
    assert read(written_in(lines)) == after


def test_a_key_that_is_left_is_not_said() -> None:
    after = replace(BOOK, ruling=Ruling(unit=6.5, first_line="above"))
    assert changed_lines(BOOK, after) == "ruling: {unit: 6.5, first_line: above}"


def test_gatherings_become_a_formula() -> None:
    after = replace(BOOK, gatherings=GatheringPlan(sheets=None, formula="1-3^8 4^6"))
    assert changed_lines(BOOK, after) == 'gatherings: {formula: "1-3^8 4^6"}'
    assert read(written_in(changed_lines(BOOK, after))) == after


def test_only_what_differs_is_given_and_several_together() -> None:
    hands = (Hand("A", "first", 33.0), BOOK.hands[1])
    after = replace(BOOK, hands=hands, page=BOOK.page._replace(margins=Margins(16.0, 20.0, 30.0, 40.0)))
    lines = changed_lines(BOOK, after)
    assert {line.split(":")[0] for line in lines.splitlines() if line[0] != " "} == {"page", "hands"}
    assert read(written_in(lines)) == after
