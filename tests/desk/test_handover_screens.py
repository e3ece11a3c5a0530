"""The handover and who wrote what, under the hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from textual.widgets import Input, OptionList, Static

from copydesk.book.structure.page import Page
from copydesk.desk.book_screens.stints import StintsScreen
from copydesk.desk.dialogs.form import Form
from copydesk.desk.page_screens.grid import GridScreen
from copydesk.desk.page_screens.handover import HandoverScreen
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.scribes.hands_now import hands_now
from copydesk.tracking.scribes.stints import SHARES, shares
from seen import said, title

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from copydesk.desk.app import Desk
    from copydesk.job import Job

WIDE, NARROW = (130, 40), (80, 24)


def told(desk: Desk, head: str) -> str:
    return next(line.says for line in desk.screen.query_one("#words", LinesPanel).lines_shown if line.head == head)


def lines(desk: Desk) -> list[str]:
    return str(desk.screen.query_one("#ran", Static).content).splitlines()


@pytest.mark.parametrize(("size", "shown"), [(WIDE, 14), (NARROW, 8)])
async def test_it_fills_itself(desk: Desk, size: tuple[int, int], shown: int) -> None:
    async with desk.run_test(size=size) as pilot:
        await pilot.press("v", "n")
        assert isinstance(desk.screen, HandoverScreen)
        assert "12v, column 1, at the end of line 23" in told(desk, "Stopped")
        assert told(desk, "Go on").startswith('12v, column 1, line 24: "bird carry moss until')
        assert "A takes the desk with enter" in title(desk)
        assert len(lines(desk)) == shown
        assert lines(desk)[shown // 2 + (size == WIDE)].split()[:3] == ["12v", "1.24", "bird"]


async def test_an_artist_at_the_desk_is_no_hand_to_take_the_pen(desk: Desk, job: Job) -> None:
    job.record(Act("at-desk", job.store.desk, "", {}), hand="Ines Calloway")
    assert job.hand == "Ines Calloway"
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press("v", "n")
        assert "A takes the desk with enter" in title(desk)
        await pilot.press("enter")
        assert job.hand == "A"


async def test_the_next_hand_takes_the_desk_with_one_key_and_one_undo(desk: Desk, job: Job, folder: Path) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press("v", "n")
        before = len((folder / "ledger.jsonl").read_bytes().splitlines())
        await pilot.press("enter")
        assert said(desk) == "12v: A takes the desk over from B at column 1, line 24."
        assert "A has the pen" in title(desk)
        kept = (folder / "ledger.jsonl").read_bytes().splitlines()
        assert len(kept) == before + 1  # one durable batch
        assert b'"handover"' in kept[-1]
        assert b'"at-desk"' in kept[-1]
        assert job.hand == "A"
        await pilot.press("enter")
        assert "has the desk already" in said(desk)
        await pilot.press("u")
        assert "Taken back" in said(desk)
        assert "A takes the desk with enter" in title(desk)
        await pilot.press("y")
        assert "A has the pen" in title(desk)


async def test_another_hand_may_be_named(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press("v", "n", "a")
        assert "enter: B takes the desk" in said(desk)
        await pilot.press("enter")
        assert job.hand == "B"


async def test_a_stop_within_a_line_is_shown_to_the_word(desk: Desk) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press("v", "n", "e")
        assert isinstance(desk.screen, Form)
        for name, value in (("line", "24"), ("ends", "bird carry moss")):
            desk.screen.query_one(f"#{name}", Input).value = value
        desk.screen.query_one("#within").focus()
        await pilot.press("y", "ctrl+s")
        assert told(desk, "Stopped").startswith('12v, column 1, within line 24, after "see the cock bird carry moss"')
        assert any("bird carry moss ▏until the" in line for line in lines(desk))


async def test_a_note_is_kept_at_once_and_read_by_the_next_hand(
    desk: Desk, job: Job, open_job: Callable[..., Job]
) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press("v", "n", "i")
        desk.screen.query_one("#note", Input).value = "[b]stir[/b] the ink"
        await pilot.press("enter")
        assert told(desk, "Note") == "[b]stir[/b] the ink"
        await pilot.press("ctrl+c")
        copied = desk.clipboard.splitlines()
        assert copied[0].startswith("Stopped  12v, column 1, at the end of line 23")
        assert any("bird carry moss" in line for line in copied[-7:])
        await pilot.press("enter")
        assert told(desk, "Note") == "[b]stir[/b] the ink"  # whoever took the desk may read it again
        other = open_job("stove")
        assert [entry.text("note") for entry in other.ledger][-3] == "[b]stir[/b] the ink"
        other.close()


async def test_it_opens_on_the_page_under_the_cursor_if_that_is_begun(desk: Desk, job: Job) -> None:
    job.record(job.commands.write(Page.parse("13r"), to_line=5), hand="A")
    async with desk.run_test(size=WIDE) as pilot:
        grid = desk.screen
        assert isinstance(grid, GridScreen)
        grid.go_to(Page.parse("12v"))
        await pilot.press("v", "n")
        assert told(desk, "Stopped").startswith("12v")
        assert told(desk, "Begun") == "also begun and not whole: 13r"
        await pilot.press("g")
        assert isinstance(desk.screen, GridScreen)
        assert str(desk.screen.page) == "12v"


async def test_who_wrote_what_leads_to_the_page(desk: Desk, job: Job) -> None:
    async with desk.run_test(size=WIDE) as pilot:
        await pilot.press("v", "a")
        assert isinstance(desk.screen, StintsScreen)
        rows = desk.screen.query_one(OptionList)
        assert rows.option_count == len(shares(job.state)) == 3
        said = str(desk.screen.query_one("#totals", Static).content)
        assert "A (Agnes Orrin): 1,063 lines" in said
        for report in hands_now(job.state):
            assert all(sentence in said for sentence in report.sentences())
        await pilot.press("down", "down", "enter")
        assert isinstance(desk.screen, GridScreen)
        assert str(desk.screen.page) == "16r"


async def test_a_share_is_shown_by_the_columns_of_its_report(desk: Desk) -> None:
    async with desk.run_test(size=NARROW) as pilot:
        await pilot.press("v", "a")
        heads = str(desk.screen.query_one("#heads", Static).content)
        row = str(desk.screen.query_one(OptionList).get_option_at_index(0).prompt)
    assert heads.split() == list(" ".join(SHARES.headings()).split())
    assert row.split()[:8] == ["A", "1r", "1.1", "12r", "2.24", "1,063", "5,067", "2,368"]
    assert len(row) < NARROW[0]
