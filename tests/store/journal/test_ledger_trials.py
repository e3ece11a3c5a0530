"""The ledger's trials in their short form; ``long_run.py`` beside this file has the long one."""

from __future__ import annotations

import tempfile
from pathlib import Path

import long_run
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import ledger_damage
import ledger_trials as trials

_faults = st.dictionaries(st.integers(0, 90), st.sampled_from([*trials.ERRORS, "short", "torn", "dead"]), max_size=4)


def test_desks_killed_while_writing_lose_nothing(tmp_path: Path) -> None:
    assert trials.kill_writers(tmp_path, 8, trials.seeded(7)) > 16


def test_desks_writing_at_once_lose_nothing(tmp_path: Path) -> None:
    trials.race(tmp_path, 4, 60)


def test_a_crowd_of_desks_is_served(tmp_path: Path) -> None:
    trials.crowd(tmp_path, 30, 3)


@settings(max_examples=120, deadline=None)
@given(steps=st.lists(st.tuples(_faults, st.integers(1, 4)), min_size=1, max_size=4))
def test_failing_disks_lose_nothing_that_was_acknowledged(steps: list[tuple[dict[int, int | str], int]]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        trials.write_on_faulty_disks(Path(folder), steps)


def test_the_program_may_die_at_every_touch_of_the_disk(tmp_path: Path) -> None:
    told = long_run.deaths(tmp_path, trials.seeded(0), 1)
    assert told.startswith("touches of the disk at which the program died: recording 2")


def test_a_power_cut_loses_nothing_that_was_acknowledged(tmp_path: Path) -> None:
    chance, acknowledged = trials.seeded(3), 0
    for book in range(20):
        folder = tmp_path / str(book)
        folder.mkdir()
        acknowledged += trials.cut_power(folder, 3, chance)
    assert acknowledged > 60


@pytest.mark.parametrize("seed", [1, 2])
def test_damaged_ledgers_are_read_spoken_of_and_mended(tmp_path: Path, seed: int) -> None:
    figures = ledger_damage.damage_and_mend(tmp_path, 40, trials.seeded(seed))
    assert figures["left out"] > figures["lost"] > 0
    assert figures["brought back"] > 0
