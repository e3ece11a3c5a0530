"""The desk's first screen under the hand: keys, mouse, what is said, other desks, undo."""

from __future__ import annotations

import shutil
from typing import TYPE_CHECKING

import pytest
from textual.events import MouseScrollDown
from textual.widgets import Input

from copydesk.book.structure.page import Page
from copydesk.desk.app import Desk
from copydesk.desk.book_screens.overview import OverviewScreen
from copydesk.desk.dialogs.form import Choice, Form
from copydesk.desk.page_screens.check import CheckScreen
from copydesk.desk.page_screens.grid import GridScreen
from copydesk.desk.widgets.gathering_grid import GatheringGrid
from copydesk.desk.widgets.grid_rows import CLOSED
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.desk.widgets.page_panel import PagePanel
from copydesk.desk.widgets.toned_lines import TonedLines
from copydesk.tracking.views.page_lookup import next_to_write
from copydesk.tracking.views.page_report import page_reports
from copydesk.tracking.views.page_view import page_account
from seen import said

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from rich.segment import Segment
    from textual.pilot import Pilot

    from copydesk.job import Job

WIDE = (120, 40)


def heading(desk: Desk) -> str:
    """The title row."""
    return desk.screen.query_one("#heading", TonedLines).render_line(0).text


def shown(desk: Desk) -> str:
    """The gatherings as they stand on the screen."""
    grid = desk.screen.query_one(GatheringGrid)
    return "\n".join(grid.render_line(y).text.rstrip() for y in range(grid.size.height))


def open_now(desk: Desk) -> list[int]:
    """The gatherings that lie open on the screen, from 1."""
    grid = desk.screen.query_one(GatheringGrid)
    rows = (row for y in range(grid.size.height) if (row := grid.row_at(y)) is not None and row.row != CLOSED)
    return sorted({row.gathering + 1 for row in rows})


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


async def test_opens_on_the_page_to_write_next(desk: Desk) -> None:
    async with desk.run_test(size=WIDE):
        assert isinstance(desk.screen, GridScreen)
        assert str(cursor(desk)) == "12v"
        assert "The Twelve Waters   at the desk: A, Agnes Orrin" in heading(desk)


async def test_one_key_ticks_the_page_and_one_takes_it_back(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        before = job.state.budget.pages
        await pilot.press("w")
        assert state(job, "12v") == "written"
        assert said(desk).startswith("12v written")
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
        for expected in ("ruled", "written", "written"):
            await pilot.press("enter")
            assert state(job, "17r") == expected
        assert isinstance(desk.screen, CheckScreen)


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


async def test_mending_asks_how(desk: Desk, job: Job) -> None:
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
        place = grid.place_of(Page.parse("11r").index)
        assert place is not None
        before = len(job.ledger)
        await pilot.click(GatheringGrid, offset=place)
        assert (str(cursor(desk)), len(job.ledger)) == ("11r", before)
        await pilot.click(GatheringGrid, offset=place)
        assert isinstance(desk.screen, CheckScreen)


@pytest.mark.parametrize(("size", "count"), [((80, 24), 1), ((120, 40), 3), ((200, 60), 4), ((100, 12), 1)])
async def test_as_many_gatherings_lie_open_as_fit_the_others_a_line_each(
    desk: Desk, size: tuple[int, int], count: int
) -> None:
    async with desk.run_test(size=size) as pilot:
        await pilot.pause()
        assert len(open_now(desk)) == count
        assert 2 in open_now(desk)


async def test_the_open_block_stays_while_the_cursor_is_inside_it(desk: Desk) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        assert open_now(desk) == [1, 2, 3]
        await pilot.press("pageup", "pagedown", "pagedown")
        assert open_now(desk) == [1, 2, 3]
        await pilot.press("pagedown")
        assert open_now(desk) == [2, 3, 4]
        await pilot.press("pageup", "pageup")
        assert open_now(desk) == [2, 3, 4]
        await pilot.press("home")
        assert open_now(desk) == [1, 2, 3]


async def test_a_line_for_every_gathering_and_back(desk: Desk) -> None:
    async with desk.run_test(size=(80, 24)) as pilot:
        await pilot.press("o")
        lines = shown(desk).splitlines()
        assert [line.split()[0] for line in lines if line] == ["1", "2", "3", "4"]
        assert lines[0].startswith("   1  1–8     P· PP ·· P· ║ P· P· P· P·      16/16 written   16 checked     ◇8")
        await pilot.press("down")
        assert str(cursor(desk)) == "20v"
        await pilot.press("o")
        assert 3 in open_now(desk)


async def test_a_click_on_a_closed_gathering_goes_to_the_page_under_it(desk: Desk) -> None:
    async with desk.run_test(size=(80, 24)) as pilot:
        row = next(y for y in range(20) if heading_of(desk, y).startswith("   3  17–24"))
        await pilot.click(GatheringGrid, offset=(heading_of(desk, row).index("║") + 2, row))
        assert str(cursor(desk)) == "21r"


def heading_of(desk: Desk, row: int) -> str:
    """A row of the gatherings."""
    return desk.screen.query_one(GatheringGrid).render_line(row).text


async def test_the_wheel_looks_further_and_leaves_the_cursor(desk: Desk) -> None:
    async with desk.run_test(size=(80, 24)) as pilot:
        grid = desk.screen.query_one(GatheringGrid)
        grid.post_message(wheel_down(grid))
        await pilot.pause()
        assert open_now(desk) == [3]
        assert str(cursor(desk)) == "12v"
        await pilot.press("left")
        assert open_now(desk) == [2]


def wheel_down(grid: GatheringGrid) -> MouseScrollDown:
    """A turn of the wheel over the gatherings."""
    return MouseScrollDown(grid, 5, 5, 0, 1, 0, False, False, False)


@pytest.mark.parametrize(
    ("size", "said_there"),
    [
        ((80, 24), "25/57 written   ✓20   !2   ◇21"),
        ((120, 40), "25/57 written   ✓20 checked   !2 faults open   ◇21 spaces wait"),
    ],
)
async def test_the_title_has_the_totals(desk: Desk, job: Job, size: tuple[int, int], said_there: str) -> None:
    async with desk.run_test(size=size) as pilot:
        await pilot.pause()
        assert heading(desk).rstrip().endswith(said_there)
        await pilot.press("w")
        await pilot.pause()
        assert "26/57 written" in heading(desk)
        accounts = page_reports(job.state)
        assert sum(account.spaces_waiting for account in accounts) == 21
        assert sum(account.record.whole for account in accounts) == 26


async def test_the_panel_says_every_mark_of_the_cell_and_what_waits_in_the_book(desk: Desk) -> None:
    async with desk.run_test(size=(120, 40)) as pilot:
        await pilot.pause()
        panel = desk.screen.query_one(PagePanel)
        rows = [panel.render_line(y).text.rstrip() for y in range(panel.size.height)]
        for row in (" 23/48      48 lines for text, ruled,", " What waits in the book", "   2 mend   9v 10r"):
            assert row in rows
        desk.screen.go_to(Page.parse("10r"))
        await pilot.pause()
        heads = [line.head for line in panel.lines_shown]
        assert heads[:3] == ["10r", "Next", "48/48"]
        assert {"A", "✓", "!1", "◇1d", "Text"} <= set(heads)


async def test_undo_is_offered_once_this_desk_recorded_something(open_job: Callable[..., Job]) -> None:
    desk = Desk(open_job("another"))
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.pause()

        def offered() -> bool:
            return "all.undo" in {key.id for key in desk.screen.keys_now()}

        assert not offered()
        await pilot.press("n", "w")
        await pilot.pause()
        assert offered()
        await pilot.press("u")
        await pilot.pause()
        assert not offered()


async def test_a_wide_screen_shows_what_was_recorded_lately_and_the_sheet(desk: Desk) -> None:
    async with desk.run_test(size=(200, 60)) as pilot:
        await pilot.pause()
        panel = desk.screen.query_one(PagePanel)
        text = "\n".join(panel.render_line(y).text for y in range(panel.size.height))
        assert "16 Oct 15:40 B sat down at the desk" in text
        assert "The sheet as it lies" in text
        assert "12v  write" in text


async def test_the_page_to_write_next_stands_in_capitals_wherever_the_cursor_is(desk: Desk) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press("home")
        await pilot.pause()
        assert shown(desk).count("WRITE") == 1
        await pilot.press("n", "w")
        await pilot.pause()
        x, y = desk.screen.query_one(GatheringGrid).place_of(Page.parse("13r").index) or (0, 0)
        assert heading_of(desk, y)[x : x + 5] == "WRITE"
        assert shown(desk).count("WRITE") == 1


async def test_the_list_of_gatherings_tells_what_waits_in_the_one_in_hand(desk: Desk) -> None:
    async with desk.run_test(size=(120, 40)) as pilot:
        await pilot.press("v", "g")
        await pilot.pause()
        lines = desk.screen.query_one(LinesPanel)
        assert [line.head.split() for line in lines.lines_shown][:3] == [["7", "write"], ["5", "check"], ["2", "mend"]]
        assert lines.lines_shown[2].says == "9v 10r"
        await pilot.press("up")
        await pilot.pause()
        assert [line.says for line in lines.lines_shown] == ["1r 2r 2v 4r 5r 6r 7r 8r"]


async def test_overview_and_back(desk: Desk) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press("v", "g")
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
        told = "\n".join(line.says for line in desk.screen.query_one(PagePanel).lines_shown)
        assert "[/red] and [b]bold" in told


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
        text = shown(desk)
        for fact in (
            "mend  !1 check",
            "━━━━ ◇1d",
            "23/48",
            "A      ✓",
            "13 ○",
            "▐WRITE   ▌",
            "sheet 4, inner side, hair",
        ):
            assert fact in text
        grid = desk.screen.query_one(GatheringGrid)
        _, y = grid.place_of(grid.cursor) or (0, 0)
        reversed_text = "".join(part.text for part in grid.render_line(y + 1) if part.style and part.style.reverse)
        assert reversed_text == "━━──    "
        colours = {part.style.color for part in strips_of(desk) if part.style is not None}
        assert all(colour is None or colour.is_default for colour in colours)


def strips_of(desk: Desk) -> list[Segment]:
    """Every piece of the screen as it goes to the terminal."""
    return [part for strip in desk.screen._compositor.render_strips() for part in strip]


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


async def test_enters_alone_lead_to_reading_and_never_to_a_check(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=(120, 40)) as pilot:
        page = Page.parse("13v")
        desk.screen.query_one(GatheringGrid).cursor = page.index
        skin = job.state.skin_at(page.index)
        for _ in range(3):
            await pilot.press("enter")
        assert isinstance(desk.screen, CheckScreen)
        assert job.state.record(skin).state == "written"
        await pilot.press("escape", "c")
        assert (job.state.record(skin).checked_by, job.state.record(skin).unread) == ("A", True)
        assert "ticked, not read" in said(desk)


async def test_a_page_read_to_its_end_is_checked_as_read(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=(120, 40)) as pilot:
        page = Page.parse("12r")
        desk.screen.query_one(GatheringGrid).cursor = page.index
        skin = job.state.skin_at(page.index)
        assert job.state.record(skin).state == "written"
        await pilot.press("enter", "end", "d", "c")
        assert (job.state.record(skin).checked_by, job.state.record(skin).unread) == ("A", False)
        assert "ticked" not in said(desk)


async def test_a_sheet_and_a_gathering_are_ruled_whole_with_one_undo(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        grid = desk.screen
        assert isinstance(grid, GridScreen)
        grid.go_to(Page.parse("25r"))
        before = len(job.ledger)
        await pilot.press("m", "r")
        assert said(desk).startswith("25r, 25v, 32r and 32v ruled by A.")
        assert [entry.page for entry in job.ledger][before:] == ["25r", "25v", "32r", "32v"]
        await pilot.press("m", "g")
        assert "25r is ruled already" in said(desk)
        assert len(job.ledger) == before + 4
        await pilot.press("u")
        assert "And 3 entries recorded together with it." in said(desk)
        assert {state(job, page) for page in ("25r", "25v", "32r", "32v")} == {"unruled"}
        await pilot.press("m", "g")
        assert said(desk).startswith("25r to 32v ruled by A.")
        await pilot.press("u")
        assert {state(job, f"{leaf}{side}") for leaf in range(25, 33) for side in "rv"} == {"unruled"}


async def test_ruling_a_gathering_is_found_by_its_name(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        grid = desk.screen
        assert isinstance(grid, GridScreen)
        grid.go_to(Page.parse("25r"))
        await pilot.press("colon", *("space" if each == " " else each for each in "rule this gathering"), "enter")
        await pilot.pause()
        assert state(job, "32v") == "ruled"
