"""The binder's walk and the colophon, under the hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from textual.widgets import Input, OptionList

from copydesk.desk.book_screens.assembly import AssemblyScreen
from copydesk.desk.book_screens.colophon import ColophonScreen
from copydesk.desk.page_screens.grid import GridScreen
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.desk.wording.assembly_words import gathering_row, sheet_lines, sheet_row, title_words, walk_rows
from copydesk.tracking.binding.assembly import assembly
from copydesk.tracking.binding.binding_walk import binding_walk
from copydesk.tracking.binding.bound_book import binding_of
from copydesk.tracking.binding.colophon import colophon, kept_colophon
from copydesk.tracking.binding.flyleaf_walk import flyleaf_walk
from copydesk.tracking.commands import leaf_commands as leaf_acts
from seen import said, title

if TYPE_CHECKING:
    from copydesk.desk.app import Desk
    from copydesk.job import Job

WIDE, NARROW = (140, 40), (80, 24)


def told(desk: Desk) -> list[str]:
    return [f"{line.head}: {line.says}" for line in desk.screen.query_one("#lines", LinesPanel).lines_shown]


@pytest.mark.parametrize("size", [WIDE, NARROW])
async def test_the_walk_begins_on_the_first_sheet_and_says_what_is_in_its_way(
    desk: Desk, size: tuple[int, int]
) -> None:
    async with desk.run_test(size=size) as pilot:
        await pilot.press("v", "b")
        assert isinstance(desk.screen, AssemblyScreen)
        assert title(desk).startswith(" Not ready to sew: ")
        assert "0 of 16 sheets walked, 0 of 5 flyleaves" in title(desk)
        rows = desk.screen.query_one(OptionList)
        assert (rows.option_count, rows.highlighted) == (3 + 20 + 4, 1)
        assert told(desk)[:2] == ["i: flyleaf i, before the text", "Obstacle: not yet found in place"]
        rows.highlighted = 4
        await pilot.pause()
        lines = told(desk)
        assert lines[0].startswith("1.1: outer side 8v and 1r, inner side 1v and 8r; hair outward; with the artist")
        assert lines[1] == 'Find: signed a j; catchword "hear it." at the foot of 8v'
        assert "Obstacle: 1r: space key waits" in lines


async def test_a_sheet_is_ticked_with_one_key_and_the_tick_taken_away(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press("v", "b", "down", "down", "enter")
        assert said(desk) == "sheet 1.1 is with the artist; bring it to the desk before it is walked"
        await pilot.press("down", "down", "down", "enter")
        assert job.state.sheet_record("1.4").walked
        assert "1 of 16 sheets walked" in title(desk)
        rows = desk.screen.query_one(OptionList)
        assert told(desk)[0].startswith("2.1")  # on to the next, past the gathering's heading
        rows.highlighted = 7
        await pilot.press("enter")
        assert not job.state.sheet_record("1.4").walked
        assert "Taken back: sheet 1.4 found in its place" in said(desk)


async def test_flyleaves_are_ticked_with_the_same_key(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press("v", "b", "enter", "enter")
        assert [each.name for each in flyleaf_walk(job.state) if each.ticked] == ["front.1", "front.2"]
        assert "2 of 5 flyleaves" in title(desk)
        assert told(desk)[0].startswith("1.1")  # on to the first sheet
        await pilot.press("up")
        assert told(desk)[:2] == ["ii: flyleaf ii, before the text", f"Found: in its place by {job.hand}"]
        await pilot.press("enter")
        assert said(desk).startswith("Taken back: flyleaf ii found in its place")
        assert "1 of 5 flyleaves" in title(desk)
        await pilot.press("u")
        assert "0 of 5 flyleaves" in title(desk)


def test_flyleaves_stand_before_and_after_the_gatherings(job: Job) -> None:
    rows = walk_rows(job.state, assembly(job.state))
    assert [row.text for row in rows[:3]] == [" Before the text   2 flyleaves", "   · flyleaf i", "   · flyleaf ii"]
    assert [row.text for row in rows[-4:]] == [
        " After the text   3 flyleaves",
        "   · flyleaf iii",
        "   · flyleaf iv",
        "   · flyleaf v",
    ]
    bare = assembly(job.state)._replace(flyleaves=())
    assert walk_rows(job.state, bare) == rows[3:-4]
    assert title_words(bare).endswith("sheets walked")


async def test_n_goes_to_what_is_in_the_way_and_g_to_its_page(desk: Desk) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press("v", "b", "n")
        assert told(desk)[0].startswith("ii: flyleaf ii")
        await pilot.press("g")
        assert said(desk) == "flyleaf ii has no page of the text."
        await pilot.press("n", "n")
        assert told(desk)[0].startswith("1.2")
        await pilot.press("g")
        assert isinstance(desk.screen, GridScreen)
        assert str(desk.screen.page) == "2r"


async def test_the_colophon_is_kept_with_one_key(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press("v", "b", "v", "o")
        assert isinstance(desk.screen, ColophonScreen)
        assert told(desk)[1] == ": Agnes Orrin wrote 1r to 12r."
        await pilot.press("ctrl+s")
        assert kept_colophon(job.state).startswith("The Twelve Waters was copied")
        assert said(desk) == "Kept in the ledger."
        entries = len(job.ledger)
        await pilot.press("ctrl+s")
        assert (said(desk), len(job.ledger)) == ("Kept in these words already; nothing was recorded.", entries)
        await pilot.press("u")
        assert kept_colophon(job.state) == ""
        await pilot.press("escape")
        assert isinstance(desk.screen, AssemblyScreen)


def test_rows_fit_a_narrow_screen_and_name_stubs(job: Job) -> None:
    job.record(leaf_acts.cancel_leaf(job.state, 20))
    found = assembly(job.state)
    walk = binding_walk(job.state, found)
    rows = [sheet_row(sheet, job.book) for gathering in walk for sheet in gathering.sheets]
    assert all(len(row) < NARROW[0] for row in rows if "stub" not in row)
    assert rows[0] == '   · 1.1   1, 8     hair   a j     "hear it."      artist; 2 obstacles'
    (stub,) = [sheet for sheet in walk[2].sheets if sheet.instead]
    assert "a stub: the leaf was cancelled" in sheet_row(stub, job.book)
    assert next(sheet_lines(stub, job.book)).says.startswith("outer side 20v and a stub")
    assert gathering_row(walk[2], job.book) == " Gathering 3   leaves 17 to 23   4 sheets, the outermost first"


def test_the_title_says_ready_when_it_is(job: Job) -> None:
    found = assembly(job.state)._replace(obstacles=(), sheets=2, walked=1, flyleaves=())
    assert title_words(found) == "Ready to sew. 1 of 2 sheets walked"
    assert title_words(found._replace(walked=2)) == "Ready to sew, every sheet walked"


async def test_the_binding_is_recorded_and_the_colophon_names_its_day(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press("v", "b", "m", "b")
        desk.screen.query_one("#who", Input).value = "Jory Pell"
        await pilot.press("enter", "enter")
        assert isinstance(desk.screen, AssemblyScreen)
        assert "sewn and bound" in said(desk)
        found = binding_of(job.state)
        assert found is not None
        assert found.who == "Jory Pell"
        assert "Sewn and bound by Jory Pell on " in colophon(job.state).text
        await pilot.press("u")
        assert binding_of(job.state) is None
