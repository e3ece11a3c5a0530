"""The collector is spared while the program starts, and works again afterwards."""

from __future__ import annotations

import gc
from typing import TYPE_CHECKING

import pytest

from copydesk.store.files.gc_tuning import collect_as_usual, collect_rarely

if TYPE_CHECKING:
    from collections.abc import Iterator


@pytest.fixture(autouse=True)
def collecting() -> Iterator[None]:
    usual = gc.get_threshold()
    yield
    gc.set_threshold(*usual)
    gc.unfreeze()


def test_after_the_start_what_stands_is_left_alone_and_what_comes_is_looked_at() -> None:
    collect_rarely()
    assert gc.get_threshold()[0] > 100_000
    collect_as_usual()
    assert gc.get_threshold()[0] <= 10_000
    assert gc.get_freeze_count()


def test_a_program_that_did_not_ask_to_be_spared_keeps_its_own_settings() -> None:
    gc.set_threshold(700, 10, 10)
    collect_as_usual()
    assert gc.get_threshold() == (700, 10, 10)
    assert not gc.get_freeze_count()
