"""A large book is opened beside the screen, which tells how far that is and can be left."""

from __future__ import annotations

import asyncio
from threading import Event
from time import monotonic
from typing import TYPE_CHECKING

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.page import Page
from copydesk.desk.app import Desk
from copydesk.desk.background_opening import SlowOpeningScreen, bar, stage_words
from copydesk.desk.base.screen_foot import SayLine
from copydesk.desk.page_screens.grid import GridScreen
from copydesk.desk.widgets.gathering_grid import GatheringGrid
from copydesk.job import Job
from copydesk.store.folder.opening import MOST_LEDGER, MOST_TEXT, STAGES, is_bulky
from copydesk.tracking.ledger.entry import Act

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from textual.pilot import Pilot


class Slow:
    """Opens a book, but waits in the midst of it (where it is ``at`` so far) until it may go on."""

    def __init__(self, folder: Path, at: float = 1) -> None:
        self.folder = folder
        self.go_on, self.waits, self.ended = Event(), Event(), Event()
        self.told: list[float] = []
        self._at = at

    def open(self, tell: Callable[[float, str], None]) -> Job:
        def slowly(stage: float, found: str) -> None:
            self.told.append(stage)
            tell(stage, found)
            if stage >= self._at and not self.waits.is_set():
                self.waits.set()
                self.go_on.wait(20)

        try:
            return Job.open(self.folder, desk="window", tell=slowly)
        finally:
            self.ended.set()


HALF_READ = 0.5
LONG_PLAN = """title: Long
exemplar: {text: exemplar.txt}
page: {width: 120, height: 160, margins: {inner: 10, head: 12, outer: 20, foot: 30}}
ruling: {lines: 8}
hands: {A: {name: first, letters_per_line: 20}}
gatherings: {sheets: 4}
"""


@pytest.fixture
def long_folder(tmp_path: Path) -> Path:
    """A book long enough that every stage tells several times how far it is."""
    folder = tmp_path / "long"
    folder.mkdir()
    (folder / "book.yaml").write_text(LONG_PLAN, "utf-8")
    (folder / "exemplar.txt").write_text("a few plain words in each of very many short lines\n\n" * 2_400, "utf-8")
    job = Job.open(folder, desk="window")
    for _ in range(70):
        job.record_all([Act("note", "book", "", {"text": "seen"})] * 20)
    job.close()
    return folder


async def until(pilot: Pilot[None], there: Callable[[], bool]) -> None:
    ends = monotonic() + 20
    while not there() and monotonic() < ends:
        await pilot.pause(0.02)
    assert there()


def shown(desk: Desk) -> str:
    return "\n".join(str(desk.screen.query_one(f"#{name}").render()) for name in ("called", "stage", "found"))


def test_stages_and_what_was_found_are_told_and_then_the_grid_stands(folder: Path) -> None:
    slow = Slow(folder)
    desk = Desk(slow.open, called="book")

    async def sitting() -> None:
        async with desk.run_test(size=(120, 40)) as pilot:
            await until(pilot, slow.waits.is_set)
            assert isinstance(desk.screen, SlowOpeningScreen)
            await until(pilot, lambda: STAGES[1] in shown(desk))
            assert "Opening book" in shown(desk)
            assert " words" in shown(desk)
            slow.go_on.set()
            await until(pilot, lambda: bool(desk.screen.query(GatheringGrid)))
            assert desk.job.state.collation.pages
            await pilot.press("j")
        assert [*dict.fromkeys(map(int, slow.told))] == [0, 1, 2, 3]

    asyncio.run(sitting())


def test_escape_leaves_while_the_book_is_read_and_reading_stops_within_the_stage(long_folder: Path) -> None:
    slow = Slow(long_folder, at=HALF_READ)
    desk = Desk(slow.open, called="book")

    async def sitting() -> None:
        async with desk.run_test(size=(80, 24)) as pilot:
            await until(pilot, slow.waits.is_set)
            await pilot.press("escape")
        assert desk.return_code == 0
        waited_at = len(slow.told)
        slow.go_on.set()
        assert slow.ended.wait(20)
        assert len(slow.told) == waited_at + 1  # where it was told next, the desk was found to be gone
        assert slow.told[-1] < 1

    asyncio.run(sitting())


def test_the_bar_moves_within_a_stage(long_folder: Path) -> None:
    slow = Slow(long_folder, at=HALF_READ)
    desk = Desk(slow.open, called="book")

    async def sitting() -> None:
        async with desk.run_test(size=(80, 24)) as pilot:
            await until(pilot, slow.waits.is_set)
            await until(pilot, lambda: bar(HALF_READ) in shown(desk))
            assert STAGES[0] in shown(desk)
            slow.go_on.set()
            await until(pilot, lambda: bool(desk.screen.query(GatheringGrid)))
        for stage in range(4):
            assert any(stage < told < stage + 1 for told in slow.told), STAGES[stage]

    asyncio.run(sitting())


def test_the_last_stage_too_tells_how_far_it_is(long_folder: Path) -> None:
    job, shares = Job.open(long_folder, desk="window"), list[float]()
    with job.state.progress.reporting_to(shares.append):
        job.state.budget  # noqa: B018 - is worked out
    assert len(set(shares)) > 1
    assert max(shares) < 1
    heard = len(shares)
    job.record(job.commands.write(Page.at(0)))
    job.state.budget  # noqa: B018 - is worked out again
    assert len(shares) == heard  # nobody waits any more
    job.close()


def test_a_book_that_cannot_be_read_ends_the_desk_with_the_reason() -> None:
    def refuse(tell: Callable[[int, str], None]) -> Job:
        tell(0, "")
        raise CopydeskError("book.yaml has no title")

    desk = Desk(refuse, called="book")

    async def sitting() -> None:
        async with desk.run_test(size=(80, 24)) as pilot:
            await until(pilot, lambda: desk.return_code == 2)

    asyncio.run(sitting())


def test_its_picture_stands_while_a_large_book_is_read(folder: Path) -> None:
    slow = Slow(folder)

    async def sitting() -> None:
        first = Desk(Job.open(folder, desk="window"))
        async with first.run_test(size=(120, 40)) as pilot:
            await pilot.pause()
            assert isinstance(first.screen, GridScreen)
            picture = first.screen.picture()
        desk = Desk(slow.open, picture=picture, called="book")
        async with desk.run_test(size=(120, 40)) as pilot:
            await until(pilot, slow.waits.is_set)
            await until(pilot, lambda: STAGES[1] in desk.screen.query_one(SayLine).said)
            slow.go_on.set()
            await until(pilot, lambda: bool(desk.screen.query(GatheringGrid)))

    asyncio.run(sitting())


def test_the_bar_grows_from_nothing_and_is_not_full_before_the_end() -> None:
    lengths = [bar(stage).count("█") for stage in range(len(STAGES))]
    assert lengths[0] == 0
    assert lengths == sorted(set(lengths))
    assert "·" in bar(len(STAGES) - 1)
    assert stage_words(1, 0.4).endswith(STAGES[1])
    assert stage_words(1, 2.2).endswith(", 2 s")


def test_a_book_is_large_by_its_text_or_its_ledger(tmp_path: Path) -> None:
    (tmp_path / "text").mkdir()
    text, ledger, other = tmp_path / "text" / "exemplar.txt", tmp_path / "ledger.jsonl", tmp_path / "picture.png"
    for path, size in ((text, MOST_TEXT), (ledger, MOST_LEDGER), (other, MOST_LEDGER * 2)):
        _of_size(path, size)
    assert not is_bulky(tmp_path)
    _of_size(text, MOST_TEXT + 1)
    assert is_bulky(tmp_path)
    text.unlink()
    _of_size(ledger, MOST_LEDGER + 1)
    assert is_bulky(tmp_path)
    assert not is_bulky(tmp_path / "nowhere")


def _of_size(path: Path, size: int) -> None:
    """A file with nothing written in it, which takes no room on the disk."""
    with path.open("wb") as file:
        file.truncate(size)
