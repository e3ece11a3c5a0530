"""The figures of the plan."""

from __future__ import annotations

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.plan import (
    Anchor,
    Columns,
    Flaw,
    Flyleaves,
    Hand,
    SkinPlan,
    SpacePlan,
)
from copydesk.book.structure.page import Page
from copydesk.desk.wording.page_words import page_lines
from copydesk.tracking.ledger.ledger import Ledger
from copydesk.tracking.planning.plan_figures import Trial
from copydesk.tracking.planning.plan_report import plan_report
from copydesk.tracking.planning.planner import Planner
from copydesk.tracking.state.book_state import BookState
from copydesk.tracking.views.page_view import page_account
from small_book import SmallBook
from text_book import TextBook

SPACES = (
    SpacePlan("frost", "miniature", Anchor(word=150), lines=6),
    SpacePlan("first", "initial", Anchor(word=0), lines=3),
    SpacePlan("late", "miniature", Anchor(page="6v"), lines=4),
    SpacePlan("vine", "border", Anchor(page="2r")),
)


def open_book(words: int = 900, **changes: Any) -> SmallBook:
    return SmallBook(words, count=None, **changes)


def pages_of(book: SmallBook, plan: object) -> int:
    """Pages a book planned so needs, by its own standing."""
    return plan_report(BookState(plan, book.exemplar, Ledger())).pages_needed  # type: ignore[arg-type]


def test_nothing_turned_is_the_plan() -> None:
    book = open_book(spaces=SPACES, flyleaves=Flyleaves(2, 3), skins=SkinPlan(500, 400, trim=5, spoilage=0.1))
    report, outcome = plan_report(book.state), Planner(book.state).outcome(Trial())
    assert outcome.pages == report.pages_needed
    assert outcome.leaves == report.leaves
    assert outcome.sheets == report.sheets
    assert (outcome.skins, outcome.skins_with_flyleaves) == (report.skins, report.skins_with_flyleaves)
    assert outcome.blank_lines == report.lines_left_over
    assert outcome.estimate == ""
    assert outcome.book == book.plan


@given(
    st.integers(1, 2500),
    st.integers(1, 6),
    st.booleans(),
    st.booleans(),
    st.sampled_from([(), (2,), (1, 3)]),
    st.sampled_from([(), (Flaw(3, 20, 15, 20, 30), Flaw(1, 60, 20, 55, 12))]),
)
@settings(max_examples=60, deadline=None)
def test_nothing_turned_is_the_plan_whatever_the_plan(
    words: int, sheets: int, pictures: bool, two_columns: bool, second: tuple[int, ...], flaws: tuple[Flaw, ...]
) -> None:
    book = SmallBook(
        words,
        sheets,
        None,
        spaces=tuple(space for space in SPACES if space.at.word is None or space.at.word < words) if pictures else (),
        columns=Columns(2, 6.0) if two_columns else Columns(1),
        hands=(Hand("A", "first", 20.0), Hand("B", "second", 16.0, gatherings=second)),
        flaws=flaws,
    )
    report, outcome = plan_report(book.state), Planner(book.state).outcome(Trial())
    assert report.lines_without_room == 0
    assert (outcome.pages, outcome.blank_lines) == (report.pages_needed, report.lines_left_over)


@given(st.lists(st.integers(0, 23), unique=True, max_size=8), st.integers(100, 1200), st.booleans())
@settings(max_examples=60, deadline=None)
def test_in_mid_work_nothing_turned_is_the_plan_too(written: list[int], words: int, part: bool) -> None:
    book = SmallBook(words, sheets=2, count=None, spaces=tuple(each for each in SPACES if each.at.word != 150))
    for index in written:
        page = Page.at(index)
        if book.state.collation.has(page) and book.state.budget.pages[index].planned:
            book.write(str(page), 3 if part else None, hand="AB"[index % 2])
    report, outcome = plan_report(book.state), Planner(book.state).outcome(Trial())
    assert outcome.pages == report.pages_needed
    if not report.lines_without_room:
        assert (outcome.leaves, outcome.blank_lines) == (report.leaves, report.lines_left_over)


def test_pages_of_text_without_room_are_cast_not_guessed() -> None:
    fixed = SmallBook(900, sheets=1, count=1)
    assert fixed.state.budget.lines_without_room > 0
    assert plan_report(fixed.state).pages_needed == pages_of(fixed, open_book(900).plan)


def test_lines_left_before_a_heading_are_in_the_plan_and_at_the_page() -> None:
    line = " ".join(["abcd"] * 4)  # a line of twenty letters
    book = TextBook("# One\n" + f"| {line}\n" * 8 + "\n# Two\n" + f"| {line}\n" * 4)
    kept = [(str(each.page), each.lines) for each in plan_report(book.state).kept]
    assert kept == [("1r", 1)]
    account = page_account(book.state, 0)
    assert (account.budget.kept, account.over) == (1, -1)
    assert [line.says for line in page_lines(book.state, account) if line.head == "Blank"] == [
        "1 line without text: the heading, initial or division that follows has no room there"
    ]
