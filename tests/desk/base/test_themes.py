"""How the desk looks: in turn, kept, without colour, without a mouse; and what is copied from it."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest
from textual.filter import ANSIToTruecolor
from textual.widgets import OptionList

from copydesk.book.common.errors import CopydeskError
from copydesk.cli.desk_options import DeskOptions, read_options
from copydesk.desk.app import Desk
from copydesk.desk.base.keymap import Keymap
from copydesk.desk.base.keys import KEYS
from copydesk.desk.base.screen_foot import SayLine
from copydesk.desk.base.themes import LOOKS, look_after
from copydesk.job import Job
from copydesk.store.files.environment import keep_look, look_file, read_look

if TYPE_CHECKING:
    from pathlib import Path

    from copydesk.desk.base.keys import KeyBinding


async def test_a_key_goes_through_the_looks_and_the_choice_is_kept(job: Job) -> None:
    kept: list[str] = []
    desk = Desk(job, look="light", keep_look=kept.append)
    async with desk.run_test() as pilot:
        assert desk.theme == "daylight"
        await pilot.press("f2")
        assert (desk.theme, kept, desk.screen.query_one(SayLine).said) == ("plain", ["contrast"], "Look: contrast.")
        await pilot.press("f2")
        assert desk.native_ansi_color
        await pilot.press("f2")
        assert (desk.theme, desk.native_ansi_color) == ("lamplight", False)
        assert desk.animation_level == "none"


@pytest.mark.parametrize("look", ["contrast", "terminal"])
async def test_the_row_in_hand_stands_out(desk: Desk, look: str) -> None:
    async with desk.run_test() as pilot:
        await pilot.press(*["f2"] * list(LOOKS).index(look), "v", "b", "down")
        rows = desk.screen.query_one(OptionList)
        here, beside = (rows.get_visual_style(*names) for names in (("option-list--option-highlighted",), ()))
        assert here.background != beside.background


async def test_the_terminals_own_colours_are_shown_from_the_first(folder: Path) -> None:
    desk = Desk(lambda: Job.open(folder), look="terminal")
    async with desk.run_test():
        assert not any(isinstance(each, ANSIToTruecolor) for each in desk.get_line_filters())


def test_looks_come_in_turn_and_an_unknown_one_begins_anew() -> None:
    assert [look_after(look) for look in LOOKS] == ["light", "contrast", "terminal", "dark"]
    assert look_after("sepia") == "dark"
    assert Desk(lambda: pytest.fail("opened"), look="sepia").look == "dark"


def test_the_choice_is_kept_beside_the_keys(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COPYDESK_KEYS", str(tmp_path / "own" / "keys.toml"))
    assert read_look() == ""
    keep_look("contrast")
    assert (read_look(), look_file()) == ("contrast", tmp_path / "own" / "look.txt")
    look_file().write_bytes(b"\xff" * 5000)
    assert len(read_look()) <= 40
    monkeypatch.setenv("COPYDESK_KEYS", str(look_file() / "below" / "keys.toml"))
    keep_look("dark")
    assert read_look() == ""


def test_options_of_the_desk() -> None:
    assert read_options([]) == DeskOptions()
    assert read_options(["book", "--look", "light", "--no-mouse"]) == DeskOptions("book", "light", mouse=False)
    assert read_options(["--look=terminal"]) == DeskOptions("", "terminal")
    for wrong in (["--look"], ["--look", "sepia"], ["a", "b"], ["--loud"]):
        with pytest.raises(CopydeskError):
            read_options(wrong)


async def test_a_page_is_copied_with_its_text_and_a_list_as_it_is_shown(desk: Desk) -> None:
    async with desk.run_test() as pilot:
        await pilot.press("ctrl+c")
        copied = desk.clipboard
        assert copied.startswith("12v      gathering 2, sheet 4")
        assert len(copied.split("\n\n")[1].splitlines()) == 48
        await pilot.press("v", "g", "ctrl+c")
        assert desk.clipboard.splitlines()[4:6] == ["", "  7 write 12v 13r 13v 14r 14v 15r 15v"]
        assert desk.screen.query_one(SayLine).said.startswith("Copied 8 lines")


@pytest.mark.parametrize(
    ("keys", "begins"),
    [("vf", "     4  9v"), ("vt", " 6 faults found"), ("vc", " 11r"), ("vd", " Written   about")],
)
async def test_lists_and_figures_are_copied_as_they_are_shown(desk: Desk, keys: str, begins: str) -> None:
    async with desk.run_test() as pilot:
        await pilot.press(*keys, "ctrl+c")
        assert desk.clipboard.startswith(begins)


SCREENS = [key for key in KEYS if key.id.startswith("grid.") and key.action.startswith("open(")]


@pytest.mark.parametrize("key", SCREENS, ids=lambda key: key.id)
async def test_no_screen_is_coloured_where_no_colour_is_wanted(
    job: Job, monkeypatch: pytest.MonkeyPatch, key: KeyBinding
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    desk = Desk(job)
    async with desk.run_test(size=(100, 30)) as pilot:
        await pilot.press(*Keymap().way_to(key).split())
        assert len(desk.screen_stack) > 1
        for y in range(30):
            for segment in desk.screen._compositor.render_strips()[y]:
                for colour in (segment.style.color, segment.style.bgcolor) if segment.style else ():
                    assert colour is None or colour.is_default or not re.match("#", colour.name), (y, segment)


LISTS = {
    "a check": ("x",),
    "faults": (
        "v",
        "f",
    ),
    "changes": (
        "v",
        "c",
    ),
    "gatherings": (
        "v",
        "g",
    ),
    "log": (
        "v",
        "u",
    ),
    "spaces": (
        "v",
        "i",
    ),
    "pile": (
        "v",
        "w",
    ),
    "planner": (
        "v",
        "p",
    ),
    "who wrote": (
        "v",
        "a",
    ),
    "the binder's walk": (
        "v",
        "b",
    ),
    "words of the trade": ("f3",),
    "a question": ("a",),
}


@pytest.mark.parametrize("keys", LISTS.values(), ids=LISTS)
async def test_the_row_in_hand_is_marked_without_colour(
    job: Job, monkeypatch: pytest.MonkeyPatch, keys: tuple[str, ...]
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    desk = Desk(job)
    async with desk.run_test(size=(80, 24)) as pilot:
        await pilot.press(*keys)
        await pilot.pause()
        listed = desk.screen.query_one(OptionList)
        if listed.highlighted is None:
            listed.action_first()
            await pilot.pause()
        region = listed.region
        rows = desk.screen._compositor.render_strips()[region.y : region.bottom]
        styles = [
            segment.style for row in rows for segment in row if segment.style and segment.text.strip(" ▁▂▃▄▅▆▇█▔")
        ]
        assert any(style.underline or style.reverse for style in styles)
