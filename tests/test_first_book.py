"""Your first book: the page of help is done as it stands; and the whole way by keys, no file touched by hand."""

from __future__ import annotations

import re
import shlex
import time
from typing import TYPE_CHECKING, Any

from textual.widgets import Input, OptionList

from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.main import main
from copydesk.desk.app import Desk
from copydesk.desk.base.screen_foot import SayLine
from copydesk.desk.page_screens.tour_panel import TourPanel
from copydesk.desk.setup import SettingUp
from copydesk.desk.shelf import Shelf, Wish
from copydesk.help.topics import read_topic
from copydesk.job import Job

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    import pytest
    from textual.pilot import Pilot

PAGE = read_topic("first-book")


def blocks() -> Iterator[list[str]]:
    """The lines of each stretch that is set in."""
    for found in re.finditer(r"(?:^    .*\n(?:\n(?=    ))?)+", PAGE, re.MULTILINE):
        yield [line[4:] for line in found[0].splitlines()]


async def test_the_page_is_done_as_it_stands(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert len(PAGE.splitlines()) <= 75
    monkeypatch.chdir(tmp_path)
    text, *rest = blocks()
    (tmp_path / "road.txt").write_text("\n".join(text) + "\n", "utf-8")
    said = ""
    for line in (line for block in rest for line in block if line):
        if line == "$ copydesk salt-road":
            job = Job.open(tmp_path / "salt-road")
            keys = re.findall(r"^- \*\*(.)\*\*", PAGE, re.MULTILINE)
            assert keys == ["r", "w", "u", "q"]
            async with Desk(job).run_test() as pilot:
                await pilot.press(*keys[:3], "y")
            job.close()
        elif line.startswith("$ copydesk "):
            assert main(shlex.split(line)[2:]) is ExitCode.DONE, line
            said = capsys.readouterr().out
        else:
            assert line in said, line
    job = Job.open(tmp_path / "salt-road")
    assert [entry.what for entry in job.ledger][:2] == ["ruled", "written"]
    assert job.book.ruling.lines == 20
    assert job.exemplar is not None
    assert [division.title for division in job.exemplar.divisions] == ["CHAPTER I", "CHAPTER II"]


class Typist:
    """Presses keys and counts them."""

    def __init__(self, pilot: Pilot[Any]) -> None:
        self.pilot = pilot
        self.keys = 0

    async def press(self, *keys: str) -> None:
        for key in keys:
            await self.pilot.press(key)
            self.keys += 1
        await self.pilot.pause()

    async def type(self, text: str) -> None:
        await self.press(*text)

    async def answer(self, name: str, text: str) -> None:
        """Go to a line of the form in front by enter, and put ``text`` there."""
        for _ in range(30):
            focused = self.pilot.app.screen.focused
            if isinstance(focused, Input) and (focused.id == name or _label(focused).startswith(f"{name}:")):
                break
            await self.press("tab")
        focused = self.pilot.app.screen.focused
        assert isinstance(focused, Input)
        if focused.value:
            await self.press("end", "ctrl+u")
        await self.type(text)

    async def row(self, name: str) -> None:
        """Go down to a row."""
        options = self.pilot.app.screen.query_one(OptionList)
        for _ in range(60):
            if name in str(options.get_option_at_index(options.highlighted or 0).prompt):
                return
            await self.press("down")
        raise AssertionError(name)


def _label(line: Input) -> str:
    around = list(line.parent.children) if line.parent is not None else []
    return str(getattr(around[around.index(line) - 1], "content", ""))


async def set_up(shelf_folder: Path, raw: Path) -> tuple[Path, int]:
    """Answer the questions about a new book, a line of one's hand among them; gives its folder and the keys pressed."""
    shelf = Shelf(shelf_folder, [], "", "")
    async with shelf.run_test(size=(120, 40)) as pilot:
        await pilot.press("i")
    assert shelf.return_value == Wish("new")
    setting_up = SettingUp(shelf_folder)
    async with setting_up.run_test(size=(120, 50)) as pilot:
        typist = Typist(pilot)
        answers = {"folder": "salt", "title": "The Salt Road", "text": str(raw), "mend": "h", "page": "120 x 170"}
        answers |= {"nib": "0,8", "hand": "Ann, Bea", "skin": "500 x 400", "spoilage": "10 %", "due": "2027-03-31"}
        for name, text in answers.items():
            await typist.answer(name, text)
        await typist.press("f4")
        await typist.type("the gates stood open all the night")
        await typist.press("ctrl+s")
        await typist.press("ctrl+s")
    assert setting_up.return_value == shelf_folder / "salt"
    return shelf_folder / "salt", typist.keys + 1


async def keep_figures_and_a_way(typist: Typist) -> None:
    await typist.press("v", "p")
    await typist.press("left", "ctrl+s")
    await typist.press("y")
    await typist.press("o")
    await typist.press("enter", "ctrl+s")
    await typist.press("y")
    await typist.press("escape")


async def change_a_hand(typist: Typist) -> None:
    await typist.press("v", "e")
    await typist.row("hands B")
    await typist.press("enter")
    await typist.answer("hours_a_week", "12")
    await typist.answer("gatherings", "2")
    await typist.press("ctrl+s")
    assert "Kept in book.yaml" in typist.pilot.app.screen.query_one(SayLine).said
    await typist.press("escape")


async def plan_a_space(typist: Typist) -> None:
    await typist.press("v", "i", "i")
    for name, text in {"space": "gate", "at": "page 2r", "lines": "6", "subject": "a gate"}.items():
        await typist.answer(name, text)
    await typist.press("ctrl+s")
    await typist.press("escape")


async def test_the_whole_way_by_keys_from_an_empty_folder_to_a_page_written(tmp_path: Path) -> None:
    raw = tmp_path / "road.txt"
    paragraph = "The salt went up the road in spring, when the ford was low and nobody was paid. "
    raw.write_text(f"CHAPTER I\n\n{paragraph * 40}\n\nCHAPTER II\n\n{paragraph * 60}\n", "utf-8")
    (tmp_path / "books").mkdir()
    began = time.monotonic()
    folder, keys = await set_up(tmp_path / "books", raw)
    desk = Desk(Job.open(folder))
    desk.is_new = True
    async with desk.run_test(size=(120, 40)) as pilot:
        typist = Typist(pilot)
        assert desk.screen.query(TourPanel)
        await typist.press("f6", "escape")
        await keep_figures_and_a_way(typist)
        await change_a_hand(typist)
        await plan_a_space(typist)
        await typist.press("home", "r", "w")
        state = desk.job.state
        first, bea = state.record(state.skin_at(0)), state.book.hand("B")
        assert (first.ruled, first.whole) == (True, True)
        assert state.plan_of("gate") is not None
        assert bea is not None
        assert (bea.hours_a_week, bea.gatherings) == (12, (2,))
    keys += typist.keys
    seconds = time.monotonic() - began
    print(f"\nFrom an empty folder to a page written: {keys} keys, {seconds:.0f} s of the machine")  # noqa: T201
    assert keys < 600
