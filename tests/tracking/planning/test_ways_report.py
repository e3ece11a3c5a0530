"""Ways to gather the book and figures turned, as data and as plans to be written down."""

from __future__ import annotations

from dataclasses import replace

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.formula.collation_formula import parse
from copydesk.book.hands.hand_sample import SampleLine
from copydesk.book.plan import GatheringPlan, Hand, LeafException, Script, SkinPlan
from copydesk.tracking.ledger.ledger import Ledger
from copydesk.tracking.planning.plan_figures import Trial
from copydesk.tracking.planning.planner import Planner
from copydesk.tracking.planning.ways_report import (
    OUTCOMES,
    WAYS,
    book_to_write,
    formula_of_way,
    gathering_ways,
    outcome_advice,
    plan_of_sizes,
    read_trial,
    turn_rows,
    turns,
    write_remarks,
)
from copydesk.tracking.state.book_state import BookState
from small_book import SmallBook

SKINS = SkinPlan(500, 400, trim=5, spoilage=0.1)


def planner(words: int = 2000, **changes: object) -> Planner:
    return Planner(SmallBook(words, **{"count": None, "skins": SKINS, "script": Script(nib=1.0), **changes}).state)  # type: ignore[arg-type]


def begun(**changes: object) -> Planner:
    book = SmallBook(2000, **{"count": None, **changes})  # type: ignore[arg-type]
    book.write("1r")
    return Planner(book.state)


def test_what_is_tried_is_read_as_people_write_it() -> None:
    trial = read_trial(planner(), ["lines = 12", "inner=1/2 in", "letters=22", "letters.B=17"])
    assert trial.figures == {"lines": 12, "inner": pytest.approx(12.7)}
    letters = planner().outcome(trial).letters
    assert letters == {"A": pytest.approx(22), "B": pytest.approx(17)}


@pytest.mark.parametrize(
    ("given", "why"),
    [
        ("lines", "is no trial"),
        ("colour=3", "no figure of the plan"),
        ("lines=many", "lines a column is 'many', which is not a whole number"),
        ("letters.Z=30", "there is no hand 'Z' in this book; its hands are A, B"),
        ("letters=few", "letters to a line is 'few', which is not a number"),
        ("letters=0.2", "letters to a line cannot be 0.2"),
    ],
)
def test_what_cannot_be_tried_is_refused(given: str, why: str) -> None:
    with pytest.raises(CopydeskError, match=why):
        read_trial(planner(), [given])


def test_turns_tell_of_lines_nib_and_columns() -> None:
    told = list(turns(planner()))
    assert [(each.figure, each.would_be) for each in told] == [
        ("lines", 8),
        ("lines", 9),
        ("lines", 11),
        ("lines", 12),
        ("nib", 0.9),
        ("nib", 1.1),
        ("columns", 2),
    ]
    needed = [each.outcome.leaves_needed for each in told if each.outcome]
    assert needed[0] > needed[1] > needed[2] > needed[3]
    assert needed[4] < needed[5]


def test_a_book_without_a_nib_has_none_turned_and_what_cannot_be_says_why() -> None:
    narrow = planner(script=Script(), page=SmallBook().plan.page._replace(width=38.5))
    told = {(each.figure, each.would_be): each for each in turns(narrow)}
    assert not [name for name, _ in told if name == "nib"]
    assert told["columns", 2].outcome is None
    assert "columns" in told["columns", 2].refused
    data = next(each for each in turn_rows(narrow) if each["figure"] == "columns")
    assert set(data) == {"figure", "was", "would_be", "refused"}


def test_ways_as_data() -> None:
    ways = WAYS.all_data(gathering_ways(planner()))
    assert set(ways[0]) == {"formula", "kind", "gatherings_to_come", "leaves", "sheets", "blank_leaves", "skins"}
    for way in ways:
        assert parse(str(way["formula"])).leaves == way["leaves"] == sum(way["gatherings_to_come"])  # type: ignore[call-overload]


def test_an_outcome_as_data_has_its_lengths_in_mm() -> None:
    data = OUTCOMES.data(planner(unit="in").outcome(Trial({"lines": 12})))
    assert data["page"]["line_height"] == pytest.approx(100 / 12, abs=1e-4)  # type: ignore[index]
    assert data["letters_per_line"] == {"A": 20, "B": 16}
    assert data["skins"] >= 1  # type: ignore[operator]


def test_advice_is_given_where_a_choice_strays() -> None:
    one = planner()
    before, after = (outcome_advice(one.outcome(trial)) for trial in (Trial(), Trial({"lines": 14, "sheets": 7})))
    assert any("Lines 7.14 mm apart are less than the script's 10.5 mm" in words for words in after)
    assert any("A gathering of 7 sheets" in words for words in after)
    assert not any("gathering of" in words for words in before)
    assert any(words.startswith("Hand B: 16 letters") for words in before)


def test_a_way_becomes_gatherings_of_the_plan() -> None:
    one = planner()
    for way in one.ways(Trial()):
        plan = plan_of_sizes(one, way.sizes)
        book = SmallBook(2000, skins=SKINS, gatherings=plan)
        assert tuple(len(each.leaves) for each in book.state.planned.gatherings) == way.sizes
        assert (plan.formula is None) == (way.kind == "all alike")


def test_what_is_begun_stays_in_the_plan_of_a_way() -> None:
    one = begun()
    for way in one.ways(Trial()):
        plan = plan_of_sizes(one, way.sizes)
        planned = SmallBook(2000, gatherings=plan).state.planned
        assert tuple(len(each.leaves) for each in planned.gatherings) == (4, *way.sizes)
        formula = formula_of_way(one, way)
        assert "^" not in formula
        assert parse(formula).leaves == way.leaves


def test_leaves_planned_otherwise_keep_their_own_list() -> None:
    exceptions = (LeafException(2, "cancelled"),)
    one = begun(gatherings=GatheringPlan(sheets=2, exceptions=exceptions))
    plan = plan_of_sizes(one, (8, 8))
    assert plan.exceptions == exceptions
    assert parse(str(plan.formula)).leaves == 4 + 16
    again = SmallBook(2000, gatherings=plan).state.planned
    assert [len(each.leaves) for each in again.gatherings] == [3, 8, 8]


def test_sheets_turned_in_mid_work_are_written_as_a_formula() -> None:
    one, trial = begun(), Trial({"sheets": 4})
    outcome = one.outcome(trial)
    written = book_to_write(one, trial, outcome)
    assert str(written.gatherings.formula).startswith("1^4 2-")
    assert book_to_write(one, Trial(), one.outcome(Trial())).gatherings == GatheringPlan(sheets=2)
    way = one.ways(trial)[0]
    assert parse(str(book_to_write(one, trial, outcome, way).gatherings.formula)).leaves == way.leaves


def test_gatherings_added_by_record_and_begun_cannot_be_put_into_the_plan() -> None:
    from copydesk.tracking.commands.leaf_commands import add_gathering

    book = SmallBook(2000, sheets=2, count=2)
    book.do(add_gathering(book.state, 6))
    book.write("9r")
    with pytest.raises(CopydeskError, match="added by record"):
        plan_of_sizes(Planner(book.state), (8, 8))


def test_lines_of_a_sample_nobody_measured_are_spoken_of() -> None:
    book = SmallBook(900)
    hands = (Hand("A", "first", sample="a.txt"), Hand("B", "second", sample="b.txt"))
    lines = {"A": [SampleLine(("w1", "w2"))], "B": [SampleLine(("w1", "w2"), 60.0)]}
    state = BookState(replace(book.plan, hands=hands), book.exemplar, Ledger(), lines)
    one = Planner(state)
    assert write_remarks(one, one.outcome(Trial({"inner": 15.0}))) == (
        "Measure the lines of a.txt that have no length: they were full lines of 70 mm.",
    )
    assert write_remarks(one, one.outcome(Trial({"lines": 12}))) == ()
