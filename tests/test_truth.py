"""A few random lives of books, everything they tell held against itself; ``long_truth.py`` lives hundreds."""

from __future__ import annotations

from random import Random
from typing import TYPE_CHECKING

import pytest

import truth_pages
from copydesk.job import Job
from copydesk.tracking.scribes import handover as handover_room
from copydesk.tracking.views import consequences as consequences_room
from life import Life
from life_books import NAMES, make_book
from truth import contradictions
from truth_seen import look_anew

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


@pytest.fixture
def life(tmp_path: Path) -> Iterator[Life]:
    found = Life(tmp_path / "book", "one column", Random(4))
    yield found
    found.close()


@pytest.mark.parametrize("kind", NAMES)
def test_nothing_a_book_tells_contradicts_itself(kind: str, tmp_path: Path) -> None:
    life = Life(tmp_path / "book", kind, Random(f"{kind} 4"))
    for _ in range(8):
        assert life.live() == [], life.done
    assert life.afresh() == []
    assert life.all_taken_back() == []
    life.close()


def test_a_figure_told_in_two_ways_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What the checks are for: a handover and a panel that tell other figures than the pages and the plan."""
    job = Job.open(make_book(tmp_path / "book", "too much text"), desk="desk")
    assert contradictions(job) == []
    room_ahead = handover_room.room_ahead
    monkeypatch.setattr(handover_room, "room_ahead", lambda state, at: room_ahead(state, at)._replace(over=99))
    assert any("99 over" in each for each in contradictions(job, look_anew(job)))
    monkeypatch.undo()
    page_lines = truth_pages.page_lines

    def others(state: object, account: object) -> object:
        lines = page_lines(state, account)  # type: ignore[arg-type]
        return [each._replace(says=each.says.replace("10 planned", "9 planned")) for each in lines]

    monkeypatch.setattr(truth_pages, "page_lines", others)
    assert any("9 planned" in each for each in contradictions(job))
    job.close()


def until_untrue(life: Life, steps: int = 80) -> list[str]:
    return next((found for _ in range(steps) if (found := life.live())), [])


def test_a_space_that_moves_unsaid_is_found(life: Life, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(consequences_room, "space_changes", lambda _before, _state: ())
    assert any("and nothing said so" in each for each in until_untrue(life))


def test_what_is_not_restored_is_found(life: Life, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Job, "undo", lambda _job, _name="": None)
    monkeypatch.setattr(Job, "redo", lambda _job: None)
    assert any("did not restore" in each for each in until_untrue(life))
