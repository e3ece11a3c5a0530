"""What is said of a plan that was changed while the desk stands."""

from __future__ import annotations

from copydesk.desk.wording.plan_words import PlanSeen, plan_news
from small_book import SmallBook

OLD, NEW = SmallBook().plan, SmallBook(title="Another").plan
TAKEN = ["book.yaml was changed; the plan was read again."]
WRONG = ("book.yaml:3:1: unit is no unit; write mm", "book.yaml:4:1: sheets is below 1; write 4")


def test_a_plan_that_is_as_it_was_is_not_spoken_of() -> None:
    assert plan_news(PlanSeen(OLD), PlanSeen(OLD)) == []
    assert plan_news(PlanSeen(OLD, WRONG), PlanSeen(OLD, WRONG)) == []


def test_a_changed_plan_is_told_once_it_is_taken() -> None:
    assert plan_news(PlanSeen(OLD), PlanSeen(NEW)) == TAKEN
    assert plan_news(PlanSeen(OLD, WRONG), PlanSeen(OLD)) == TAKEN


def test_every_mistake_that_keeps_a_plan_from_being_taken_is_told() -> None:
    told = [f"The changed plan was not taken: {problem}" for problem in WRONG]
    assert plan_news(PlanSeen(OLD), PlanSeen(OLD, WRONG)) == told
    assert plan_news(PlanSeen(OLD, WRONG[:1]), PlanSeen(OLD, WRONG)) == told
