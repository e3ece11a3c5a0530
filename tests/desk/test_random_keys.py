"""Keys and clicks at random: the desk stands, and the ledger is sound; ``long_keys.py`` has ten thousand of them."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING

import pytest

from copydesk.desk.app import Desk
from wandering import Wanderer, expect_sound

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from copydesk.job import Job


@pytest.mark.parametrize("seed", [2, 3])
async def test_hands_at_random_do_no_harm(
    open_job: Callable[..., Job], folder: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, seed: int
) -> None:
    monkeypatch.chdir(tmp_path)
    job, other = open_job("window"), open_job("door")
    before, desk = len(job.ledger), Desk(job)
    wanderer = Wanderer(desk, other, random.Random(seed))
    async with desk.run_test(size=(120, 40)) as pilot:
        await wanderer.wander(pilot, 75)
        assert desk.is_running, wanderer.done
        assert expect_sound(desk, folder, before) > before
    other.close()
