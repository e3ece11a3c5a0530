"""The remedies under the hand: opened from a page that does not fit, one chosen, taken back."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from textual.widgets import OptionList, Static

from copydesk.book.structure.page import Page
from copydesk.desk.base.screen_foot import SayLine
from copydesk.desk.page_screens.grid import GridScreen
from copydesk.desk.page_screens.remedies import RemediesScreen
from copydesk.tracking.fit.stretches import needs

if TYPE_CHECKING:
    from copydesk.desk.app import Desk
    from copydesk.job import Job


def hold(job: Job, page: str, later: int) -> None:
    index = Page.parse(page).index
    state = job.state
    assert state.exemplar is not None
    word = state.copy.word(state.budget.pages[index].start) + later
    job.record(job.commands.hold(Page.parse(page), " ".join(state.exemplar.words[word : word + 5])))


async def test_a_remedy_is_done_when_chosen_and_can_be_taken_back(desk: Desk, job: Job) -> None:
    hold(job, "27r", 40)
    before = next(need for need in needs(job.state) if Page.at(need.last) == Page.parse("26v"))
    assert before.over > 0
    async with desk.run_test(size=(120, 40)) as pilot:
        grid = desk.screen
        assert isinstance(grid, GridScreen)
        grid.go_to(Page.parse("26r"))
        await pilot.press("v", "r")
        screen = desk.screen
        assert isinstance(screen, RemediesScreen)
        assert "over" in str(screen.query_one("#title", Static).content)
        options = screen.query_one(OptionList)
        shown = options.option_count
        assert shown > 1
        about = str(screen.query_one("#about", Static).content)
        assert "within a line" in about
        assert "cost: " in about
        await pilot.press("end")
        assert "choose this to see" in str(options.get_option_at_index(shown - 1).prompt)
        await pilot.press("enter")
        assert options.option_count > shown - 1
        assert not any("choose this" in str(option.prompt) for option in options.options)
        await pilot.press("home", "down")
        chosen = str(options.get_option_at_index(1).prompt)
        promised = re.search(r"\d+ lines? left|it fits", chosen)
        assert promised
        await pilot.press("enter")
        done = job.ledger.newest_standing()
        assert done is not None
        said = screen.query_one(SayLine).said
        assert said.startswith("Done: ")
        assert "u takes it back" in said
        assert said.removeprefix("Done: ").partition(". u takes")[0] in chosen
        title = str(screen.query_one("#title", Static).content)
        assert promised[0].replace("it fits", "the text just fits") in title
        assert "over" not in title
        assert options.highlighted == 0
        await pilot.press("enter")
        assert desk.screen is grid
        assert job.ledger.newest_standing() is done
        await pilot.press("u")
    assert next(need for need in needs(job.state) if need.last == before.last).over == before.over


async def test_a_page_that_may_run_on_needs_none(desk: Desk) -> None:
    async with desk.run_test(size=(120, 40)) as pilot:
        grid = desk.screen
        assert isinstance(grid, GridScreen)
        grid.go_to(Page.parse("1r"))
        await pilot.press("v", "r")
        assert desk.screen is grid
        assert "needs no remedy" in grid.query_one(SayLine).said
