"""What the README promises of a recorded entry, kept from the key press and the command to the disk.

The trials of the store itself are in ``tests/store``; here trouble comes while a person is at the desk.
"""

from __future__ import annotations

import errno
import json
import os
import shutil
import subprocess
import sys
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from copydesk.book.structure.page import Page
from copydesk.cli.main import main
from copydesk.desk.app import Desk
from copydesk.job import Job
from copydesk.store.files.disk import Disk
from copydesk.store.journal import line_format as lines
from copydesk.tracking.views.page_view import page_account
from seen import said

if TYPE_CHECKING:
    from collections.abc import Iterator

SHIPPED = Path(__file__).parents[1] / "projects" / "twelve-waters"
NOON = datetime(2026, 11, 20, 12, 0, tzinfo=timezone(timedelta(hours=1)))
NEXT = Page.parse("12v")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The shipped book, to be written in; its next page to write is 12v."""
    return Path(shutil.copytree(SHIPPED, tmp_path / "book", ignore=shutil.ignore_patterns(".*")))


@pytest.fixture
def job(folder: Path) -> Iterator[Job]:
    job = Job.open(folder, desk="window", clock=lambda: NOON)
    yield job
    job.close()


def state(job: Job) -> str:
    return page_account(job.state, NEXT.index).record.state


def entries(folder: Path) -> list[str]:
    """The ids of the entries that stand in the file, in order."""
    found = lines.scan((folder / "ledger.jsonl").read_bytes())
    return [str(entry["entry"]) for line in found.lines for entry in line.entries]


class Trouble:
    """Makes every write of the ledger fail with one error while it is on."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.error: int | None = None
        write, open_to_append = Disk.write, Disk.open_to_append

        def failing_write(disk: Disk, descriptor: int, data: memoryview) -> int:
            if self.error == errno.ENOSPC:
                os.write(descriptor, data[:20])
                raise OSError(self.error, os.strerror(self.error))
            return write(disk, descriptor, data)

        def failing_open(disk: Disk, path: Path) -> int:
            if self.error in (errno.EROFS, errno.EACCES):
                raise OSError(self.error, os.strerror(self.error))
            return open_to_append(disk, path)

        monkeypatch.setattr(Disk, "write", failing_write)
        monkeypatch.setattr(Disk, "open_to_append", failing_open)


@pytest.mark.parametrize(
    ("error", "sentence"),
    [
        (errno.ENOSPC, "the disk is full; make room and try again"),
        (errno.EROFS, "the disk can only be read; make it writable or copy the folder elsewhere"),
        (errno.EACCES, "this account may not write there; ask for the right to, or copy the folder elsewhere"),
    ],
)
async def test_a_disk_that_refuses_is_told_and_nothing_is_shown_as_recorded(
    job: Job, folder: Path, monkeypatch: pytest.MonkeyPatch, error: int, sentence: str
) -> None:
    trouble, before = Trouble(monkeypatch), entries(folder)
    async with Desk(job).run_test(size=(120, 40)) as pilot:
        trouble.error = error
        await pilot.press("w")
        assert said(pilot.app).startswith("Nothing was recorded: ")  # type: ignore[arg-type]
        assert said(pilot.app).endswith(sentence)  # type: ignore[arg-type]
        assert state(job) == "begun"
        assert entries(folder) == before
        trouble.error = None
        await pilot.press("w")
        assert "12v written" in said(pilot.app)  # type: ignore[arg-type]
        assert state(job) == "written"
    assert entries(folder)[:-1] == before
    assert main(["audit", str(folder)]) == 0


async def test_a_folder_that_vanishes_and_comes_back(job: Job, folder: Path) -> None:
    away, before = folder.with_name("away"), entries(folder)
    async with Desk(job).run_test(size=(120, 40)) as pilot:
        desk = pilot.app
        assert isinstance(desk, Desk)
        folder.rename(away)
        desk.look_round()
        assert "is gone; put the folder back as it was" in said(desk)
        await pilot.press("w")
        assert said(desk).startswith("Nothing was recorded: ")
        assert state(job) == "begun"
        away.rename(folder)
        other = Job.open(folder, desk="door", clock=lambda: NOON)
        elsewhere = other.record(other.commands.rule(Page.parse("18r")))
        other.close()
        desk.look_round()
        assert said(desk) == "The book's folder can be read again."
        assert page_account(job.state, Page.parse("18r").index).record.ruled
        await pilot.press("w")
        assert state(job) == "written"
    assert entries(folder)[: len(before) + 1] == [*before, elsewhere.entry]
    assert len(entries(folder)) == len(before) + 2


async def test_a_ledger_of_a_newer_program_is_only_read(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _make_newer(folder)
    before = (folder / "ledger.jsonl").read_bytes()
    job = Job.open(folder, desk="window", clock=lambda: NOON)
    async with Desk(job).run_test(size=(120, 40)) as pilot:
        desk = pilot.app
        assert isinstance(desk, Desk)
        assert "was written by a newer copydesk" in said(desk)
        await pilot.press("w")
        assert said(desk).startswith("Nothing was recorded: ")
        assert "install the newer program to record" in said(desk)
        await pilot.press("u")
        assert said(desk).startswith("Nothing was recorded: ")
        assert state(job) == "begun"
    job.close()
    assert main(["record", str(folder), "12v", "written"]) == 2
    assert "it is only read; install the newer program to record" in capsys.readouterr().err
    assert main(["pages", str(folder), "--json"]) == 0
    read = capsys.readouterr()
    assert len(json.loads(read.out)) == 64
    assert "was written by a newer copydesk" in read.err
    assert (folder / "ledger.jsonl").read_bytes() == before


def _make_newer(folder: Path) -> None:
    """The same ledger as a later program would write it, with a kind of entry and a fact unknown to this one."""
    path = folder / "ledger.jsonl"
    first, *rest = path.read_bytes().splitlines(keepends=True)
    header = lines.Header(lines.SCHEMA + 1, json.loads(first)["book"])
    number = len(rest) + 1
    new: dict[str, Any] = {
        "entry": "n1",
        "tick": 10**6,
        "at": "2027-01-01T00:00:00+00:00",
        "desk": "d",
        "what": "perfumed",
        "scent": 3,
    }
    beside = path.with_name("newer")
    beside.write_bytes(b"".join([lines.header_line(header), *rest, lines.entry_line(number, [new])]))
    beside.replace(path)


async def test_a_program_made_newer_while_the_desk_is_open(job: Job, folder: Path) -> None:
    async with Desk(job).run_test(size=(120, 40)) as pilot:
        desk = pilot.app
        assert isinstance(desk, Desk)
        _make_newer(folder)
        desk.look_round()
        assert "was written by a newer copydesk" in said(desk)
        await pilot.press("w")
        assert said(desk).startswith("Nothing was recorded: ")
        assert state(job) == "begun"


def test_an_entry_told_by_the_command_is_there_though_the_program_is_killed(folder: Path) -> None:
    before = entries(folder)
    code = (
        "import os, signal, sys\nfrom copydesk.cli import output\nfrom copydesk.cli.main import main\n"
        "tell = output.give_json\n"
        "def and_die(value):\n    tell(value)\n    sys.stdout.flush()\n    os.kill(os.getpid(), signal.SIGKILL)\n"
        "import copydesk.cli.verbs.record as record\nrecord.give_json = and_die\n"
        f"main(['record', {str(folder)!r}, '12v', 'written', '--json'])\n"
    )
    root = str(Path(__file__).parents[1])
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=False, cwd=root)
    assert done.returncode == -9
    assert entries(folder) == [*before, json.loads(done.stdout)["entry"]]


def test_a_clock_that_jumps_changes_no_order(folder: Path) -> None:
    times = iter([NOON, NOON - timedelta(days=3000), NOON + timedelta(days=9), NOON])
    job = Job.open(folder, desk="window", clock=lambda: next(times))
    made = [job.record(job.commands.rule(Page.parse(name))) for name in ("18r", "18v", "19r")]
    assert list(job.ledger)[-3:] == made
    assert job.undo() == made[-1]
    job.close()
    again = Job.open(folder, desk="door", clock=lambda: NOON)
    assert [entry.entry for entry in again.ledger][-4:-1] == [entry.entry for entry in made]
    assert again.ledger.is_void(made[-1].entry)
    again.close()
