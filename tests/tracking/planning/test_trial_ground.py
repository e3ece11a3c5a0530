"""Where a trial starts: gatherings begun stay as they are."""

from __future__ import annotations

from copydesk.tracking.commands.leaf_commands import note_flaw, replace_leaf
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.planning.plan_figures import Trial
from copydesk.tracking.planning.plan_report import plan_report
from copydesk.tracking.planning.planner import Planner
from small_book import SmallBook


def test_gatherings_begun_stay_and_the_rest_is_reckoned() -> None:
    book = SmallBook(900, sheets=2, count=None)
    for page in ("1r", "1v", "2r"):
        book.write(page)
    planner = Planner(book.state)
    base = planner.outcome(Trial())
    assert planner.ground.sizes == (4,)
    assert planner.ground.pages == 8
    assert base.pages == plan_report(book.state).pages_needed
    assert planner.outcome(Trial({"sheets": 3})).sizes[:2] == (4, 6)
    first = book.state.budget.pages[8].start
    assert planner.ground.start.piece == first


def test_a_flaw_begins_no_gathering_but_a_leaf_replaced_does() -> None:
    book = SmallBook(900, sheets=2, count=4)
    sizes = {"from_head": 20.0, "from_fold": 10.0, "width": 5.0, "height": 5.0}
    book.do(note_flaw(book.state, 7, sizes))
    assert Planner(book.state).ground.sizes == ()
    book.do(replace_leaf(book.state, 5))
    assert Planner(book.state).ground.sizes == (4, 4)


def test_a_text_that_ends_in_what_is_begun_leaves_nothing_to_gather() -> None:
    book = SmallBook(60, sheets=2, count=1)
    book.write("1r")
    planner = Planner(book.state)
    outcome = planner.outcome(Trial())
    assert outcome.pages == plan_report(book.state).pages_needed
    assert outcome.blank_lines == plan_report(book.state).lines_left_over
    assert [way.sizes for way in planner.ways(Trial())] == [()]


def test_taking_back_opens_the_gathering_again() -> None:
    book = SmallBook(900, sheets=2, count=None)
    entry = book.write("1r")
    assert Planner(book.state).ground.sizes == (4,)
    book.do(Act("voided", entry.entry, "", {}))
    assert Planner(book.state).ground.sizes == ()
