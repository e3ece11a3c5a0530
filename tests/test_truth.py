"""A few random lives of books, everything they tell held against itself; ``long_truth.py`` lives hundreds."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.tracking.fit.stretches import room_ahead
from copydesk.tracking.scribes import handover as handover_room
from truth import NAMES, Life, contradictions

if TYPE_CHECKING:
    from pathlib import Path


@pytest.mark.parametrize("kind", NAMES)
def test_nothing_a_book_tells_contradicts_itself(kind: str, tmp_path: Path) -> None:
    from random import Random

    life = Life(tmp_path / "book", kind, Random(f"{kind} 4"))
    for _ in range(8):
        assert life.live() == [], life.done
    assert life.afresh() == []
    life.job.close()


def test_a_contradiction_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What the checks are for: a handover that tells another figure than the pages and the plan."""
    from random import Random

    life = Life(tmp_path / "book", "too much text", Random(1))
    assert contradictions(life.job) == []
    monkeypatch.setattr(handover_room, "room_ahead", lambda state, at: room_ahead(state, at)._replace(over=99))
    assert any("99 over" in each for each in contradictions(life.job))
    life.job.close()
