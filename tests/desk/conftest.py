"""A copy of the shipped book on a desk with a clock that stands still."""

from __future__ import annotations

import shutil
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from textual.app import App

from copydesk.desk.app import Desk
from copydesk.desk.base.base_app import OwnApp
from copydesk.job import Job

if TYPE_CHECKING:
    from collections.abc import Callable

SHIPPED = Path(__file__).parents[2] / "projects" / "twelve-waters"
NOON = datetime(2026, 11, 20, 12, 0, tzinfo=timezone(timedelta(hours=1)))


@pytest.fixture(autouse=True)
def quiet_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing of the developer's own terminal shows in a test."""
    monkeypatch.setenv("TEXTUAL_ANIMATIONS", "none")
    for name in ("NO_COLOR", "COPYDESK_DESK", "TEXTUAL_THEME"):
        monkeypatch.delenv(name, raising=False)


@pytest.fixture(autouse=True)
def mistakes_end_the_desk(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """A mistake in one act fails a test, although the desk itself would tell it and stay open."""
    monkeypatch.setenv("COPYDESK_STATE", str(tmp_path / "state"))
    monkeypatch.setattr(OwnApp, "take_mistake", App._handle_exception)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The shipped book, to be written in."""
    return Path(shutil.copytree(SHIPPED, tmp_path / "book", ignore=shutil.ignore_patterns(".*")))


@pytest.fixture
def open_job(folder: Path) -> Callable[..., Job]:
    """Opens the book at a desk of any name."""

    def open_it(desk: str = "window") -> Job:
        return Job.open(folder, desk=desk, clock=lambda: NOON)

    return open_it


@pytest.fixture
def job(open_job: Callable[..., Job]) -> Job:
    """The book open at one desk."""
    return open_job()


@pytest.fixture
def desk(job: Job) -> Desk:
    """The desk on the book."""
    return Desk(job)
