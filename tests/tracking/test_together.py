"""What was recorded in one go is taken back in one go."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from copydesk.job import Job
from copydesk.tracking.ledger.entry import TOGETHER, Act

SHIPPED = Path(__file__).parents[2] / "projects" / "twelve-waters"


@pytest.fixture
def job(tmp_path: Path) -> Job:
    """The shipped book, to be written in."""
    folder = shutil.copytree(SHIPPED, tmp_path / "book", ignore=shutil.ignore_patterns(".*"))
    return Job.open(Path(folder), desk="window")


def notes(job: Job) -> list[str]:
    return [entry.text("text") for entry in job.ledger.live("book", "")]


def note(text: str) -> Act:
    return Act("note", "", "", {"text": text})


def test_one_undo_and_one_redo_for_all_of_them(job: Job) -> None:
    job.record(note("alone"))
    entries = job.record_all([note("one"), note("two"), note("three")])
    assert len({entry.text(TOGETHER) for entry in entries}) == 1
    assert job.undo() is not None
    assert notes(job) == ["alone"]
    job.redo()
    assert notes(job) == ["alone", "one", "two", "three"]
    job.undo()
    job.undo()
    assert notes(job) == []


def test_one_named_is_taken_back_alone(job: Job) -> None:
    first, second = job.record_all([note("one"), note("two")])
    assert job.undo(first.entry) == first
    assert notes(job) == ["two"]
    assert job.undo() == second
    assert notes(job) == []


def test_it_holds_for_whoever_reads_the_ledger_next(job: Job) -> None:
    job.record_all([note("one"), note("two")])
    job.close()
    again = Job.open(job.folder.root, desk="window")
    again.undo()
    assert notes(again) == []
    assert "together" not in again.record(note("alone")).facts
