"""Opening the desk from the command line: what cannot be opened is told as everywhere, before or after it is shown."""

from __future__ import annotations

import asyncio
import shutil
from pathlib import Path

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.cli.open_desk import open_book_at
from copydesk.desk.app import Desk

SHIPPED = Path(__file__).parents[2] / "projects" / "twelve-waters"


@pytest.fixture
def shown(monkeypatch: pytest.MonkeyPatch) -> list[Desk]:
    """The desks that were shown, each left as soon as its book is read."""
    desks: list[Desk] = []

    async def sit(desk: Desk) -> None:
        async with desk.run_test(size=(80, 24)) as pilot:
            await pilot.pause()

    def run(desk: Desk, *, mouse: bool) -> None:
        desks.append(desk)
        asyncio.run(sit(desk))

    monkeypatch.setattr(Desk, "run", run)
    return desks


def copy_of_shipped(folder: Path) -> Path:
    shutil.copytree(SHIPPED, folder, ignore=shutil.ignore_patterns(".*"))
    return folder


def test_where_there_is_no_book_nothing_is_shown(tmp_path: Path, shown: list[Desk]) -> None:
    for folder, says in ((tmp_path / "nowhere", "there is no such folder"), (tmp_path, "holds no book.yaml")):
        with pytest.raises(CopydeskError, match=says):
            open_book_at(folder)
    assert shown == []


def test_a_plan_with_faults_is_told_with_its_place_once_the_desk_is_left(tmp_path: Path, shown: list[Desk]) -> None:
    folder = copy_of_shipped(tmp_path / "book")
    plan = folder / "book.yaml"
    plan.write_text(plan.read_text("utf-8").replace("title:", "titel:"), "utf-8")
    with pytest.raises(CopydeskError, match=r"book\.yaml:\d+:1: 'titel' is no key"):
        open_book_at(folder)
    assert len(shown) == 1


def test_a_walk_is_offered_only_on_the_shipped_book_as_it_came(tmp_path: Path, shown: list[Desk]) -> None:
    folder = copy_of_shipped(tmp_path / "book")
    open_book_at(folder)
    with (folder / "book.yaml").open("a", encoding="utf-8") as plan:
        plan.write("\n# a word of my own\n")
    open_book_at(folder)
    assert [desk.offers_tour for desk in shown] == [True, False]
