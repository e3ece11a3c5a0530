"""The ledger in a book folder: what other programs, disks and people may do to it."""

from __future__ import annotations

import errno
import os
import stat
import subprocess
import sys
import threading
import time
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import pytest
from ledger_trials import FaultyDisk, draft, names, read_again

from copydesk.book.refusal import Refused
from copydesk.store.audit import audit
from copydesk.store.disk import Disk
from copydesk.store.ledger_file import LedgerFile
from copydesk.store.lines import Header, entry_line, header_line
from copydesk.store.lock import held
from copydesk.store.places import Places


def written(folder: Path, count: int = 3, desk: str = "a") -> LedgerFile:
    ledger = LedgerFile(folder, desk=desk)
    for number in range(count):
        ledger.append(draft(f"{desk}{number}"))
    return ledger


def path_of(folder: Path) -> Path:
    return folder / "ledger.jsonl"


def mirror_of(folder: Path) -> Path:
    return folder / ".copydesk" / "ledger.mirror.jsonl"


# --- opening and reading --------------------------------------------------------------------------------------------


def test_looking_at_a_book_writes_nothing(tmp_path: Path) -> None:
    ledger = LedgerFile(tmp_path, desk="a")
    assert (ledger.entries(), ledger.refresh(), ledger.notes) == ([], [], ())
    assert list(tmp_path.iterdir()) == []
    written(tmp_path)
    before = {path: path.stat().st_mtime_ns for path in tmp_path.rglob("*")}
    assert names(LedgerFile(tmp_path, desk="b", read_only=True).entries()) == ["a0", "a1", "a2"]
    assert {path: path.stat().st_mtime_ns for path in tmp_path.rglob("*")} == before


def test_a_look_at_an_unchanged_file_reads_nothing(tmp_path: Path) -> None:
    written(tmp_path)
    disk = FaultyDisk()
    ledger = LedgerFile(tmp_path, desk="b", disk=disk)
    ledger.entries()
    before = disk.touches
    assert ledger.refresh() == []
    assert disk.touches == before + 1


def test_only_what_is_new_is_read(tmp_path: Path) -> None:
    class Counting(Disk):
        count = 0

        def read(self, path: Path, start: int = 0, length: int = -1) -> tuple[os.stat_result, bytes]:
            status, data = super().read(path, start, length)
            self.count += len(data)
            return status, data

    writer = written(tmp_path, 200)
    disk = Counting()
    reader = LedgerFile(tmp_path, desk="b", disk=disk)
    whole = disk.count
    assert len(reader.entries()) == 200
    writer.append(draft("new"))
    assert names(reader.refresh()) == ["new"]
    assert disk.count - whole < whole / 50


def test_opened_to_be_read_refuses_to_write(tmp_path: Path) -> None:
    written(tmp_path)
    ledger = LedgerFile(tmp_path, desk="b", read_only=True)
    with pytest.raises(Refused, match="opened only to be read"):
        ledger.append(draft("b"))
    assert read_again(tmp_path) == ["a0", "a1", "a2"]


def test_a_newer_ledger_is_only_read(tmp_path: Path) -> None:
    more = {"tick": 1, "seal": "red wax", "what": "sealed"}
    path_of(tmp_path).write_bytes(header_line(Header(2, "b0")) + entry_line(1, [draft("a", **more)]))
    before = path_of(tmp_path).read_bytes()
    ledger = LedgerFile(tmp_path, desk="b")
    assert ledger.entries() == [draft("a", **more)]
    assert any("newer copydesk" in note for note in ledger.notes)
    with pytest.raises(Refused, match="newer copydesk"):
        ledger.append(draft("b"))
    assert path_of(tmp_path).read_bytes() == before


def test_a_ledger_made_newer_while_open_is_only_read_from_then_on(tmp_path: Path) -> None:
    ledger = written(tmp_path)
    newer = tmp_path / "newer"
    newer.write_bytes(path_of(tmp_path).read_bytes().replace(*_headers(tmp_path)))
    newer.replace(path_of(tmp_path))
    with pytest.raises(Refused, match="newer copydesk"):
        ledger.append(draft("b"))
    assert read_again(tmp_path) == ["a0", "a1", "a2"]


def _headers(folder: Path) -> tuple[bytes, bytes]:
    old = path_of(folder).read_bytes().splitlines(keepends=True)[0]
    return old, header_line(Header(2, "b0"))


def test_the_older_form_is_written_on(tmp_path: Path) -> None:
    path_of(tmp_path).write_bytes(header_line(Header(0, "b0")) + entry_line(1, [draft("a", tick=4)]))
    assert LedgerFile(tmp_path, desk="b").append(draft("b"))["tick"] == 5


# --- files changed by others ----------------------------------------------------------------------------------------


def test_a_replaced_file_is_read_anew(tmp_path: Path) -> None:
    ledger = written(tmp_path)
    ledger.entries()
    other = tmp_path / "other"
    lines = path_of(tmp_path).read_bytes().splitlines(keepends=True)
    other.write_bytes(b"".join([*lines, entry_line(4, [draft("b", tick=4)])]))
    other.replace(path_of(tmp_path))
    before = ledger.generation
    assert names(ledger.refresh()) == ["b"]
    assert ledger.generation > before
    assert ledger.notes == ()
    assert ledger.append(draft("c"))["tick"] == 5


def test_a_file_replaced_by_an_older_one_is_spoken_of(tmp_path: Path) -> None:
    ledger = written(tmp_path)
    older = tmp_path / "older"
    older.write_bytes(b"".join(path_of(tmp_path).read_bytes().splitlines(keepends=True)[:2]))
    older.replace(path_of(tmp_path))
    assert ledger.refresh() == []
    assert names(ledger.entries()) == ["a0"]
    assert any("of the entries read before 2 no longer stand in it" in note for note in ledger.notes)
    assert any("shorter than its mirror" in note for note in ledger.notes)


def test_a_file_rewritten_in_place_is_read_anew(tmp_path: Path) -> None:
    ledger = written(tmp_path)
    before = ledger.generation
    data = path_of(tmp_path).read_bytes()
    path_of(tmp_path).write_bytes(data.replace(b'"a2"', b'"aX"'))
    ledger.refresh()
    assert ledger.generation > before
    assert names(ledger.entries()) == ["a0", "a1"]
    assert any("ledger.jsonl:4: this line is damaged" in note for note in ledger.notes)


def test_a_file_cut_short_while_open_is_spoken_of(tmp_path: Path) -> None:
    ledger = written(tmp_path)
    os.truncate(path_of(tmp_path), path_of(tmp_path).stat().st_size - 10)
    ledger.refresh()
    assert names(ledger.entries()) == ["a0", "a1"]
    assert any("was cut short by another program" in note for note in ledger.notes)


def test_a_touched_file_is_not_read_anew(tmp_path: Path) -> None:
    ledger = written(tmp_path)
    before = ledger.generation
    os.utime(path_of(tmp_path))
    assert ledger.refresh() == []
    assert ledger.generation == before


def test_a_file_that_is_gone_is_not_begun_again(tmp_path: Path) -> None:
    ledger = written(tmp_path)
    path_of(tmp_path).rename(tmp_path / "elsewhere")
    for act in (ledger.refresh, lambda: ledger.append(draft("b"))):
        with pytest.raises(Refused, match="is gone"):
            act()
    assert names(ledger.entries()) == ["a0", "a1", "a2"]
    assert not path_of(tmp_path).exists()
    (tmp_path / "elsewhere").rename(path_of(tmp_path))
    assert ledger.append(draft("b"))["tick"] == 4


@pytest.mark.parametrize("empty", [False, True])
def test_with_the_ledger_gone_the_mirror_is_read(tmp_path: Path, empty: bool) -> None:
    written(tmp_path)
    path_of(tmp_path).unlink()
    if empty:
        path_of(tmp_path).touch()
    ledger = LedgerFile(tmp_path, desk="b")
    assert names(ledger.entries()) == ["a0", "a1", "a2"]
    assert any("only its mirror could be read" in note for note in ledger.notes)
    with pytest.raises(Refused, match="--mend"):
        ledger.append(draft("b"))


def test_a_folder_that_vanishes_and_comes_back(tmp_path: Path) -> None:
    book = tmp_path / "book"
    book.mkdir()
    ledger = written(book)
    book.rename(tmp_path / "drawer")
    with pytest.raises(Refused):
        ledger.refresh()
    with pytest.raises(Refused, match="put the drive back"):
        ledger.append(draft("b"))
    assert not book.exists()
    (tmp_path / "drawer").rename(book)
    ledger.append(draft("b"))
    assert read_again(book) == ["a0", "a1", "a2", "b"]


def test_a_folder_that_was_never_there(tmp_path: Path) -> None:
    ledger = LedgerFile(tmp_path / "nowhere", desk="a")
    assert ledger.entries() == []
    with pytest.raises(Refused, match="the folder is not there"):
        ledger.append(draft("a"))
    assert list(tmp_path.iterdir()) == []


def test_the_hidden_folder_may_be_tidied_away_while_desks_are_open(tmp_path: Path) -> None:
    one, other = written(tmp_path, desk="one"), LedgerFile(tmp_path, desk="other")
    for path in (tmp_path / ".copydesk").iterdir():
        path.unlink()
    (tmp_path / ".copydesk").rmdir()
    other.append(draft("x"))
    one.append(draft("y"))
    assert mirror_of(tmp_path).read_bytes() == path_of(tmp_path).read_bytes()
    assert audit(tmp_path) == ()


def test_the_clock_does_not_matter(tmp_path: Path) -> None:
    ledger = LedgerFile(tmp_path, desk="a")
    ledger.append(draft("late", at="2031-01-01T00:00:00+00:00"))
    ledger.append(draft("early", at="1999-01-01T00:00:00+00:00"))
    os.utime(path_of(tmp_path), (0, 0))
    ledger.append(draft("now"))
    assert read_again(tmp_path) == ["late", "early", "now"]


# --- unfinished lines -----------------------------------------------------------------------------------------------


def test_an_unfinished_line_is_set_aside_when_the_next_is_written(tmp_path: Path) -> None:
    written(tmp_path)
    with path_of(tmp_path).open("ab") as file:
        file.write(b'{"number":4,"entr')
    ledger = LedgerFile(tmp_path, desk="b")
    assert any("the last line is unfinished (17 bytes)" in note for note in ledger.notes)
    ledger.append(draft("b"))
    assert any("set aside as" in note for note in ledger.notes)
    [aside] = (tmp_path / ".copydesk").glob("set-aside-*")
    assert aside.read_bytes() == b'{"number":4,"entr'
    assert read_again(tmp_path) == ["a0", "a1", "a2", "b"]
    assert LedgerFile(tmp_path, desk="c").notes == ()
    assert audit(tmp_path) == ()


def test_a_line_that_another_desk_is_just_writing_is_awaited(tmp_path: Path) -> None:
    written(tmp_path)
    whole = entry_line(4, [draft("slow", tick=4)])
    code = (
        "import sys, time; from pathlib import Path; from copydesk.store.lock import held\n"
        "from copydesk.store.places import Places; from copydesk.store.disk import Disk\n"
        "folder, first, rest = Path(sys.argv[1]), *map(bytes.fromhex, sys.argv[2:])\n"
        "with held(Places(folder), Disk()), (folder / 'ledger.jsonl').open('ab', buffering=0) as file:\n"
        "    file.write(first); print(flush=True); time.sleep(0.15); file.write(rest)\n"
    )
    command = [sys.executable, "-c", code, str(tmp_path), whole[:30].hex(), whole[30:].hex()]
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])}
    with subprocess.Popen(command, stdout=subprocess.PIPE, env=environment) as desk:
        assert desk.stdout is not None
        desk.stdout.readline()
        ledger = LedgerFile(tmp_path, desk="b")
    assert names(ledger.entries()) == ["a0", "a1", "a2", "slow"]
    assert ledger.notes == ()


def test_a_last_line_without_its_end_still_counts(tmp_path: Path) -> None:
    ledger = written(tmp_path)
    path_of(tmp_path).write_bytes(path_of(tmp_path).read_bytes()[:-1])
    other = LedgerFile(tmp_path, desk="b")
    assert names(other.entries()) == ["a0", "a1", "a2"]
    assert other.notes == ()
    other.append(draft("b"))
    assert read_again(tmp_path) == ["a0", "a1", "a2", "b"]
    assert names(ledger.refresh())[-1:] == ["b"]
    assert path_of(tmp_path).read_bytes() == mirror_of(tmp_path).read_bytes()


# --- damage in the middle -------------------------------------------------------------------------------------------


def test_damage_in_the_middle_stays_and_is_written_after(tmp_path: Path) -> None:
    written(tmp_path)
    hurt = path_of(tmp_path).read_bytes().replace(b'"a1"', b'"aX"')
    path_of(tmp_path).write_bytes(hurt)
    ledger = LedgerFile(tmp_path, desk="b")
    assert names(ledger.entries()) == ["a0", "a2"]
    [note] = ledger.notes
    assert note.startswith("ledger.jsonl:3: this line is damaged")
    ledger.append(draft("b"))
    assert path_of(tmp_path).read_bytes().startswith(hurt)
    assert read_again(tmp_path) == ["a0", "a2", "b"]


def test_many_damaged_lines_are_counted(tmp_path: Path) -> None:
    written(tmp_path, 9)
    path_of(tmp_path).write_bytes(path_of(tmp_path).read_bytes().replace(b'"what"', b'"whaT"'))
    ledger = LedgerFile(tmp_path, desk="b")
    assert len(ledger.notes) == 4
    assert "6 more lines are damaged" in ledger.notes[-1]


def test_a_damaged_last_line_keeps_its_tick(tmp_path: Path) -> None:
    written(tmp_path)
    path_of(tmp_path).write_bytes(path_of(tmp_path).read_bytes().replace(b'"a2"', b'"aX"'))
    assert LedgerFile(tmp_path, desk="b").append(draft("b"))["tick"] == 4


# --- disks that refuse ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("error", "said"),
    [
        (errno.ENOSPC, "the disk is full; make room"),
        (errno.EDQUOT, "may not fill more"),
        (errno.EIO, "the disk reports a fault"),
        (errno.EROFS, "can only be read"),
        (errno.EACCES, "this account may not write there"),
        (errno.ESTALE, "the network folder is gone"),
        (errno.EMFILE, "too many files are open"),
        (errno.EXDEV, "the system says"),
    ],
)
def test_each_fault_of_the_disk_is_a_sentence_and_nothing_is_recorded(tmp_path: Path, error: int, said: str) -> None:
    written(tmp_path)
    before = path_of(tmp_path).read_bytes()
    healthy = FaultyDisk()
    LedgerFile(tmp_path, desk="b", disk=healthy)
    opening = healthy.touches
    for touch in range(opening, opening + 40):
        disk = FaultyDisk({touch: error})
        ledger = LedgerFile(tmp_path, desk="b", disk=disk)
        try:
            ledger.append(draft("b"))
        except Refused as refused:
            assert said in str(refused)
            assert "\n" not in str(refused)
            assert path_of(tmp_path).read_bytes() == before
            ledger.append(draft("b"))
        assert read_again(tmp_path) == ["a0", "a1", "a2", "b"]
        path_of(tmp_path).write_bytes(before)
        mirror_of(tmp_path).write_bytes(before)
        if disk.touches < touch:
            break
    assert touch > opening + 8, "faults were met at every step of an entry"


def test_short_writes_are_written_on(tmp_path: Path) -> None:
    disk = FaultyDisk(dict.fromkeys(range(5, 40), "short"), share=0.01)
    LedgerFile(tmp_path, desk="a", disk=disk).append(draft("a"))
    assert read_again(tmp_path) == ["a"]


def test_a_folder_that_can_only_be_read_is_read(tmp_path: Path) -> None:
    written(tmp_path)

    class ReadOnly(Disk):
        def open_to_append(self, _: Path) -> int:
            raise OSError(errno.EROFS, os.strerror(errno.EROFS))

    ledger = LedgerFile(tmp_path, desk="b", disk=ReadOnly())
    assert names(ledger.entries()) == ["a0", "a1", "a2"]
    with pytest.raises(Refused, match=r"Nothing was recorded: .*the disk can only be read"):
        ledger.append(draft("b"))


def test_a_mirror_that_cannot_be_written_does_not_stop_an_entry(tmp_path: Path) -> None:
    class NoMirror(Disk):
        def append(self, path: Path, data: bytes, at: int, **how: Any) -> os.stat_result:
            if "mirror" in path.name:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
            return super().append(path, data, at, **how)

    ledger = LedgerFile(tmp_path, desk="a", disk=NoMirror())
    ledger.append(draft("a"))
    ledger.append(draft("b"))
    [note] = ledger.notes
    assert note.startswith("The entry is safe, but the mirror")
    LedgerFile(tmp_path, desk="b").append(draft("c"))
    assert path_of(tmp_path).read_bytes() == mirror_of(tmp_path).read_bytes()


def test_a_mirror_turned_into_a_link_does_not_take_back_an_entry(tmp_path: Path) -> None:
    ledger = written(tmp_path)
    mirror_of(tmp_path).rename(tmp_path / "outside")
    mirror_of(tmp_path).symlink_to(tmp_path / "outside")
    ledger.append(draft("b"))
    assert any("The entry is safe, but the mirror" in note and "is a link" in note for note in ledger.notes)
    assert read_again(tmp_path) == ["a0", "a1", "a2", "b"]


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
    with pytest.raises(Refused, match="the disk reports a fault"):
        ledger.append(draft("b"))
    with pytest.raises(Refused, match="the disk reports a fault"):
        ledger.append(draft("b"))
    disk.broken, disk.syncs = False, 0
    assert ledger.append(draft("b"))["tick"] == 4
    assert disk.syncs == 1
    assert read_again(tmp_path) == ["a0", "a1", "a2", "b"]


# --- locks ----------------------------------------------------------------------------------------------------------


def test_a_desk_that_holds_on_is_waited_for_only_so_long(tmp_path: Path) -> None:
    ledger = LedgerFile(tmp_path, desk="b", patience=0.05)
    with held(Places(tmp_path), Disk()):
        began = time.monotonic()
        with pytest.raises(Refused, match="another desk is still writing"):
            ledger.append(draft("b"))
        assert 0.05 <= time.monotonic() - began < 2
    ledger.append(draft("b"))
    assert read_again(tmp_path) == ["b"]


def test_a_lock_on_a_file_tidied_away_meanwhile_is_no_lock(tmp_path: Path) -> None:
    ledger, places = LedgerFile(tmp_path, desk="b"), Places(tmp_path)
    writing = threading.Thread(target=ledger.append, args=(draft("b"),))
    with ExitStack() as second:
        with held(places, Disk()):
            writing.start()
            time.sleep(0.05)  # the desk waits for the first lock
            places.lock.unlink()
            second.enter_context(held(places, Disk()))
        time.sleep(0.05)
        assert writing.is_alive(), "the desk wrote although another holds the lock"
    writing.join()
    assert read_again(tmp_path) == ["b"]


def test_a_folder_that_cannot_be_locked_is_a_sentence(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    import portalocker

    def no_locks(*_: object) -> None:
        raise portalocker.exceptions.LockException("no locks available")

    monkeypatch.setattr(portalocker, "lock", no_locks)
    with pytest.raises(Refused, match="cannot be locked"):
        LedgerFile(tmp_path, desk="a").append(draft("a"))


# --- who may write, and where ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(("folder", "file"), [(0o700, 0o600), (0o755, 0o644), (0o775, 0o664), (0o777, 0o664)])
def test_files_get_the_folders_permissions_but_never_for_all(tmp_path: Path, folder: int, file: int) -> None:
    tmp_path.chmod(folder)
    before = os.umask(0o077)
    try:
        written(tmp_path)
    finally:
        os.umask(before)
    for path in tmp_path.rglob("*"):
        mode = stat.S_IMODE(path.lstat().st_mode)
        assert mode == ((folder & ~0o002) if path.is_dir() else file), path
    assert audit(tmp_path) == ()


@pytest.mark.parametrize(
    "name", ["ledger.jsonl", ".copydesk/ledger.mirror.jsonl", ".copydesk/ledger.lock", ".copydesk"]
)
def test_links_are_not_followed(tmp_path: Path, name: str) -> None:
    book, outside = tmp_path / "book", tmp_path / "outside"
    book.mkdir()
    written(book)
    (book / name).rename(outside)
    before = outside.read_bytes() if outside.is_file() else b""
    (book / name).symlink_to(outside)
    try:
        ledger = LedgerFile(book, desk="b")
        ledger.append(draft("b"))
    except Refused as refused:
        assert "link" in str(refused)
    else:
        assert any("link" in note for note in ledger.notes)
    assert outside.is_dir() or outside.read_bytes() == before


def test_a_pipe_in_the_ledgers_place_does_not_hang(tmp_path: Path) -> None:
    os.mkfifo(path_of(tmp_path))
    with pytest.raises(Refused, match="not an ordinary file"):
        LedgerFile(tmp_path, desk="a")


def test_the_hidden_folder_stays_out_of_version_control(tmp_path: Path) -> None:
    written(tmp_path)
    assert (tmp_path / ".copydesk" / ".gitignore").read_text() == "*\n"


# --- the database ---------------------------------------------------------------------------------------------------


def test_the_ledger_is_a_tinydb_table(tmp_path: Path) -> None:
    from tinydb import where

    from copydesk.store.journal import Journal
    from copydesk.store.tables import EntryDatabase

    written(tmp_path)
    journal = Journal(path_of(tmp_path), Disk())
    journal.catch_up()
    table = EntryDatabase(journal).entries
    assert [document["entry"] for document in table.search(where("tick") > 1)] == ["a1", "a2"]
    assert table.get(doc_id=2) == journal.by_id["a1"]
    assert table.insert(draft("b", tick=4)) == 4
    assert [document["entry"] for document in table.search(where("tick") > 2)] == ["a2", "b"]
    assert len(table) == 4


def test_the_database_takes_no_change_but_new_entries(tmp_path: Path) -> None:
    from copydesk.store.journal import Journal
    from copydesk.store.tables import EntryDatabase

    written(tmp_path)
    journal = Journal(path_of(tmp_path), Disk())
    journal.catch_up()
    database = EntryDatabase(journal)
    before = path_of(tmp_path).read_bytes()
    for change in (
        database.drop_tables,
        database.entries.truncate,
        lambda: database.entries.update({"what": "ruled"}),
        lambda: database.entries.remove(doc_ids=[1]),
    ):
        with pytest.raises(Refused, match="never changed or removed"):
            change()
    assert path_of(tmp_path).read_bytes() == before
    assert len(database.entries) == 3


def test_opening_the_module_does_not_import_the_database() -> None:
    code = "import sys, copydesk.store.ledger_file; sys.exit('tinydb' in sys.modules or 'portalocker' in sys.modules)"
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])}
    assert subprocess.run([sys.executable, "-c", code], env=environment, check=False).returncode == 0
