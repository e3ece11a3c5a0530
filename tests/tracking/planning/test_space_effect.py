"""What a space would do to lines and pages, told before it is recorded."""

from __future__ import annotations

from copydesk.book.plan import Anchor, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.tracking.planning.plan_report import pages_needed
from copydesk.tracking.planning.space_effect import effect_of
from copydesk.tracking.views.space_view import find_space
from small_book import SmallBook


def test_the_effect_told_is_what_comes_of_it() -> None:
    work = SmallBook(600, spaces=(SpacePlan("rose", "initial", Anchor(division=1, paragraph=1), 2),))
    before, left = pages_needed(work.state), work.state.budget.lines_left_over
    act = work.commands.space("owl", "added", kind="miniature", at="word 40", lines=9)
    place, room, *_ = effect_of(work.state, [act])
    assert pages_needed(work.state) == before
    work.do(act)
    owl = find_space(work.state, "owl")
    assert owl is not None
    assert place == f"owl would stand on {owl.page}."
    after = pages_needed(work.state)
    assert f"The text takes {after} pages, {before if before != after else 'as'} before" in room
    left_now = work.state.budget.lines_left_over
    assert f"{left_now} lines left over, {f'{left} lines left over' if left != left_now else 'as'} before" in room


def test_a_page_written_as_planned_changes_nothing_and_that_is_said() -> None:
    work = SmallBook(600)
    assert "as before" in effect_of(work.state, [work.commands.write(Page.parse("1r"))])[0]
