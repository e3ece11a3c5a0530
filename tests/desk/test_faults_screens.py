"""The faults of the book, what they tell, and changes made on purpose, under the hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from textual.widgets import Input, Label, OptionList, Static

from copydesk.book.structure.page import Page
from copydesk.comparing.corrections import remedy
from copydesk.desk.base.screen_foot import SayLine
from copydesk.desk.book_screens.fault_rates import SlipsScreen, plots
from copydesk.desk.dialogs.form import Choice, Form
from copydesk.desk.page_screens.changes import ChangesScreen
from copydesk.desk.page_screens.faults import FaultsScreen
from copydesk.desk.page_screens.grid import GridScreen
from copydesk.desk.wording.lines import PanelLine
from copydesk.desk.wording.page_words import page_lines
from copydesk.tracking.checking.fault_rates_report import fault_rates
from copydesk.tracking.checking.fault_report import choose_faults, fault_accounts
from copydesk.tracking.fit.correction_fit import ToldWay, correction_fit, ways_told
from copydesk.tracking.views.page_view import page_account
from seen import said

if TYPE_CHECKING:
    from copydesk.desk.app import Desk
    from copydesk.job import Job

SIZE = (100, 30)


def text(desk: Desk, name: str) -> str:
    return str(desk.screen.query_one(name, Static).content)


def shown(desk: Desk) -> list[str]:
    return [str(option.prompt) for option in desk.screen.query_one(OptionList).options]


async def test_open_faults_come_first_and_filters_turn(desk: Desk, job: Job) -> None:
    open_ones = choose_faults(fault_accounts(job.state), state="open")
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("v", "f")
        assert isinstance(desk.screen, FaultsScreen)
        assert [row.split()[:2] for row in shown(desk)] == [[str(each.fault.number), each.label] for each in open_ones]
        await pilot.press("o", "s")
        assert all(" by " in row for row in shown(desk))
        assert text(desk, "#title").endswith("mended.")
        await pilot.press("o", "c")
        assert len({row.split()[3] for row in shown(desk)}) == 1


async def test_a_page_on_which_nothing_is_written_is_not_asked_about(desk: Desk) -> None:
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("end", "f")
        assert isinstance(desk.screen, GridScreen)
        assert "Nothing is written on" in said(desk)


async def test_enter_goes_to_the_page(desk: Desk, job: Job) -> None:
    open_ones = choose_faults(fault_accounts(job.state), state="open")
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("v", "f", "home", "enter")
        assert isinstance(desk.screen, GridScreen)
        assert desk.screen.page == open_ones[0].page


def first_ways(job: Job) -> list[ToldWay]:
    """The ways of mending the first open fault, as they are offered."""
    (first, *_) = choose_faults(fault_accounts(job.state), state="open")
    assert first.page is not None
    return ways_told(correction_fit(job.state, first.page, first.fault))


async def test_mending_shows_the_caution_only_where_a_knife_is_needed(desk: Desk, job: Job) -> None:
    ways = first_ways(job)
    scraped = next(at for at, way in enumerate(ways) if way.name == "scraped")
    await_knife = ["down"] * scraped
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("v", "f", "home", "s")
        assert isinstance(desk.screen, Choice)
        assert [row.split("  ", 1)[1] for row in shown(desk)] == [way.head for way in ways]
        note = desk.screen.query_one("#note", Label)
        await pilot.press(*await_knife)
        assert str(note.content) == "\n".join(
            [ways[scraped].note[0], remedy("scraped").caution, *ways[scraped].note[1:]]
        )
        assert note.size.height > 5, "the caution is to be read whole"
        await pilot.press("home")
        assert str(note.content) == "\n".join(ways[0].note)
        await pilot.press("enter")
        assert isinstance(desk.screen, FaultsScreen)
        assert not desk._notifications
    mended = [each for each in fault_accounts(job.state) if each.fault.remedy == ways[0].name]
    assert mended


async def test_a_knife_is_cautioned_of_before_the_first_scraping_and_not_again(desk: Desk, job: Job) -> None:
    scraped = [way.name for way in first_ways(job)].index("scraped")
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("v", "f", "home", "s", *["down"] * scraped)
        assert "Caution: Blade: " in str(desk.screen.query_one("#note", Label).content)
        await pilot.press("enter")
        assert isinstance(desk.screen, FaultsScreen)
        assert not desk._notifications
        ways = first_ways(job)
        at = [way.name for way in ways].index("scraped")
        await pilot.press("home", "s", *["down"] * at)
        assert str(desk.screen.query_one("#note", Label).content) == "\n".join(ways[at].note)


@pytest.mark.parametrize("cancels", [True, False])
async def test_a_leaf_cancelled_takes_the_leaf_out_where_that_is_wanted(desk: Desk, job: Job, cancels: bool) -> None:
    leaves = job.state.collation.leaves
    (first, *_) = choose_faults(fault_accounts(job.state), state="open")
    async with desk.run_test(size=SIZE) as pilot:
        at = [way.name for way in first_ways(job)].index("leaf cancelled")
        await pilot.press("v", "f", "home", "s", *["down"] * at, "enter")
        assert isinstance(desk.screen, Choice)
        await pilot.press(*(["down"] if cancels else []), "enter")
        assert isinstance(desk.screen, FaultsScreen)
    found = next(each for each in fault_accounts(job.state) if each.fault.id == first.fault.id)
    assert found.fault.remedy == "leaf cancelled"
    assert job.state.collation.leaves == leaves - cancels
    assert (found.state == "gone") is cancels


async def test_what_faults_tell_in_figures_and_plots(desk: Desk, job: Job) -> None:
    ways = plots(fault_rates(job.state))
    assert {way.by for way in ways} >= {"hand", "kind", "time of day"}
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.press("v", "f", "v", "t")
        assert isinstance(desk.screen, SlipsScreen)
        assert "faults found in" in text(desk, "#said")
        assert "hand A" in text(desk, "#said")
        await pilot.press("right", "escape")
        assert isinstance(desk.screen, FaultsScreen)


async def test_a_change_is_made_at_the_desk_and_taken_back(desk: Desk, job: Job) -> None:
    page = Page.parse("18r")
    first = page_account(job.state, page.index).from_word
    assert job.exemplar is not None
    words = job.exemplar.words
    async with desk.run_test(size=SIZE) as pilot:
        assert isinstance(desk.screen, GridScreen)
        desk.screen.go_to(page)
        await pilot.press("v", "c")
        assert isinstance(desk.screen, ChangesScreen)
        before = len(shown(desk))
        await pilot.press("i", "o")
        assert isinstance(desk.screen, Form)
        desk.screen.query_one("#first", Input).value = " ".join(words[first + 3 : first + 7])
        await pilot.press("ctrl+s")
        assert "needs its reason" in desk.screen.query_one("#refusal", SayLine).said
        desk.screen.query_one("#why", Input).value = "too long"
        await pilot.press("ctrl+s")
        assert isinstance(desk.screen, ChangesScreen)
        assert len(shown(desk)) == before + 1
        assert job.state.changes[-1][:3] == (first + 3, first + 7, "")
        assert " ".join(words[first : first + 3]) in page_account(job.state, page.index).first_words
        await pilot.press("end", "delete")
        assert len(shown(desk)) == before
        await pilot.press("home", "delete")
        assert said(desk) == "It stands in book.yaml, under changes; take it out there."


def test_the_panel_tells_what_to_watch_and_how_far_a_check_came(job: Job) -> None:
    page = Page.parse("18r")
    lines = page_lines(job.state, page_account(job.state, page.index))
    at = [line.head for line in lines].index("Watch")
    assert "; exemplar " in lines[at].says
    assert lines[at + 1].head == ""
    written = Page.parse("11r")
    job.record(job.commands.check(written), hand="B")
    job.record(job.commands.write(written, to_line=48))
    lines = page_lines(job.state, page_account(job.state, written.index))
    assert PanelLine("Checked", "not since lines were written over; check it again", wrong=True) in lines


async def test_a_page_ticked_as_checked_by_its_writer_is_marked_so(desk: Desk, job: Job) -> None:
    page = Page.parse("11r")
    async with desk.run_test(size=SIZE) as pilot:
        assert isinstance(desk.screen, GridScreen)
        desk.screen.go_to(page)
        await pilot.press("c")
        assert "A wrote 11r, so its check is marked as its own writer's" in said(desk)
    lines = page_lines(job.state, page_account(job.state, page.index))
    assert [line.says for line in lines if line.head == "Checked"] == [
        "by A, its own writer, ticked, not read, 20 November 12:00"
    ]
