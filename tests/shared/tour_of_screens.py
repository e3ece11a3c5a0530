"""Every screen of the desk, how it is opened, and what it looks like cell by cell: for pictures and for comparing."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.structure.page import Page, Side
from copydesk.desk.base.screen_table import SCREENS

if TYPE_CHECKING:
    from rich.segment import Segment
    from textual.pilot import Pilot

    from copydesk.desk.app import Desk


BEGUN, WRITTEN = Page(12, Side.VERSO), Page(10, Side.RECTO)
"""Two pages of the shipped book: one begun, one written with an open fault."""


class Stop(NamedTuple):
    """One screen of the tour: its name, how it is opened from the gatherings, and on which page.

    Where ``opens`` begins with ``@`` the screen of that name is opened; with ``!`` that act is done; else it is a key.
    """

    name: str
    opens: str = ""
    page: Page = BEGUN
    is_modal: bool = False


APART = ("check", "transcribe", "offers", "finder", "palette")
"""Screens opened in another way than by their name alone."""

STOPS = (
    Stop("gatherings"),
    *(Stop(entry.name, f"@{entry.name}") for entry in SCREENS if entry.name not in APART),
    Stop("check", "@check", WRITTEN),
    Stop("transcribe", "@transcribe", WRITTEN),
    Stop("form", "!write_to", is_modal=True),
    Stop("choice", "!hand", is_modal=True),
    Stop("offers", "!others", is_modal=True),
    Stop("finder", "!find", is_modal=True),
    Stop("palette", "!palette", is_modal=True),
)
"""Every screen."""


async def go_to(pilot: Pilot[None], stop: Stop) -> None:
    """Open a screen from the gatherings."""
    desk: Desk = pilot.app  # type: ignore[assignment]
    desk.screen.go_to(stop.page)  # type: ignore[attr-defined]
    await pilot.pause()
    if stop.name == "help":
        desk.action_help()
    elif stop.name == "words":
        desk.action_words()
    elif stop.opens.startswith("@"):
        desk.open_screen(stop.opens[1:], stop.page)
    elif stop.opens:
        await desk.screen.run_action(stop.opens[1:])
    await pilot.pause()
    await pilot.pause(0.02)


async def come_back(pilot: Pilot[None]) -> None:
    """Leave every screen but the gatherings, which are in front again on the page they began with."""
    while len(pilot.app.screen_stack) > 1:
        await pilot.press("escape")
        await pilot.pause()


def cells(desk: Desk) -> list[list[Segment]]:
    """What the screen in front shows, row by row, as it goes to the terminal."""
    return [list(strip) for strip in desk.screen._compositor.render_strips()]


def shown(desk: Desk) -> list[list[tuple[str, str]]]:
    """The same as text and style, neighbours of one style together, so that two screens can be compared."""
    rows = []
    for row in cells(desk):
        pieces: list[tuple[str, str]] = []
        for segment in row:
            style = str(segment.style)
            if pieces and pieces[-1][1] == style:
                pieces[-1] = (pieces[-1][0] + segment.text, style)
            else:
                pieces.append((segment.text, style))
        rows.append(pieces)
    return rows
