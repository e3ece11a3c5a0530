"""The desk while the server goes and comes back: it says so, goes on, and says when all is sent."""

from __future__ import annotations

import os
import shutil
import time
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from copydesk.book.structure.page import Page
from copydesk.desk.app import Desk
from copydesk.desk.base.screen_foot import SayLine
from copydesk.job import Job
from copydesk.store.plan_file.book_file import read_book
from copydesk.store.server import connection as server_link
from copydesk.store.server.move_ledger import move_to_server
from copydesk.tracking.views.page_view import page_account
from relay import Relay

if TYPE_CHECKING:
    from collections.abc import Iterator

    import database

SHIPPED = Path(__file__).parents[3] / "projects" / "twelve-waters"
NOON = datetime(2026, 11, 20, 12, 0, tzinfo=timezone(timedelta(hours=1)))


@pytest.fixture
def relay(server: database.Server, monkeypatch: pytest.MonkeyPatch) -> Iterator[Relay]:
    monkeypatch.setattr(server_link, "_PAUSES", (0.01,))
    line = Relay(server.port)
    yield line
    line.close()


def two_folders(tmp_path: Path, server: database.Server, relay: Relay) -> tuple[Path, Path]:
    """The shipped book on two machines, its ledger on the server."""
    here, there = tmp_path / "here", tmp_path / "there"
    shutil.copytree(SHIPPED, here, ignore=shutil.ignore_patterns(".*"))
    service = server.service(f"desk-{os.getpid()}-{time.monotonic_ns()}", relay.port)
    with (here / "book.yaml").open("a", encoding="utf-8") as plan:
        plan.write(f"\nserver: {service}\n")
    shutil.copytree(here, there, ignore=shutil.ignore_patterns("ledger.jsonl"))
    move_to_server(here, read_book(here))
    return here, there


async def test_the_desk_goes_on_without_the_server_and_says_so(
    tmp_path: Path, server: database.Server, relay: Relay
) -> None:
    here, there = two_folders(tmp_path, server, relay)
    job, other = (Job.open(folder, desk=folder.name, clock=lambda: NOON) for folder in (here, there))
    assert len(job.ledger) == len(other.ledger) > 10
    async with Desk(job).run_test(size=(120, 40)) as pilot:
        desk = pilot.app
        assert isinstance(desk, Desk)

        def said() -> str:
            return desk.screen.query_one(SayLine).said

        async def until(word: str) -> None:
            for _ in range(600):
                if word in said():
                    return
                await pilot.pause(0.01)
            raise AssertionError(f"{word!r} was never said; the last was {said()!r}")

        relay.cut()
        await until("does not answer")
        await pilot.press("w")
        assert said().startswith("12v written")
        assert "Kept here, to be sent to the server" in said()
        assert page_account(job.state, Page.parse("12v").index).record.state == "written"
        other.record(other.commands.rule(Page.parse("18r")))
        assert "Kept here" in other.news()[-1]
        relay.mend()
        await until("Sent to the server")
        for _ in range(600):
            other.refresh()
            if page_account(job.state, Page.parse("18r").index).record.ruled and len(other.ledger) == len(job.ledger):
                break
            await pilot.pause(0.01)
        assert list(job.ledger) == list(other.ledger)
        assert page_account(other.state, Page.parse("12v").index).record.state == "written"
    for each in (job, other):
        each.close()
