"""What the book would come to if a figure of the plan were another."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.flow import CountedDivision, ExemplarLoan, Flow
from copydesk.book.plan import Anchor, Columns, GatheringPlan, Hand, LeafException, Script, SkinPlan, SpacePlan
from copydesk.book.text.exemplar import read_exemplar
from copydesk.tracking.commands.page_commands import agree_lines
from copydesk.tracking.ledger.ledger import Ledger
from copydesk.tracking.planning.plan_figures import FIGURES, Figure, Trial, tried
from copydesk.tracking.planning.plan_report import plan_report
from copydesk.tracking.planning.planner import Planner
from copydesk.tracking.state.book_state import BookState
from small_book import SmallBook

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


@given(
    st.sampled_from([figure for figure in FIGURES if figure.name not in ("width", "height")]),
    st.sampled_from([-1.0, 1.0, 2.0, 3.0]),
    st.integers(50, 1500),
)
@settings(max_examples=60, deadline=None)
def test_a_figure_turned_comes_to_what_the_book_so_planned_comes_to(figure: Figure, by: float, words: int) -> None:
    book = open_book(words, columns=Columns(2, 6.0), script=Script(nib=1.0), spaces=(SPACES[1],))
    planner = Planner(book.state)
    base = planner.outcome(Trial())
    value = max((figure.value(base.book, base.layout) or 0.0) + by, figure.least)
    try:
        outcome = planner.outcome(Trial({figure.name: value}))
    except CopydeskError:
        return
    if outcome.estimate:
        return
    exact = {hand.id: outcome.letters[hand.id] for hand in outcome.book.hands}
    hands = tuple(hand._replace(letters_per_line=exact[hand.id]) for hand in outcome.book.hands)
    assert outcome.pages == pages_of(book, replace(outcome.book, hands=hands))


@pytest.mark.parametrize(
    ("longest", "said"), [(14, ""), (15, "some words are wider than a line of 14 letters"), (16, "")]
)
def test_words_wider_than_the_turned_line_are_announced(longest: int, said: str) -> None:
    book = open_book(hands=(Hand("A", "first", 20.0),))
    book.exemplar = read_exemplar(" ".join(["word"] * 400 + ["m" * longest] + ["word"] * 400))
    book.state = BookState(book.plan, book.exemplar, book.ledger)
    outcome = Planner(book.state).outcome(Trial({}, {"A": 14.0 / 20.0}))
    assert outcome.letters == {"A": pytest.approx(14.0)}
    assert outcome.estimate.startswith(said)
    assert bool(outcome.estimate) == bool(said)


def test_letters_follow_the_measure_and_the_nib() -> None:
    book = open_book(script=Script(nib=1.0))
    planner = Planner(book.state)
    assert planner.outcome(Trial({"inner": 17.0})).letters == {"A": pytest.approx(18), "B": pytest.approx(14.4)}
    assert planner.outcome(Trial({"nib": 2.0})).letters["A"] == pytest.approx(10)
    closer = planner.outcome(Trial({"nib": 2.0}, {"A": 1.5}))
    assert closer.letters == {"A": pytest.approx(15), "B": pytest.approx(8)}
    assert [hand.letters_per_line for hand in closer.book.hands] == [15, 8]


def test_more_lines_need_fewer_leaves_and_less_skin() -> None:
    book = open_book(3000, skins=SkinPlan(500, 400, spoilage=0.1))
    planner = Planner(book.state)
    base, turned = planner.outcome(Trial()), planner.outcome(Trial({"lines": 14}))
    assert turned.leaves_needed < base.leaves_needed
    assert turned.skins < base.skins
    assert turned.layout.line_height == pytest.approx(100 / 14)


def test_sheets_turned_gather_anew_and_a_fixed_number_of_gatherings_stays() -> None:
    fixed = SmallBook(900, sheets=2, count=6)
    planner = Planner(fixed.state)
    assert planner.outcome(Trial({"lines": 20})).sizes == (4,) * 6
    assert planner.outcome(Trial({"lines": 20})).blank_leaves > 0
    assert set(planner.outcome(Trial({"sheets": 5})).sizes) == {10}


def test_a_fixed_plan_that_is_too_small_grows() -> None:
    planner = Planner(SmallBook(900, sheets=2, count=1).state)
    outcome = planner.outcome(Trial())
    assert outcome.leaves >= outcome.leaves_needed
    assert set(outcome.sizes) == {4}


def test_a_page_that_cannot_be_is_refused_with_the_reason() -> None:
    with pytest.raises(CopydeskError, match="margins together take"):
        Planner(open_book().state).outcome(Trial({"inner": 90.0}))


def test_reasons_are_told_in_the_books_unit() -> None:
    with pytest.raises(CopydeskError, match=r"of a page width of 3\.937 in"):
        Planner(open_book(unit="in").state).outcome(Trial({"inner": 90.0}))


def test_lines_agreed_in_mid_work_are_what_is_planned() -> None:
    book = SmallBook(900, sheets=2, count=None)
    book.write("1r")
    book.do(agree_lines(book.state, 12))
    planner = Planner(book.state)
    assert planner.outcome(Trial()).layout.lines == 12
    assert planner.outcome(Trial()).pages == plan_report(book.state).pages_needed
    assert planner.outcome(Trial({"lines": 11})).layout.lines == 11


def test_a_hand_that_writes_wider_counts_from_its_gathering_on() -> None:
    hands = (Hand("A", "first", 20.0), Hand("B", "second", 10.0, gatherings=(2,)))
    planner = Planner(open_book(900, hands=hands).state)
    small, large = (planner.outcome(Trial({"sheets": sheets})).pages for sheets in (1, 6))
    assert small > large
    for way in planner.ways(Trial()):
        assert way.blank_leaves >= 0


def test_counted_texts_are_estimates() -> None:
    book = SmallBook(exemplar=ExemplarLoan(), divisions=(CountedDivision("all", letters=5000),))
    state = BookState(book.plan, None, Ledger())
    assert "by its counts" in Planner(state).outcome(Trial()).estimate


def test_lines_narrower_than_words_are_estimates() -> None:
    book = SmallBook(900)
    assert "wider than a line of 3 letters" in Planner(book.state).outcome(Trial({}, {"A": 0.15, "B": 0.2})).estimate


def test_leaves_planned_otherwise_are_counted_in_the_plan_and_left_out_of_trials() -> None:
    exceptions = tuple(LeafException(leaf, "cancelled") for leaf in (2, 3, 5))
    plan = GatheringPlan(sheets=2, count=None, exceptions=exceptions)
    for words in range(800, 1000, 20):
        book = SmallBook(words, gatherings=plan)
        assert plan_report(book.state).lines_without_room == 0
    outcome = Planner(book.state).outcome(Trial({"lines": 12}))
    assert "planned apart" in outcome.estimate


def test_a_division_on_a_recto_of_its_own_is_counted() -> None:
    text = "# one\n\n" + "a few words here " * 8 + "\n\n# two\n\n" + "more words there " * 8
    book = SmallBook(10, count=None, flow=Flow(starts={2: "recto"}))
    state = BookState(book.plan, read_exemplar(text), Ledger())
    assert Planner(state).outcome(Trial()).pages == plan_report(state).pages_needed == 3


def test_a_tried_book_reads_as_it_was_tried() -> None:
    book = open_book(script=Script(nib=1.0))
    trial = Trial({"lines": 12.0, "gap": 0.0, "sheets": 3.0})
    outcome = Planner(book.state).outcome(trial)
    assert replace(outcome.book, hands=book.plan.hands) == tried(book.plan, trial.figures)
