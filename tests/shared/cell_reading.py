"""The facts of each page, read back from the plain text of the gatherings, as a person without colours reads them."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.structure.page import Page, Side
from copydesk.desk.widgets.page_cell import CellForm

if TYPE_CHECKING:
    from copydesk.desk.widgets.gathering_grid import GatheringGrid
    from copydesk.desk.widgets.gathering_layout import GatheringLayout, Slot


class Facts(NamedTuple):
    """What a cell tells of its page; None where a blank page tells no figures."""

    act: str
    faults_open: int
    faults_mended: int
    written: int | None
    budget: int | None
    over: int
    spaces_waiting: int
    spaces_filled: int
    stage: str
    hands: str
    check: str
    unmet: bool


_CHECKS = {"": None, "?": "due", "…": "begun", "=": "by its writer", "✓": "by another hand"}


def facts_shown(grid: GatheringGrid) -> dict[int, Facts]:
    """Every page that stands in a full cell on the screen now, by its index."""
    rows = [grid.render_line(y).text for y in range(grid.size.height)]
    found: dict[int, Facts] = {}
    for index in range(grid.state.collation.pages):
        place = grid.place_of(index)
        if place is None:
            continue
        layout, slot = slot_of(grid, index)
        x, y = place
        if slot.form is not CellForm.STRIP and y + layout.side_rows <= len(rows):
            cell = [row[x : x + slot.width - 1] for row in rows[y : y + layout.side_rows]]
            found[index] = facts_in(cell, slot.form)
    return found


def slot_of(grid: GatheringGrid, index: int) -> tuple[GatheringLayout, Slot]:
    """Where the leaf of a page stands."""
    page = Page.at(index)
    layout = grid.layout_of(grid.state.collation.place(page).gathering - 1)
    return layout, next(slot for slot in layout.slots if slot.leaf == page.leaf)


def leaf_row(grid: GatheringGrid, index: int) -> str:
    """What stands in the row of numbers for the leaf of a page, with its verso's row above it on the screen."""
    layout, slot = slot_of(grid, index)
    place = grid.place_of(index)
    assert place is not None
    x, y = place
    between = y + layout.side_rows if Page.at(index).side is Side.RECTO else y - 1
    return grid.render_line(between).text[x : x + slot.width - 1].strip()


def facts_in(cell: list[str], form: CellForm) -> Facts:
    """The facts that a cell's rows tell."""
    if form is CellForm.NARROW:
        act, (over, faults) = cell[0].strip(), _two(r"([+−]\d+)?\s*([!m]\d+)?", cell[3])
        figures, unmet = _two(r"(\d+/\d+)?\s*(≠)?", cell[2])
        hands, check = _two(r"(.*?)\s*([?…=✓])?", cell[4])
    elif form is CellForm.NORMAL:
        act, faults = _two(r"([A-Za-z]+)\s*([!m]\d+)?", cell[0])
        figures, over = _two(r"(\d+/\d+)?\s*([+−]\d+)?", cell[2])
        hands, unmet, check = _parts(r"(.*?)\s*(≠)?([?…=✓])?", cell[3])
    else:
        act, faults = _two(r"([A-Za-z]+)\s*([!m]\d+)?(?: open| mended)?", cell[0])
        figures, over = _two(r"(\d+/\d+)?(?: ([+−]\d+))?(?: +\d+ \w+)?", cell[2])
        hands, check = _two(r"(\S*)\s*([?…=✓])?(?: [^?…=✓]+)?", cell[3])
        unmet = "≠" if cell[4].startswith("≠ ") else ""
    bar, sign, count, stage = _parts(r"([·─━╾┿]*)\s*(?:([◇◆])(\d+) ?([a-z]*)\+?)?", cell[1])
    written, budget = map(int, figures.split("/")) if figures else (None, None)
    _expect_bar(bar, written, budget)
    return Facts(
        act=act.lower(),
        faults_open=int(faults[1:]) if faults.startswith("!") else 0,
        faults_mended=int(faults[1:]) if faults.startswith("m") else 0,
        written=written,
        budget=budget,
        over=int(over.replace("−", "-")) if over else 0,
        spaces_waiting=int(count) if sign == "◇" else 0,
        spaces_filled=int(count) if sign == "◆" else 0,
        stage=stage[:1] if sign == "◇" else "",
        hands=hands,
        check=_CHECKS[check] or "",
        unmet=bool(unmet),
    )


def _expect_bar(bar: str, written: int | None, budget: int | None) -> None:
    """The bar is full where all is written, and only there; nothing of it is solid where nothing is."""
    if written is None or budget is None:
        assert not bar
        return
    full = not bar.strip("━┿")
    assert full == (bool(written) and written >= budget), (bar, written, budget)
    assert ("━" in bar or "╾" in bar) == bool(written), (bar, written, budget)


def _parts(pattern: str, row: str) -> tuple[str, ...]:
    found = re.fullmatch(pattern, row.rstrip())
    assert found is not None, f"{row!r} cannot be read"
    return tuple(part or "" for part in found.groups())


def _two(pattern: str, row: str) -> tuple[str, str]:
    first, second = _parts(pattern, row)
    return first, second
