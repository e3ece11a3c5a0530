"""Waiting until the desk has done all that a key set going, however little of the machine its process gets."""

from __future__ import annotations

import asyncio
from time import monotonic

QUIET_TURNS = 5
"""Turns of the event loop with nothing to do, one after another, that are taken for rest."""

LONGEST_SECONDS = 10.0


async def until_nothing_is_ready(min_sleep: float = 0.02, max_sleep: float = LONGEST_SECONDS) -> None:
    """Wait until no task of the event loop can go on, having waited ``min_sleep`` seconds for what is due soon.

    Textual's own waiting takes a process that gets no turn from the machine for one that rests, so that on a busy
    machine a key overtakes what the key before it set going.
    """
    loop = asyncio.get_running_loop()
    begun = monotonic()
    await asyncio.sleep(max(min_sleep, 0.02))
    quiet = 0
    while quiet < QUIET_TURNS and monotonic() - begun < LONGEST_SECONDS:
        await asyncio.sleep(0)
        quiet = 0 if loop._ready else quiet + 1  # type: ignore[attr-defined]
