"""Finding things and acts: pages, words, spaces, people, help; acts with their keys and what they would do."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from textual.widgets import Input, OptionList

from copydesk.book.structure.page import Page
from copydesk.desk.base.book_screen import BookScreen
from copydesk.desk.base.keymap import Keymap
from copydesk.desk.base.keys import KEYS
from copydesk.desk.base.screen_foot import FootLine
from copydesk.desk.base.screen_table import SCREENS
from copydesk.desk.dialogs.finder import Finder, Palette
from copydesk.desk.dialogs.findings import acts_of, things_like
from copydesk.desk.page_screens.grid import GridScreen
from seen import said

if TYPE_CHECKING:
    from pathlib import Path

    from copydesk.desk.app import Desk
    from copydesk.job import Job


@pytest.mark.parametrize(
    ("typed", "page"),
    [
        ("13r", "13r"),
        ("4", "4r"),
        ("bird carry moss", "12v"),
        ("milk ice is snow", "6v"),
        ("space milk", "10r"),
        ("Green", "13v"),
    ],
)
async def test_a_page_is_found_by_its_name_its_words_and_its_spaces(desk: Desk, typed: str, page: str) -> None:
    async with desk.run_test(size=(120, 40)) as pilot:
        await pilot.press("slash")
        assert isinstance(desk.screen, Finder)
        desk.screen.query_one(Input).value = typed
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(desk.screen, GridScreen)
        assert desk.screen.page == Page.parse(page)


@pytest.mark.parametrize(
    ("typed", "screen"), [("Agnes", "StintsScreen"), ("help: pile", "HelpScreen"), ("word: gathering", "WordsScreen")]
)
async def test_people_and_help_are_found(desk: Desk, typed: str, screen: str) -> None:
    async with desk.run_test(size=(120, 40)) as pilot:
        await pilot.press("slash")
        desk.screen.query_one(Input).value = typed
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        assert type(desk.screen).__name__ == screen


async def test_from_another_screen_a_page_is_gone_to_in_the_gatherings(desk: Desk) -> None:
    async with desk.run_test(size=(120, 40)) as pilot:
        await pilot.press("v", "u", "v", "f", "slash", "2", "0", "v", "enter")
        await pilot.pause()
        assert isinstance(desk.screen, GridScreen)
        assert desk.screen.page == Page.parse("20v")


PEOPLE_CALL_IT = {
    "theme": "look",
    "dark": "look",
    "exit": "quit",
    "quit": "quit",
    "binder": "to sew",
    "artist": "spaces",
    "copy": "copy",
    "search": "find ...",
    "history": "log",
    "due date": "pace",
}


@pytest.mark.parametrize("typed", PEOPLE_CALL_IT)
async def test_an_act_is_found_by_what_people_call_it(desk: Desk, typed: str) -> None:
    async with desk.run_test(size=(120, 40)) as pilot:
        await pilot.pause()
        assert isinstance(desk.screen, BookScreen)
        assert acts_of(desk.screen, typed)[0].says == PEOPLE_CALL_IT[typed]


async def test_the_palette_tells_keys_and_what_would_happen_and_finds_a_page(desk: Desk) -> None:
    async with desk.run_test(size=(120, 40)) as pilot:
        await pilot.press("ctrl+p")
        assert isinstance(desk.screen, Palette)
        desk.screen.query_one(Input).value = "write"
        await pilot.pause()
        rows = desk.screen.query_one(OptionList)
        first = str(rows.get_option_at_index(0).prompt)
        assert first.split() == ["write", "12v", "enter,", "space"]
        assert "Do what the word on the page says" in str(desk.screen.query_one("#note").render())
        desk.screen.query_one(Input).value = "13r"
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(desk.screen, GridScreen)
        assert desk.screen.page == Page.parse("13r")


async def test_every_act_and_every_screen_is_in_the_palette(desk: Desk) -> None:
    async with desk.run_test(size=(120, 40)) as pilot:
        await pilot.pause()
        assert isinstance(desk.screen, BookScreen)
        for key in KEYS:
            scope = key.id.partition(".")[0]
            if scope in ("grid", "all") and not key.action.startswith("move") and key.id != "all.palette":
                found = [each for each in acts_of(desk.screen, key.more) if each.action == key.action]
                assert found, key.id
                assert found[0].key == Keymap().way_to(key)
        for entry in SCREENS:
            for name in entry.called if entry.letter else ():
                assert any(name in each.called for each in acts_of(desk.screen, name)), name


def test_what_is_not_there_is_not_found(job: Job) -> None:
    assert not things_like(job.state, "zzz [b]")
    assert len(things_like(job.state, "")) <= 40


SCREEN_KEYS = ("", *(f"v{entry.letter}" for entry in SCREENS if entry.letter))
OVERLAYS = (("f3",), ("question_mark",), ("slash",), ("colon",), ("e",), ("a",), ("v",), ("m",))


SMALL, WIDE = ((40, 12), (80, 24)), ((120, 40), (200, 60))
FEET = (
    *((keys, size) for keys in (*map(tuple, SCREEN_KEYS), *OVERLAYS) for size in SMALL),
    *((keys, size) for keys in ((), *map(tuple, ("vv", "vi", "vf")), *OVERLAYS) for size in WIDE),
)
"""Every screen where room is short; where it is not, feet are alike, so three screens stand for all."""


@pytest.mark.parametrize(("keys", "size"), FEET, ids=str)
async def test_the_foot_shows_help_and_the_way_out_at_the_right_and_at_most_eight_acts(
    desk: Desk, size: tuple[int, int], keys: tuple[str, ...]
) -> None:
    async with desk.run_test(size=size) as pilot:
        await pilot.press(*keys)
        await pilot.pause()
        feet = list(desk.screen.query(FootLine))
        assert len(feet) == 1
        [foot] = feet
        assert len(foot.acts) <= 8
        pinned = [key.id.partition(".")[2] for key in foot.pinned]
        assert "help" in pinned or keys == ("question_mark",)
        assert {"back", "quit"} & set(pinned)
        strip = foot.render_line(0).text.rstrip()
        ways_out = "  ".join(f"{foot._label(key)} {key.says}" for key in foot.pinned)
        assert strip.endswith(ways_out)
        assert foot.size.width - len(strip) <= 3
        assert foot.region.bottom <= size[1]


async def test_print_is_found_and_makes_a_paper_beside_those_there(
    desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    usual = f"{desk.job.folder.root.name}-ruling-12v"
    async with desk.run_test(size=(120, 40)) as pilot:
        for name in (usual, f"{usual}-2"):
            await pilot.press("colon", *"print")
            await pilot.press("enter")
            await pilot.press("2")
            await desk.workers.wait_for_complete()
            await pilot.pause()
            assert said(desk) == f"Made {tmp_path / name}.pdf."
            assert (tmp_path / f"{name}.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("screen", "paper"),
    [
        ("spaces", "spaces"),
        ("handover", "handover-12v"),
        ("assembly", "binder"),
        ("check", "guide-12v"),
        ("changes", "changes"),
    ],
)
async def test_the_paper_of_a_screen_is_in_hand_when_one_is_made_there(
    desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, screen: str, paper: str
) -> None:
    monkeypatch.chdir(tmp_path)
    async with desk.run_test(size=(200, 60)) as pilot:
        desk.open_screen(screen, Page.parse("12v"))
        await pilot.pause()
        foot = next(iter(desk.screen.query(FootLine)))
        assert "all.print" in [key.id for key in foot.acts]
        await pilot.press("f7")
        await pilot.press("enter")
        await desk.workers.wait_for_complete()
        assert [path.name for path in tmp_path.iterdir() if path.suffix == ".pdf"] == [
            f"{desk.job.folder.root.name}-{paper}.pdf"
        ]


async def test_the_guide_is_made_in_strips_and_of_the_side_of_its_sheet(
    desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    book, place = desk.job.folder.root.name, desk.job.state.collation.place(Page.parse("12v"))
    made = {"3": "12v", "4": "12v-strips", "5": f"{place.sheet_name}-{place.side.value}"}
    async with desk.run_test(size=(120, 40)) as pilot:
        for letter, name in made.items():
            await pilot.press("colon", *"guide")
            await pilot.press("enter")
            await pilot.press(letter)
            await desk.workers.wait_for_complete()
            await pilot.pause()
            assert said(desk) == f"Made {tmp_path / f'{book}-guide-{name}'}.pdf."
