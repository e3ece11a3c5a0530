"""Whether what faults tell comes true, in short; ``tests/bench/calibration.py`` has the long form."""

from __future__ import annotations

import random

import pytest

from fault_trials import WORLDS, advised, record, share_held


@pytest.mark.parametrize("world", WORLDS)
def test_ranges_of_rates_hold_in_every_world(world: str) -> None:
    assert 0.82 <= share_held(200, f"short {world}", world, 60, 1.0) <= 0.98


@pytest.mark.parametrize("world", WORLDS)
def test_a_rest_is_seldom_advised_for_nothing(world: str) -> None:
    rng = random.Random(f"short {world}")
    assert sum(advised(record(rng, world, 40, 1.5), 8) for _ in range(12)) <= 2


def test_a_rest_is_advised_where_faults_double() -> None:
    rng = random.Random("short")
    found = sum(advised(record(rng, "chance alone", 80, 2.0, tired=2.0), 4) for _ in range(12))
    assert found >= 7
