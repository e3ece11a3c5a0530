"""Waiting until the desk has done all that a key set going, however little of the machine its process gets."""

from __future__ import annotations

import asyncio
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable

    from textual.pilot import Pilot

QUIET_TURNS = 5
"""Turns of the event loop with nothing to do, one after another, that are taken for rest."""

DRAWN_SECONDS = 0.02
"""A screen is drawn sixty times a second."""

MOST_DRAWN = 4
"""How often a screen may be drawn, or something else fall due, because of one key."""

LONGEST_SECONDS = 10.0


async def until_nothing_is_ready(min_sleep: float = 0.02, max_sleep: float = LONGEST_SECONDS) -> None:
    """Wait until no task of the event loop can go on, nor will soon, having waited ``min_sleep`` seconds.

    Textual's own waiting takes a process that gets no turn from the machine for one that rests, so that on a busy
    machine a key overtakes what the key before it set going. How long that may take, ``max_sleep``, is left aside.
    """
    loop = asyncio.get_running_loop()
    end = loop.time() + LONGEST_SECONDS
    await asyncio.sleep(max(min_sleep, DRAWN_SECONDS))
    await _until_nothing_can_go_on(loop, end)
    for _ in range(MOST_DRAWN):
        if not _due_soon(loop):
            break
        await asyncio.sleep(DRAWN_SECONDS)
        await _until_nothing_can_go_on(loop, end)


async def _until_nothing_can_go_on(loop: Any, end: float) -> None:
    quiet = 0
    while quiet < QUIET_TURNS and loop.time() < end:
        await asyncio.sleep(0)
        quiet = 0 if loop._ready else quiet + 1


def _due_soon(loop: Any) -> bool:
    soon = loop.time() + DRAWN_SECONDS
    return any(each.when() < soon and not each.cancelled() for each in loop._scheduled)


async def until_drawn(pilot: Pilot[Any], is_drawn: Callable[[], bool]) -> None:
    """Wait until the screen shows what was given to it, which takes several drawings where the layout changes.

    Raises AssertionError where it is not shown after ``LONGEST_SECONDS``.
    """
    end = asyncio.get_running_loop().time() + LONGEST_SECONDS
    while not is_drawn():
        assert asyncio.get_running_loop().time() < end, "the screen never showed it"
        await pilot.pause()
