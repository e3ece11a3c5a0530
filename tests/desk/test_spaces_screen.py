"""The artist's screen under the hand: stages, sheets, arrangements, forms, another desk."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from textual.widgets import Input, OptionList, Static

from copydesk.book.structure.page import Page
from copydesk.desk.book_screens.spaces import SpacesScreen
from copydesk.desk.dialogs.form import Form
from copydesk.desk.page_screens.grid import GridScreen
from copydesk.desk.widgets.gathering_grid import GatheringGrid
from copydesk.desk.widgets.page_drawing import draw_small_page
from copydesk.desk.widgets.plot_view import PlotView
from copydesk.tracking.ledger.ledger import Ledger
from copydesk.tracking.state.book_state import BookState
from copydesk.tracking.views.page_view import page_account
from copydesk.tracking.views.space_view import SpaceAccount, find_space
from idling import until_drawn
from seen import drawn, listed, panel, said

if TYPE_CHECKING:
    from collections.abc import Callable

    from textual.pilot import Pilot

    from copydesk.desk.app import Desk
    from copydesk.job import Job

WIDE = (120, 40)


def space(job: Job, name: str) -> SpaceAccount:
    found = find_space(job.state, name)
    assert found is not None
    return found


async def open_at(desk: Desk, pilot: Pilot[None], page: str) -> None:
    """Open the spaces from a page of the grid."""
    screen = desk.screen
    assert isinstance(screen, GridScreen)
    screen.go_to(Page.parse(page))
    await pilot.press("v", "i")
    assert isinstance(desk.screen, SpacesScreen)


async def test_opens_on_the_space_of_the_page_and_goes_back_to_it(desk: Desk) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await open_at(desk, pilot, "7r")
        assert "ice, miniature: 7r, column 1, lines 15 to 24" in panel(desk)
        await pilot.press("down", "g")
        assert isinstance(desk.screen, GridScreen)
        assert str(desk.screen.query_one(GatheringGrid).page) == "6r"


async def test_one_key_does_the_next_stage_and_one_the_whole(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await open_at(desk, pilot, "2v")
        await pilot.press("space")
        assert space(job, "weir").stage == "coloured"
        assert said(desk) == "space weir coloured by Ines Calloway."
        await pilot.press("enter")
        assert space(job, "weir").stage == "done"
        await pilot.press("u")
        assert space(job, "weir").next_stage == "outlined"
        await pilot.press("m", "d")
        assert space(job, "weir").record.ended == "done"
        assert not any("weir" in row for row in listed(desk))
        await pilot.press("o", "a")
        assert any("weir" in row for row in listed(desk))


async def test_left_empty_in_one_key(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await open_at(desk, pilot, "6r")
        await pilot.press("m", "e")
        assert space(job, "glass").stage == "left-empty"
        assert "left empty on purpose" in said(desk)


async def test_the_list_is_put_together_three_ways(desk: Desk) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press("v", "i")
        heads = [[row for row in listed(desk) if not row.startswith("  ")]]
        for _ in range(4):
            await pilot.press("o", "o")
            heads.append([row for row in listed(desk) if not row.startswith("  ")])
        assert heads[0][0].startswith(" Sheet 1.1: with the artist (Ines Calloway)")
        assert [head.split(":")[0].strip() for head in heads[1]] == ["To be drawn", "To be coloured", "To be outlined"]
        assert [head.split(":")[0].strip() for head in heads[2][:3]] == ["Gold leaf", "Shell gold", "Shell silver"]
        assert sorted(heads[3]) == sorted(heads[0])
        assert heads[4] == heads[0]


async def test_by_stage_the_cursor_waits_for_the_next_space(desk: Desk) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press("v", "i", "o", "o")
        options = desk.screen.query_one(OptionList)
        options.highlighted = 1
        following = listed(desk)[2]
        await pilot.press("space")
        assert listed(desk)[1] == following
        assert options.highlighted == 1


async def test_a_sheet_is_given_back_and_taken_again(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await open_at(desk, pilot, "2v")
        await pilot.press("b")
        assert job.state.sheet_record("1.2").place == "desk"
        assert any("Sheet 1.2: may leave the desk now" in row for row in listed(desk))
        assert "1 sheet may leave the desk" in str(desk.screen.query_one("#title", Static).render())
        await pilot.press("t")
        assert "3 sheets with the artist" in str(desk.screen.query_one("#title", Static).render())
        assert job.state.sheet_record("1.2").who == "Ines Calloway"
        await pilot.press("t")
        assert "sheet 1.2 has been with the artist (Ines Calloway) since 20 November 12:00 already" in said(desk)


async def test_a_sheet_taken_early_is_said_to_be(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await open_at(desk, pilot, "10r")
        await pilot.press("t")
        assert job.state.sheet_record("2.2").place == "artist"
        assert "it leaves early and still waits for 10r corrected" in said(desk)


async def test_what_another_desk_took_is_told(desk: Desk, open_job: Callable[..., Job]) -> None:
    other = open_job("stove")
    async with desk.run_test(size=WIDE) as pilot:
        await open_at(desk, pilot, "10r")
        other.record(other.commands.sheet("2.2", "artist", "Bea Lindqvist"), hand="B")
        await pilot.press("t")
        assert "sheet 2.2 has been with the artist (Bea Lindqvist)" in said(desk)
        assert len(desk.job.ledger.live("sheet", "2.2")) == 1


async def test_the_panel_turns_to_cautions_and_to_the_tally(desk: Desk) -> None:
    async with desk.run_test(size=(80, 24)) as pilot:
        await open_at(desk, pilot, "2v")
        assert "Lead" not in panel(desk)
        await pilot.press("o", "c")
        assert "Lead: builds up in the body" in panel(desk)
        assert "safety data sheet" in panel(desk).splitlines()[-1]
        await pilot.press("o", "c")
        assert "gath. 1 foot of 8v: 5 headings, 32 small initials, 15 verse letters" in panel(desk)
        await pilot.press("o", "c")
        assert "weir, miniature" in panel(desk)


async def test_a_wide_panel_cautions_for_the_space(desk: Desk) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await open_at(desk, pilot, "2v")
        assert "lead white: Lead: builds up in the body" in panel(desk)
        assert "Mercury" not in panel(desk)


async def test_a_stage_shows_the_cautions_for_its_materials_once(desk: Desk) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await open_at(desk, pilot, "2v")
        await pilot.press("enter")
        [notice] = desk._notifications
        assert "Caution: lead white: Lead: builds up in the body" in notice.message
        assert all(line.startswith(("Caution: ", "And ")) for line in notice.message.splitlines())
        await pilot.press("u", "enter")
        assert len(desk._notifications) == 1


async def test_a_space_is_added_in_a_form_that_says_what_is_wrong(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press("v", "i", "i")
        form = desk.screen
        assert isinstance(form, Form)
        for name, text in {"space": "owl", "at": "page 2v", "lines": "4", "materials": "azurite, gold leaf"}.items():
            form.query_one(f"#{name}", Input).value = text
        form.action_done()
        assert "2v is ruled, so no room can be made on it for owl" in str(form.query_one("#refusal").render())
        form.query_one("#at", Input).value = "page 20r line 3"
        form.query_one("#hours", Input).value = "2,5"
        form.query_one("#stages", Input).value = "drawn, gilded"
        form.query_one("#artist", Input).value = "Zoe"
        form.action_done()
        await pilot.pause()
        owl = space(job, "owl")
        assert (str(owl.page), owl.plan.materials, owl.plan.hours) == ("20r", ("azurite", "gold leaf"), 2.5)
        assert (owl.stages, owl.plan.artist) == (("drawn", "gilded"), "Zoe")
        assert "space owl, a miniature of 4 lines, added at page 20r line 3 by A." in said(desk)


@pytest.mark.parametrize(
    ("key", "field", "value", "tells"),
    [
        ("n", "lines", "14", "given 14 lines in place of 12"),
        ("m", "at", "division 12 paragraph 2", "moved to division 12"),
    ],
)
async def test_a_space_changes_while_its_page_is_unruled(
    desk: Desk, key: str, field: str, value: str, tells: str
) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await open_at(desk, pilot, "23r")
        await pilot.press("m", key)
        desk.screen.query_one(f"#{field}", Input).value = value
        assert isinstance(desk.screen, Form)
        desk.screen.action_done()
        await pilot.pause()
        assert f"space flood {tells}" in said(desk)


async def test_a_space_is_given_up_but_not_one_on_a_ruled_page(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await open_at(desk, pilot, "23r")
        await pilot.press("m", "x")
        assert find_space(job.state, "flood") is None
        await pilot.press("u", "home", "m", "x")
        assert "is ruled, with space" in said(desk)


async def test_a_book_without_spaces_says_so(desk: Desk, job: Job) -> None:
    job.state = BookState(replace(job.book, spaces=()), job.exemplar, Ledger(), job.state.samples)
    async with desk.run_test(size=(80, 24)) as pilot:
        await pilot.press("v", "i")
        assert said(desk) == "This book has no spaces; i adds one."
        await pilot.press("space", "m", "d", "t", "g", "m", "x", "o", "c", "o", "c")
        assert isinstance(desk.screen, SpacesScreen)


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (200, 60), (40, 10)])
async def test_every_size_draws_a_row_a_space(desk: Desk, size: tuple[int, int]) -> None:
    async with desk.run_test(size=size) as pilot:
        await pilot.press("v", "i")
        assert all(len(row) <= 78 for row in listed(desk) if row.startswith("  "))
        assert panel(desk)


@pytest.mark.parametrize("size", [(120, 40), (200, 60)])
async def test_a_small_picture_shows_the_space_in_its_place(desk: Desk, job: Job, size: tuple[int, int]) -> None:
    async with desk.run_test(size=size) as pilot:
        await pilot.press("v", "i")
        screen = desk.screen
        assert isinstance(screen, SpacesScreen)
        chosen = screen.in_hand
        assert chosen is not None
        assert chosen.account.page is not None
        account = page_account(job.state, chosen.account.page.index)
        rows = draw_small_page(job.state, account, chosen.account.plan.id, 38)
        said = ["".join(piece.text for piece in row) for row in rows]
        assert str(chosen.account.page) in said[0]
        assert any(piece.tone == "expected" for row in rows for piece in row)
        assert sum("━" in row for row in said) == len(said) - 2
        region = screen.query_one(PlotView).region
        shown = screen._compositor.render_strips()[region.y : region.y + len(said)]
        assert ["".join(segment.text for segment in strip)[region.x :][: len(said[0])] for strip in shown] == said
        await pilot.press("o", "c")
        assert not screen.query_one(PlotView).display


async def test_a_narrow_screen_keeps_its_room_for_words(desk: Desk) -> None:
    async with desk.run_test(size=(80, 24)) as pilot:
        await pilot.press("v", "i")
        assert not desk.screen.query_one(PlotView).display


@pytest.mark.parametrize("size", [WIDE, (80, 24)])
async def test_a_space_at_words_of_the_text_shows_its_effect_before_it_is_kept(
    desk: Desk, job: Job, size: tuple[int, int]
) -> None:
    assert job.exemplar is not None
    async with desk.run_test(size=size) as pilot:
        await pilot.press("v", "i", "i")
        await pilot.pause()
        form = desk.screen
        assert isinstance(form, Form)
        known, word = len(job.ledger), len(job.exemplar.words) - 40
        letters = " ".join(job.exemplar.words[word : word + 5])
        for name, text in {"space": "owl", "lines": "8", "at": letters}.items():
            form.query_one(f"#{name}", Input).value = text
            await pilot.pause()
        assert "owl would stand on" in said(desk)
        assert "before." in said(desk)
        await until_drawn(pilot, lambda: "owl would stand on" in drawn(desk))  # above the keys, on a low screen too
        assert len(job.ledger) == known
        await pilot.press("ctrl+s")
        assert space(job, "owl").plan.at.word == word


async def test_grey_text_of_a_new_space_is_what_is_taken(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press("v", "i", "i")
        await pilot.pause()
        lines = {
            name: desk.screen.query_one(f"#{name}", Input) for name in ("kind", "lines", "width", "materials", "at")
        }
        stages, artist = desk.screen.query_one("#stages", Input), desk.screen.query_one("#artist", Input)
        assert (stages.placeholder, artist.placeholder) == ("drawn, gilded, coloured, outlined", "Ines Calloway")
        assert lines["lines"].placeholder == ""
        lines["kind"].value = "border"
        await pilot.pause()
        assert lines["lines"].placeholder == "0"
        lines["kind"].value, lines["lines"].value = "initial", "3"
        lines["materials"].value, lines["at"].value = "gold leaf, azurite", "page 20r line 3"
        desk.screen.query_one("#space", Input).value = "extra"
        await pilot.pause()
        shown = (stages.placeholder, lines["width"].placeholder)
        assert shown == ("drawn, gilded, coloured", "19 mm")
        await pilot.press("ctrl+s")
        added = space(job, "extra")
        assert ", ".join(added.stages) == shown[0]
