"""Adding to the end of a ledger: unfinished and damaged lines, and entries that may not be on the disk yet."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.store.journal.audit import audit
from copydesk.store.journal.ledger_file import LedgerFile
from copydesk.store.journal.line_format import entry_line
from faulty_disk import FaultyDisk
from ledger_trials import draft, ledger_of, mirror_of, names, read_again, written


def test_an_entry_whose_sync_failed_is_synced_when_asked_for_again(tmp_path: Path) -> None:
    class NoWayBack(FaultyDisk):
        syncs = 0
        broken = True

        def sync(self, _: int) -> None:
            self.syncs += 1
            if self.broken:
                raise OSError(errno.EIO, os.strerror(errno.EIO))

        def truncate(self, *_: int) -> None:
            raise OSError(errno.EIO, os.strerror(errno.EIO))

    written(tmp_path)
    disk = NoWayBack()
    ledger = LedgerFile(tmp_path, desk="b", disk=disk)
    with pytest.raises(CopydeskError, match="the disk reports a fault"):
        ledger.append(draft("b"))
    with pytest.raises(CopydeskError, match="the disk reports a fault"):
        ledger.append(draft("b"))
    disk.broken, disk.syncs = False, 0
    assert ledger.append(draft("b"))["tick"] == 4
    assert disk.syncs == 1
    assert read_again(tmp_path) == ["a0", "a1", "a2", "b"]


def test_an_unfinished_line_is_set_aside_when_the_next_is_written(tmp_path: Path) -> None:
    written(tmp_path)
    with ledger_of(tmp_path).open("ab") as file:
        file.write(b'{"number":4,"entr')
    ledger = LedgerFile(tmp_path, desk="b")
    assert any("the last line is unfinished (17 bytes)" in note for note in ledger.notes)
    ledger.append(draft("b"))
    assert any("set aside as" in note for note in ledger.notes)
    assert not any("the last line is unfinished" in note for note in ledger.notes)
    [aside] = (tmp_path / ".copydesk").glob("set-aside-*")
    assert aside.read_bytes() == b'{"number":4,"entr'
    assert read_again(tmp_path) == ["a0", "a1", "a2", "b"]
    assert LedgerFile(tmp_path, desk="c").notes == ()
    assert audit(tmp_path) == ()


def test_a_line_that_begins_to_be_written_while_we_look_is_not_called_unfinished(tmp_path: Path) -> None:
    written(tmp_path)
    ledger = LedgerFile(tmp_path, desk="b")
    with ledger_of(tmp_path).open("ab") as file:
        file.write(b'{"number":4,"entr')
    ledger.refresh()
    assert ledger.notes == ()


def test_a_line_that_another_desk_is_just_writing_is_awaited(tmp_path: Path) -> None:
    written(tmp_path)
    whole = entry_line(4, [draft("slow", tick=4)])
    code = (
        "import sys, time; from pathlib import Path; from copydesk.store.files.file_lock import held\n"
        "from copydesk.store.files.book_folder import LedgerPaths; from copydesk.store.files.disk import Disk\n"
        "folder, first, rest = Path(sys.argv[1]), *map(bytes.fromhex, sys.argv[2:])\n"
        "with held(LedgerPaths(folder), Disk()), (folder / 'ledger.jsonl').open('ab', buffering=0) as file:\n"
        "    file.write(first); print(flush=True); time.sleep(0.15); file.write(rest)\n"
    )
    command = [sys.executable, "-c", code, str(tmp_path), whole[:30].hex(), whole[30:].hex()]
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[3])}
    with subprocess.Popen(command, stdout=subprocess.PIPE, env=environment) as desk:
        assert desk.stdout is not None
        desk.stdout.readline()
        ledger = LedgerFile(tmp_path, desk="b")
    assert names(ledger.entries()) == ["a0", "a1", "a2", "slow"]
    assert ledger.notes == ()


def test_a_last_line_without_its_end_still_counts(tmp_path: Path) -> None:
    ledger = written(tmp_path)
    ledger_of(tmp_path).write_bytes(ledger_of(tmp_path).read_bytes()[:-1])
    other = LedgerFile(tmp_path, desk="b")
    assert names(other.entries()) == ["a0", "a1", "a2"]
    assert other.notes == ()
    other.append(draft("b"))
    assert read_again(tmp_path) == ["a0", "a1", "a2", "b"]
    assert names(ledger.refresh())[-1:] == ["b"]
    assert ledger_of(tmp_path).read_bytes() == mirror_of(tmp_path).read_bytes()


def test_damage_in_the_middle_stays_and_is_written_after(tmp_path: Path) -> None:
    written(tmp_path)
    hurt = ledger_of(tmp_path).read_bytes().replace(b'"a1"', b'"aX"')
    ledger_of(tmp_path).write_bytes(hurt)
    ledger = LedgerFile(tmp_path, desk="b")
    assert names(ledger.entries()) == ["a0", "a2"]
    [note] = ledger.notes
    assert note.startswith("ledger.jsonl:3: this line is damaged")
    ledger.append(draft("b"))
    assert ledger_of(tmp_path).read_bytes().startswith(hurt)
    assert read_again(tmp_path) == ["a0", "a2", "b"]


def test_many_damaged_lines_are_counted(tmp_path: Path) -> None:
    written(tmp_path, 9)
    ledger_of(tmp_path).write_bytes(ledger_of(tmp_path).read_bytes().replace(b'"what"', b'"whaT"'))
    ledger = LedgerFile(tmp_path, desk="b")
    assert len(ledger.notes) == 4
    assert "6 more lines are damaged" in ledger.notes[-1]


def test_a_damaged_last_line_keeps_its_tick(tmp_path: Path) -> None:
    written(tmp_path)
    ledger_of(tmp_path).write_bytes(ledger_of(tmp_path).read_bytes().replace(b'"a2"', b'"aX"'))
    assert LedgerFile(tmp_path, desk="b").append(draft("b"))["tick"] == 4
