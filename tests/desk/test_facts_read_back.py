"""Six facts of every page read back from the plain text of the gatherings, against what ``pages --json`` says."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
from rich.cells import cell_len
from textual.app import App

from cell_reading import facts_shown, leaf_row
from copydesk.book.layout.space_stages import Stage
from copydesk.book.structure.page import Page
from copydesk.cli.main import main
from copydesk.desk.widgets.gathering_grid import GatheringGrid
from copydesk.desk.widgets.page_panel import has_room_beside, panel_size
from copydesk.desk.widgets.toned_lines import plain
from copydesk.tracking.views.page_report import page_as_data, page_reports
from copydesk.tracking.views.page_view import ActKind, CheckState
from worked_books import worked_book

if TYPE_CHECKING:
    from pathlib import Path

    from textual.app import ComposeResult

    from cell_reading import Facts
    from copydesk.desk.app import Desk
    from copydesk.tracking.state.book_state import BookState

SIZES = [(80, 24), (93, 30), (110, 34), (120, 40), (150, 45), (200, 60)]


class GridAlone(App[None]):
    """The gatherings without the rest of the desk."""

    CSS = "GatheringGrid { width: 100%; height: 100%; }"

    def __init__(self, state: BookState) -> None:
        super().__init__()
        self._state = state

    def compose(self) -> ComposeResult:
        """The grid alone."""
        yield GatheringGrid(self._state)


def grid_size(state: BookState, width: int, height: int) -> tuple[int, int]:
    """The room the gatherings have on a screen of this size: three rows go to title, message and footer."""
    panel = panel_size(width, height, roomy=has_room_beside(state, width))
    return width - panel.wide, height - 3 - panel.high


def read_all(grid: GatheringGrid) -> dict[int, Facts]:
    """Every page of the book: the cursor goes through it as far as is needed to have each in a full cell."""
    found: dict[int, Facts] = {}
    for index in range(grid.state.collation.pages):
        if index not in found:
            grid.cursor = index
            found |= facts_shown(grid)
            assert index in found, f"{Page.at(index)} is not shown where the cursor is"
    return found


def expect(facts: Facts, row: dict[str, Any], known: tuple[str, ...]) -> None:
    """That a cell says what the report says."""
    assert facts.act == row["next"].split()[0]
    if facts.act == "blank":
        assert facts.written is None
    else:
        assert (facts.written, facts.budget, facts.over) == (row["written"], row["budget"], row["over"])
    assert facts.faults_open == row["faults_open"]
    assert facts.faults_mended == (0 if facts.faults_open else row["faults_mended"])
    assert facts.spaces_waiting == row["spaces_waiting"]
    stages = {"drawn": "d", "gilded": "g", "coloured": "c", "outlined": "o"}
    assert facts.stage == stages.get(row["stage_due"] or "", "")
    assert facts.spaces_filled == (0 if facts.spaces_waiting else row["spaces_filled"])
    assert facts.check == (row["check"] or "")
    assert facts.unmet == bool(row.get("gap_words") or row.get("overlap_words"))
    expect_hands(facts.hands, list(dict.fromkeys(stint["hand"] for stint in row["hands"])), known)


def expect_hands(shown: str, hands: list[str], known: tuple[str, ...]) -> None:
    """That each hand is told by a beginning that no other hand has; else the last, and how many there are."""
    if "(" in shown:
        assert shown.endswith(f"({len(hands)})")
        assert hands[-1].startswith(shown.partition("(")[0].rstrip("…"))
        return
    parts = shown.split("+") if shown else []
    assert len(parts) == len(hands)
    for part, hand in zip(parts, hands, strict=True):
        assert [each for each in known if each.startswith(part)] == [hand]


@pytest.mark.parametrize("size", SIZES)
async def test_the_shipped_book_tells_all_facts(
    desk: Desk, folder: Path, size: tuple[int, int], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["pages", str(folder), "--json"]) == 0
    rows = json.loads(capsys.readouterr().out)
    known = tuple(hand.id for hand in desk.job.book.hands)
    async with desk.run_test(size=size) as pilot:
        await pilot.pause()
        found = read_all(desk.screen.query_one(GatheringGrid))
    assert len(found) == len(rows)
    for index, facts in found.items():
        expect(facts, rows[index], known)


BOOKS = [(seed, sheets) for seed, sheets in enumerate((2, 3, 4, 4, 5, 6, 7, 8))]


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(("seed", "sheets"), BOOKS)
async def test_an_irregular_book_tells_all_facts(seed: int, sheets: int, size: tuple[int, int]) -> None:
    await expect_all(seed, sheets, "usual", size)


@pytest.mark.parametrize("lines", ["few", "many"])
@pytest.mark.parametrize("size", [SIZES[0], SIZES[3], SIZES[5]])
async def test_pages_of_few_and_of_many_lines_tell_all_facts(lines: str, size: tuple[int, int]) -> None:
    await expect_all(11, 4, lines, size)


def test_the_books_have_all_there_is_to_tell() -> None:
    accounts = [account for seed, sheets in BOOKS for account in page_reports(worked_book(seed, sheets).state)]
    kinds = {account.next_act.kind for account in accounts}
    assert kinds == set(ActKind) - {ActKind.INK}  # passes have tests of their own
    assert {account.check for account in accounts} == set(CheckState)
    assert {stage for account in accounts for stage in account.stages_due} == set(Stage)
    assert {len(account.record.hands) for account in accounts} >= {0, 1, 2}
    for fact in (
        any(account.over > 0 for account in accounts),
        any(account.over < 0 for account in accounts),
        any(account.gap_words for account in accounts),
        any(account.overlap_words for account in accounts),
        any(account.faults_mended for account in accounts),
        any(len(account.record.open_faults) > 1 for account in accounts),
        any(account.spaces_filled for account in accounts),
    ):
        assert fact


async def expect_all(seed: int, sheets: int, lines: str, size: tuple[int, int]) -> None:
    """That a book tells the facts of all its pages on a screen of this size, and each leaf's number."""
    state = worked_book(seed, sheets, lines).state
    known = tuple(hand.id for hand in state.book.hands)
    app = GridAlone(state)
    async with app.run_test(size=grid_size(state, *size)) as pilot:
        await pilot.pause()
        grid = app.query_one(GatheringGrid)
        found = read_all(grid)
        for account in page_reports(state):
            expect(found[account.page.index], page_as_data(account), known)
        for leaf in range(1, state.collation.leaves + 1):
            grid.cursor = 2 * leaf - 2
            shown = leaf_row(grid, grid.cursor)
            assert shown.startswith(str(leaf))
            assert ("○" in shown) == bool(state.flaws.get(leaf))


@pytest.mark.parametrize("size", [SIZES[0], SIZES[3], SIZES[5]])
@pytest.mark.parametrize(("seed", "sheets"), BOOKS)
async def test_both_leaves_of_the_cursors_sheet_are_in_view(seed: int, sheets: int, size: tuple[int, int]) -> None:
    state = worked_book(seed, sheets).state
    app = GridAlone(state)
    async with app.run_test(size=grid_size(state, *size)) as pilot:
        await pilot.pause()
        grid = app.query_one(GatheringGrid)
        for page in state.collation.all_pages():
            grid.cursor = page.index
            beside = state.collation.place(page).conjugate
            for each in (page, beside):
                if each is not None:
                    x, y = grid.place_of(each.index) or (-1, -1)
                    assert 0 < x < grid.size.width
                    assert 0 < y < grid.size.height
            text = "\n".join(grid.render_line(y).text for y in range(grid.size.height))
            place = state.collation.place(page)
            assert f"sheet {place.sheet}, {place.side} side, {place.surface}" in text
            assert text.count("▐") == text.count("▌") > 1
            assert max(cell_len(plain(row)) for row in grid.picture()) <= grid.size.width
