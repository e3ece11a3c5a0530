"""The desk's first screen under the hand: keys, mouse, what is said, other desks, undo."""

from __future__ import annotations

import shutil
from typing import TYPE_CHECKING

import pytest
from textual.widgets import Input

from copydesk.book.structure.page import Page
from copydesk.desk.app import Desk
from copydesk.desk.book_screens.overview import OverviewScreen
from copydesk.desk.dialogs.form import Choice, Form
from copydesk.desk.page_screens.grid import GridScreen
from copydesk.desk.widgets.gathering_grid import BLOCK, GatheringGrid
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.tracking.views.page_lookup import next_to_write
from copydesk.tracking.views.page_view import page_account
from seen import said

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from textual.pilot import Pilot

    from copydesk.job import Job

WIDE = (120, 40)


def cursor(desk: Desk) -> Page:
    return desk.screen.query_one(GatheringGrid).page


async def wait_until(pilot: Pilot[None], wanted: Callable[[], bool]) -> None:
    """Wait for what a desk takes in by itself; a machine under load may be slow, so up to five seconds."""
    for _ in range(50):
        if wanted():
            return
        await pilot.pause(0.1)
    assert wanted()


def state(job: Job, page: str) -> str:
    return page_account(job.state, Page.parse(page).index).record.state


@pytest.mark.parametrize("width", range(80, 100, 5))
async def test_a_gathering_fits_beside_the_scroll_bar(desk: Desk, width: int) -> None:
    async with desk.run_test(size=(width, 48)) as pilot:
        await pilot.pause()
        grid = desk.screen.query_one(GatheringGrid)
        assert grid.show_vertical_scrollbar
        assert not grid.show_horizontal_scrollbar
        await pilot.press("w")
        assert not grid.show_horizontal_scrollbar


async def test_opens_on_the_page_to_write_next(desk: Desk) -> None:
    async with desk.run_test(size=WIDE):
        assert isinstance(desk.screen, GridScreen)
        assert str(cursor(desk)) == "12v"
        assert "At this desk: hand" in said(desk)


async def test_one_key_ticks_the_page_and_one_takes_it_back(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        before = job.state.budget.pages
        await pilot.press("w")
        assert state(job, "12v") == "written"
        assert "12v written by A, lines 24 to 48" in said(desk)
        await pilot.press("u")
        assert state(job, "12v") == "begun"
        assert job.state.budget.pages == before
        await pilot.press("y")
        assert state(job, "12v") == "written"


async def test_a_book_opens_on_the_page_to_write_next_and_a_fresh_one_on_its_first(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE):
        assert cursor(desk).index == next_to_write(job.state, -1) != 0


async def test_a_fresh_book_opens_on_its_first_page(folder: Path, open_job: Callable[..., Job]) -> None:
    (folder / "ledger.jsonl").unlink()
    shutil.rmtree(folder / ".copydesk", ignore_errors=True)
    desk = Desk(open_job())
    async with desk.run_test(size=WIDE):
        assert cursor(desk) == Page.parse("1r")


async def test_enter_does_what_the_word_says(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        desk.screen.go_to(Page.parse("17r"))
        for expected in ("ruled", "written", "corrected"):
            await pilot.press("enter")
            assert state(job, "17r") == expected


async def test_a_tick_is_in_the_ledger_on_disk_before_it_is_said(desk: Desk, folder: Path) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        lines = len((folder / "ledger.jsonl").read_bytes().splitlines())
        await pilot.press("w")
        kept = (folder / "ledger.jsonl").read_bytes().splitlines()
        assert len(kept) == lines + 1
        assert b'"12v"' in kept[-1]


async def test_written_to_a_line_with_its_last_words(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        desk.screen.go_to(Page.parse("13r"))
        planned = page_account(job.state, Page.parse("13r").index)
        words = job.exemplar.words[planned.from_word + 60 : planned.from_word + 64]
        await pilot.press("e")
        assert isinstance(desk.screen, Form)
        desk.screen.query_one("#line", Input).value = "12"
        desk.screen.query_one("#ends", Input).value = " ".join(words)
        await pilot.press("ctrl+s")
        record = page_account(job.state, Page.parse("13r").index).record
        assert record.written == 12
        assert record.ends == planned.from_word + 64
        assert record.state == "begun"


async def test_a_refusal_is_said_in_the_form_and_changes_nothing(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        entries = len(job.ledger)
        await pilot.press("e")
        desk.screen.query_one("#ends", Input).value = "words that stand nowhere [bold]"
        await pilot.press("ctrl+s")
        assert isinstance(desk.screen, Form)
        assert "does not stand in the exemplar" in str(desk.screen.query_one("#refusal").render())
        await pilot.press("escape")
        assert len(job.ledger) == entries


@pytest.mark.parametrize(
    ("typed", "minutes"), [("90", 90), ("1h30", 90), ("1:30", 90), ("90 min", 90), ("1.5 h", 90), ("7,5", 7.5)]
)
async def test_minutes_of_a_written_page_as_people_type_them(desk: Desk, job: Job, typed: str, minutes: float) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press("e")
        desk.screen.query_one("#minutes", Input).value = typed
        await pilot.press("ctrl+s")
        assert not isinstance(desk.screen, Form)
        assert list(job.ledger)[-1].amount("minutes") == minutes


@pytest.mark.parametrize("typed", ["²", "1h75", "an hour"])
async def test_minutes_that_cannot_be_read_are_refused_and_nothing_is_recorded(
    desk: Desk, job: Job, typed: str
) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        entries = len(job.ledger)
        await pilot.press("e")
        desk.screen.query_one("#minutes", Input).value = typed
        await pilot.press("ctrl+s")
        assert isinstance(desk.screen, Form)
        said_in_form = str(desk.screen.query_one("#refusal").render())
        assert f"the time is '{typed}', which is not a time; write minutes, as in 90" in said_in_form
        assert len(job.ledger) == entries


async def test_check_before_writing_is_refused_in_words(desk: Desk) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press("c")
        assert "not written whole" in said(desk)


async def test_settling_asks_how(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        desk.screen.go_to(Page.parse("9v"))
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(desk.screen, Choice)
        await pilot.press("enter")
        await pilot.pause()
        assert state(job, "9v") == "corrected"


@pytest.mark.parametrize(
    ("keys", "page"),
    [
        (["right"], "13v"),
        (["left"], "11v"),
        (["up"], "12r"),
        (["down"], "20r"),
        (["up", "up"], "4v"),
        (["pagedown"], "20v"),
        (["home"], "1r"),
        (["end"], "32v"),
        (["n"], "13r"),
        (["home", "left"], "1r"),
    ],
)
async def test_moving(desk: Desk, keys: list[str], page: str) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press(*keys)
        assert str(cursor(desk)) == page


async def test_jump_to_a_page_by_its_number(desk: Desk) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press("g", *"99r", "enter")
        assert "there is no page 99r" in str(desk.screen.query_one("#refusal").render())
        desk.screen.query_one("#page", Input).value = "21"
        await pilot.press("enter")
        assert str(cursor(desk)) == "21r"


async def test_next_waiting_space(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press("p")
        assert page_account(job.state, cursor(desk).index).spaces_waiting


async def test_clicks_move_and_do(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        grid = desk.screen.query_one(GatheringGrid)
        grid.cursor = Page.parse("9r").index
        await pilot.pause()
        slot = next(slot for slot in grid.slots(1) if slot.leaf == 11)
        place = (slot.left + 3, BLOCK + 3 - grid.scroll_offset.y)
        await pilot.click(GatheringGrid, offset=place)
        assert str(cursor(desk)) == "11r"
        await pilot.click(GatheringGrid, offset=place)
        assert state(job, "11r") == "corrected"


async def test_overview_and_back(desk: Desk) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press("o")
        assert isinstance(desk.screen, OverviewScreen)
        await pilot.press("down", "enter")
        assert str(cursor(desk)) == "17r"


async def test_another_desk_shows_within_a_second(desk: Desk, open_job: Callable[..., Job]) -> None:
    other = open_job("stove")
    async with desk.run_test(size=WIDE) as pilot:
        other.record(other.commands.write(Page.parse("12v")), hand="B")
        await wait_until(pilot, lambda: state(desk.job, "12v") == "written")


async def test_a_changed_plan_with_faults_is_refused_while_the_old_one_stays(desk: Desk, folder: Path) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        plan = folder / "book.yaml"
        sound = plan.read_text("utf-8")
        plan.write_text(sound.replace("columns:", "colums:"), "utf-8")
        await wait_until(pilot, lambda: "changed plan was not taken" in said(desk))
        assert desk.job.book.columns.count == 2
        plan.write_text(sound.replace("The Twelve Waters", "Another name", 2), "utf-8")
        await wait_until(pilot, lambda: desk.job.book.title == "Another name")


async def test_text_with_brackets_is_shown_as_it_is(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        act = job.commands.fault(Page.parse("12v"), "addition", stands="[/red] and [b]bold", column=1, line=2)
        job.record(act)
        desk.screen.renew()
        await pilot.pause()
        shown = "\n".join(line.says for line in desk.screen.query_one(LinesPanel).lines_shown)
        assert "[/red] and [b]bold" in shown


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (200, 60), (40, 10)])
async def test_every_size_draws(desk: Desk, size: tuple[int, int]) -> None:
    async with desk.run_test(size=size) as pilot:
        await pilot.press("down", "right")
        strip = desk.screen.query_one(GatheringGrid).render_line(0)
        assert strip.cell_length == desk.screen.query_one(GatheringGrid).size.width


async def test_the_state_is_told_without_colour(job: Job, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    from copydesk.desk.app import Desk

    desk = Desk(job)
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.pause()
        text = "\n".join(
            desk.screen.query_one(GatheringGrid).render_line(y).text
            for y in range(desk.screen.query_one(GatheringGrid).size.height)
        )
        for word in ("done A", "mend 1A", "check B", "write B", "rule", "paint 1A", "sheet 4, inner side, hair"):
            assert word in text


async def test_the_next_opening_begins_with_the_last_picture(desk: Desk, folder: Path) -> None:
    from copydesk import __version__
    from copydesk.desk.app import Desk as Again
    from copydesk.desk.base.grid_snapshot import picture_from
    from copydesk.desk.opening import OpeningScreen, PictureGrid
    from copydesk.job import Job
    from copydesk.store.folder.screen_cache import read_picture

    async with desk.run_test(size=WIDE) as pilot:
        await pilot.pause()
        before = [desk.screen.query_one(GatheringGrid).render_line(y).text.rstrip() for y in range(38)]
        desk.keep_picture()
    picture = picture_from(read_picture(folder, __version__))
    assert picture is not None
    again = Again(lambda: Job.open(folder, desk="window"), picture=picture)
    async with again.run_test(size=WIDE) as pilot:
        await pilot.pause()
        assert isinstance(again.screen_stack[0], OpeningScreen)
        drawn = again.screen_stack[0].query_one(PictureGrid)
        assert [drawn.render_line(y).text.rstrip() for y in range(38)] == before
        assert isinstance(again.screen, GridScreen)
    (folder / "book.yaml").touch()
    assert read_picture(folder, __version__) is None
