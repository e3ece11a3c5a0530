"""The gatherings of a large book cost what is seen of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from textual.app import App

from copydesk.desk.widgets import gathering_grid
from copydesk.desk.widgets.gathering_grid import GatheringGrid
from small_book import SmallBook

if TYPE_CHECKING:
    from collections.abc import Callable

    from textual.app import ComposeResult

    from copydesk.tracking.state.book_state import BookState


class GridAlone(App[None]):
    """The gatherings without the rest of the desk."""

    CSS = "GatheringGrid { width: 100%; height: 100%; }"

    def __init__(self, state: BookState) -> None:
        super().__init__()
        self._state = state

    def compose(self) -> ComposeResult:
        """The grid alone."""
        yield GatheringGrid(self._state)


@pytest.fixture
def looked_at(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What was looked at: whole accounts and glances of pages."""
    seen: list[str] = []

    def counted(name: str) -> Callable[[BookState, int], object]:
        look = getattr(gathering_grid, name)

        def look_and_count(state: BookState, index: int) -> object:
            seen.append(name)
            return look(state, index)

        return look_and_count

    for name in ("page_account", "page_glance"):
        monkeypatch.setattr(gathering_grid, name, counted(name))
    return seen


def draw(grid: GatheringGrid) -> None:
    """Draw every row."""
    for y in range(grid.size.height):
        grid.render_line(y)


async def test_a_book_of_500_gatherings_costs_what_is_seen_of_it(looked_at: list[str]) -> None:
    book = SmallBook(words=9000, sheets=4, count=500)
    app = GridAlone(book.state)
    async with app.run_test(size=(80, 37)) as pilot:
        await pilot.pause()
        grid = app.query_one(GatheringGrid)
        draw(grid)
        assert 0 < len(looked_at) <= 2 * 16 * 6
        looked_at.clear()
        grid.move("right")
        grid.move("down")
        draw(grid)
        assert looked_at == []
        grid.move("last")
        draw(grid)
        assert len(looked_at) <= 2 * 16 * 6
        looked_at.clear()
        grid.cursor = 0
        draw(grid)
        looked_at.clear()
        book.write("1r")
        grid.show(book.state)
        draw(grid)
        assert looked_at.count("page_account") <= 48


async def test_a_line_for_each_of_500_gatherings_scrolls_with_the_cursor(looked_at: list[str]) -> None:
    app = GridAlone(SmallBook(words=9000, sheets=4, count=500).state)
    async with app.run_test(size=(80, 20)) as pilot:
        await pilot.pause()
        grid = app.query_one(GatheringGrid)
        grid.show_closed(True)
        grid.move("last")
        draw(grid)
        assert grid.render_line(18).text.startswith(" 500  3993–4000 ")
        assert grid.render_line(19).text.strip() == "481 more above"
        assert "-" in grid.render_line(18).text
        assert looked_at.count("page_glance") <= 16 * 45
        grid.move("gathering_up")
        assert grid.render_line(18).text.startswith(" 500")
