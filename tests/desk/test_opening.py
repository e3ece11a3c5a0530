"""The desk is shown before its book is read: empty where no picture was kept, and left where the book is refused."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import CopydeskError
from copydesk.desk.app import Desk
from copydesk.desk.base.grid_snapshot import Picture
from copydesk.desk.base.screen_foot import SayLine
from copydesk.desk.opening import READING, ReadingScreen
from copydesk.desk.page_screens.grid import GridScreen
from copydesk.job import Job

if TYPE_CHECKING:
    from pathlib import Path

    import pytest

SIZE = (80, 24)


async def test_an_empty_desk_says_that_the_book_is_read_and_then_the_grid_stands(folder: Path) -> None:
    stood: list[str] = []

    def open_book() -> Job:
        assert isinstance(desk.screen, ReadingScreen)
        stood.append(desk.screen.query_one(SayLine).said)
        return Job.open(folder, desk="window")

    desk = Desk(open_book)
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.pause()
        assert stood == [READING]
        assert isinstance(desk.screen, GridScreen)


async def test_a_picture_of_another_size_is_not_shown(folder: Path) -> None:
    picture = Picture(200, 60, 50, 0, [], [[("of another size", "ink")]], [], "of another size", [])
    desk = Desk(lambda: Job.open(folder, desk="window"), picture=picture)
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.pause()
        assert isinstance(desk.screen_stack[0], ReadingScreen)
        assert isinstance(desk.screen, GridScreen)


async def test_a_book_that_is_refused_ends_the_desk_and_leaves_the_reason() -> None:
    def refuse() -> Job:
        raise CopydeskError("book.yaml has no title")

    desk = Desk(refuse)
    async with desk.run_test(size=SIZE) as pilot:
        await pilot.pause()
    assert desk.return_code == 2
    assert str(desk.refused) == "book.yaml has no title"


async def test_a_desk_that_is_left_looks_no_more(desk: Desk, job: Job, monkeypatch: pytest.MonkeyPatch) -> None:
    close_all, looks = Desk._close_all, []

    async def look_late(leaving: Desk) -> None:
        monkeypatch.setattr(job, "refresh", lambda: looks.append("late"))
        leaving.look_round()
        await close_all(leaving)

    async with desk.run_test(size=SIZE):
        monkeypatch.setattr(Desk, "_close_all", look_late)
        desk.look_round()
    assert looks == []
