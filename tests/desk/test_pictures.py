"""Every screen as it looks: a picture that differs from the one kept is shown in .report/snapshots.html."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

    from textual.pilot import Pilot

    from copydesk.desk.app import Desk

SIZES = {"80x24": (80, 24), "120x40": (120, 40), "200x60": (200, 60)}
SCREENS = {
    "sheet": ("v", "v"),
    "check": ("left", "x"),
    "faults": ("v", "f"),
    "spaces": ("v", "i"),
    "pile": ("v", "w"),
    "handover": ("v", "n"),
    "assembly": ("v", "b"),
    "overview": ("v", "g"),
    "help": ("f1",),
}


async def wait_until_idle(pilot: Pilot[None]) -> None:
    await pilot.pause(0.3)
    await pilot.app.workers.wait_for_complete()
    await pilot.pause()


@pytest.mark.parametrize("size", SIZES)
def test_the_grid(desk: Desk, snap_compare: Callable[..., bool], size: str) -> None:
    """The gatherings lying open."""
    assert snap_compare(desk, terminal_size=SIZES[size], run_before=wait_until_idle)


@pytest.mark.parametrize("name", SCREENS)
def test_a_screen(desk: Desk, snap_compare: Callable[..., bool], name: str) -> None:
    """A screen opened from the grid."""
    assert snap_compare(desk, terminal_size=SIZES["120x40"], press=SCREENS[name], run_before=wait_until_idle)


@pytest.mark.parametrize("name", ["sheet", "spaces", "handover"])
def test_a_small_screen(desk: Desk, snap_compare: Callable[..., bool], name: str) -> None:
    """The same in 80 by 24."""
    assert snap_compare(desk, terminal_size=SIZES["80x24"], press=SCREENS[name], run_before=wait_until_idle)
