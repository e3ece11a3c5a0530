"""Ways to hurt a ledger, and what must hold afterwards; a short form runs with the tests, a long one by itself.

Run as a program, this file is one desk that writes until it is killed: ``ledger_trials.py FOLDER DESK COUNT``
prints the id of each entry as soon as it is acknowledged.
"""

from __future__ import annotations

import contextlib
import errno
import os
import random
import shutil
import subprocess
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

from copydesk.book.refusal import Refused
from copydesk.store.audit import audit
from copydesk.store.disk import Disk
from copydesk.store.ledger_file import LedgerFile
from copydesk.store.mend import mend

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable


class Dead(BaseException):
    """The program died here: nothing it would have done later happens."""


class FaultyDisk(Disk):
    """A disk that fails at will.

    ``faults`` maps the count of a touch (from 0) to what happens there: an error number, ``"short"`` (a write takes
    only part and says so), ``"torn"`` (part is written, then the disk is full) or ``"dead"`` (the program dies, in
    the middle of a write where it is one, and every later touch finds it dead).
    """

    def __init__(self, faults: dict[int, int | str] | None = None, *, share: float = 0.5) -> None:
        self.faults = dict(faults or {})
        self.share = share
        self.touches = 0
        self.is_dead = False

    def _touch(self, writing: Callable[[], int] | None = None) -> int | None:
        if self.is_dead:
            raise Dead
        fault = self.faults.get(self.touches)
        self.touches += 1
        if fault in ("short", "torn", "dead"):
            taken = writing() if writing else None
            if fault == "dead":
                self.is_dead = True
                raise Dead
            if fault == "torn":
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
            return taken
        if isinstance(fault, int):
            raise OSError(fault, os.strerror(fault))
        return None

    def look(self, path: Path) -> os.stat_result | None:
        self._touch()
        return super().look(path)

    def read(self, path: Path, start: int = 0, length: int = -1) -> tuple[os.stat_result, bytes]:
        self._touch()
        return super().read(path, start, length)

    def open_to_append(self, path: Path) -> int:
        self._touch()
        return super().open_to_append(path)

    def create(self, path: Path) -> int:
        self._touch()
        return super().create(path)

    def write(self, descriptor: int, data: memoryview) -> int:
        part = data[: max(1, int(len(data) * self.share))]
        taken = self._touch(lambda: os.write(descriptor, part))
        return super().write(descriptor, data) if taken is None else taken

    def sync(self, descriptor: int) -> None:
        self._touch()
        super().sync(descriptor)

    def truncate(self, descriptor: int, length: int) -> None:
        self._touch()
        super().truncate(descriptor, length)

    def replace(self, source: Path, target: Path) -> None:
        self._touch()
        super().replace(source, target)

    def make_folder(self, folder: Path) -> bool:
        self._touch()
        return super().make_folder(folder)


def seeded(seed: int) -> random.Random:
    """Chance that can be repeated."""
    return random.Random(seed)  # noqa: S311


def draft(name: str, **more: Any) -> dict[str, Any]:
    """An entry to be recorded."""
    return {"entry": name, "at": "2027-01-12T09:30:00+01:00", "what": "written", "page": "3.5:r", **more}


def names(entries: Iterable[dict[str, Any]]) -> list[str]:
    """The ids of entries, in order."""
    return [entry["entry"] for entry in entries]


def read_again(folder: Path) -> list[str]:
    """The ids that a desk opened now reads."""
    return names(LedgerFile(folder, desk="reader").entries())


def expect_sound(folder: Path, acknowledged: list[str], attempted: set[str]) -> None:
    """Every acknowledged entry is there once and in order, nothing is there that nobody wrote, and writing goes on."""
    found = read_again(folder)
    assert len(found) == len(set(found)), "an entry is doubled"
    assert set(found) <= attempted, "an entry that nobody wrote"
    assert [name for name in found if name in set(acknowledged)] == acknowledged, "an entry is lost or moved"
    last = f"last-{len(found)}-{time.monotonic_ns()}"
    attempted.add(last)
    LedgerFile(folder, desk="last").append(draft(last))
    assert read_again(folder) == [*found, last]
    assert audit(folder) == (), "writing on leaves the ledger sound"


# --- desks that are killed ------------------------------------------------------------------------------------------


def start_writer(folder: Path, desk: str, count: int) -> subprocess.Popen[bytes]:
    """A desk in a process of its own."""
    command = [sys.executable, __file__, str(folder), desk, str(count)]
    paths = os.pathsep.join(filter(None, [str(Path(__file__).parents[2]), os.environ.get("PYTHONPATH", "")]))
    environment = {**os.environ, "PYTHONPATH": paths}
    return subprocess.Popen(command, stdout=subprocess.PIPE, env=environment)


def write_until_killed(folder: Path, desk: str, count: int) -> None:
    """Record entries, naming each on stdout once it is acknowledged."""
    ledger = LedgerFile(folder, desk=desk, patience=60)
    for number in range(count):
        name = f"{desk}-{number}"
        ledger.append(draft(name, note="over the ford and home " * (number % 7)))
        os.write(1, f"{name}\n".encode())


def kill_writers(folder: Path, rounds: int, chance: random.Random) -> int:
    """In each round two desks write and are killed at random; the number of acknowledged entries, all safe."""
    acknowledged: list[str] = []
    for number in range(rounds):
        desks = [start_writer(folder, f"{letter}{number}", 100_000) for letter in "ab"]
        told = [_kill_after_some(desk, chance) for desk in desks]
        found = read_again(folder)
        assert len(found) == len(set(found)), "an entry is doubled"
        for names_told in told:
            assert set(names_told) <= set(found), "an acknowledged entry is lost"
            acknowledged += names_told
    found = read_again(folder)
    assert set(acknowledged) <= set(found), "an acknowledged entry is lost"
    LedgerFile(folder, desk="last").append(draft("last"))
    assert audit(folder) == (), "the ledger is sound after the last entry"
    return len(acknowledged)


def _kill_after_some(desk: subprocess.Popen[bytes], chance: random.Random) -> list[str]:
    assert desk.stdout is not None
    first = desk.stdout.readline()
    time.sleep(chance.uniform(0, 0.02))
    desk.kill()
    whole = (first + desk.stdout.read()).decode().splitlines(keepends=True)
    desk.stdout.close()
    desk.wait()
    return [line.strip() for line in whole if line.endswith("\n")]


def race(folder: Path, writers: int, count: int) -> float:
    """Several desks write at once; entries a second. None is lost, doubled or out of its desk's order."""
    began = time.perf_counter()
    desks = [start_writer(folder, f"desk{number}", count) for number in range(writers)]
    told = [desk.communicate()[0].decode().split() for desk in desks]
    took = time.perf_counter() - began
    entries = LedgerFile(folder, desk="reader").entries()
    for number in range(writers):
        expected = [f"desk{number}-{entry}" for entry in range(count)]
        assert told[number] == expected
        assert [entry["entry"] for entry in entries if entry["desk"] == f"desk{number}"] == expected
    assert [entry["tick"] for entry in entries] == list(range(1, writers * count + 1))
    assert audit(folder) == ()
    assert (folder / "ledger.jsonl").read_bytes() == (folder / ".copydesk" / "ledger.mirror.jsonl").read_bytes()
    return writers * count / took


# --- disks that fail ------------------------------------------------------------------------------------------------

ERRORS = (errno.ENOSPC, errno.EIO, errno.EROFS, errno.EDQUOT)


def write_on_faulty_disks(folder: Path, steps: list[tuple[dict[int, int | str], int]]) -> tuple[int, int]:
    """For each step a desk opens on a disk with these faults and records this many entries, half of them in one go.

    Returns:
        Entries acknowledged and entries refused.
    """
    acknowledged: list[str] = []
    attempted: set[str] = set()
    for number, (faults, count) in enumerate(steps):
        disk = FaultyDisk(faults)
        with contextlib.suppress(Refused, Dead):
            ledger = LedgerFile(folder, desk=f"desk{number}", disk=disk)
            for entry in range(count):
                _record(ledger, [f"{number}-{entry}"], acknowledged, attempted)
            _record(ledger, [f"{number}-with-{entry}" for entry in range(count)], acknowledged, attempted)
    expect_sound(folder, acknowledged, attempted)
    return len(acknowledged), len(attempted) - len(acknowledged) - 1


def _record(ledger: LedgerFile, wanted: list[str], acknowledged: list[str], attempted: set[str]) -> None:
    attempted.update(wanted)
    with contextlib.suppress(Refused):
        ledger.append_many([draft(name) for name in wanted])
        acknowledged += wanted


def die_at_every_touch(folder: Path, before: Callable[[Path], None], act: Callable[[Path, Disk], object]) -> int:
    """Let the program die at each touch of the disk that ``act`` makes, in turn; how many there are.

    ``folder`` holds one book folder for each. Afterwards every entry that ``before`` recorded is there once.
    """
    for touch in range(10_000):
        for share in (0.001, 0.5, 0.999):
            book = folder / f"{touch}-{share}"
            book.mkdir()
            before(book)
            kept = read_again(book)
            disk = FaultyDisk({touch: "dead"}, share=share)
            with contextlib.suppress(Dead):
                act(book, disk)
            found = read_again(book)
            assert len(found) == len(set(found))
            assert set(kept) <= set(found), f"lost where the program died at touch {touch}"
            LedgerFile(book, desk="last").append(draft("last"))
            mend(book)
            assert set(read_again(book)) >= {*found, "last"}
            assert audit(book) == ()
        if not disk.is_dead:
            return touch
    raise AssertionError("the action never ends")


class ForgetfulDisk(FaultyDisk):
    """A disk that loses at a power cut what was not waited for: bytes after the last sync, names of new files."""

    def __init__(self, faults: dict[int, int | str] | None = None) -> None:
        super().__init__(faults)
        self.safe_lengths: dict[int, int] = {}
        self.safe_names: set[Path] = set()

    def sync(self, descriptor: int) -> None:
        super().sync(descriptor)
        status = os.fstat(descriptor)
        self.safe_lengths[status.st_ino] = status.st_size

    def sync_folder(self, folder: Path) -> None:
        super().sync_folder(folder)
        self.safe_names.update(folder.iterdir())

    def cut_power(self, folder: Path, before: set[Path], chance: random.Random) -> None:
        """Leave in the folder what was safe, and of the rest as much as chance will have it."""
        for path in [path for path in folder.rglob("*") if path.is_file()]:
            if path not in self.safe_names | before and chance.random() < 0.5:
                path.unlink()
                continue
            status = path.stat()
            safe = self.safe_lengths.get(status.st_ino, 0 if path not in before else status.st_size)
            if safe < status.st_size:
                os.truncate(path, chance.randint(safe, status.st_size))
                if chance.random() < 0.5:
                    os.truncate(path, status.st_size)  # the length was kept, the bytes were not


def cut_power(folder: Path, runs: int, chance: random.Random) -> int:
    """Cut the power at a random touch of the disk while two desks write, again and again; entries acknowledged."""
    acknowledged: list[str] = []
    attempted: set[str] = set()
    for run in range(runs):
        before = set(folder.rglob("*"))
        disk = ForgetfulDisk({chance.randrange(90): "dead"})
        with contextlib.suppress(Dead):
            desks = [LedgerFile(folder, desk=f"{letter}{run}", disk=disk) for letter in "ab"]
            for number in range(6):
                _record(desks[number % 2], [f"{run}-{number}"], acknowledged, attempted)
        disk.cut_power(folder, before, chance)
        found = read_again(folder)
        assert [name for name in found if name in set(acknowledged)] == acknowledged, "an entry is lost or moved"
    mend(folder)  # the mirror is not waited for, so it may have lost bytes
    expect_sound(folder, acknowledged, attempted)
    return len(acknowledged)


# --- files that are damaged -----------------------------------------------------------------------------------------


def _flip(data: bytearray, chance: random.Random) -> None:
    data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)


def _cut(data: bytearray, chance: random.Random) -> None:
    del data[chance.randrange(len(data)) :]


def _zero(data: bytearray, chance: random.Random) -> None:
    start = chance.randrange(len(data))
    end = min(len(data), start + chance.randrange(1, 600))
    data[start:end] = bytes(end - start)


def _scramble(data: bytearray, chance: random.Random) -> None:
    start = chance.randrange(len(data))
    end = min(len(data), start + chance.randrange(1, 300))
    data[start:end] = chance.randbytes(end - start)


def _insert(data: bytearray, chance: random.Random) -> None:
    start = chance.randrange(len(data) + 1)
    data[start:start] = chance.choice([b"\n", b"\0", b"<<<<<<< ours\n", b"{}\n", b'"]', chance.randbytes(50)])


def _lines(change: Callable[[list[bytes], random.Random], None]) -> Callable[[bytearray, random.Random], None]:
    def on_lines(data: bytearray, chance: random.Random) -> None:
        lines = bytes(data).splitlines(keepends=True)
        if len(lines) > 1:
            change(lines, chance)
        data[:] = b"".join(lines)

    return on_lines


def _drop(lines: list[bytes], chance: random.Random) -> None:
    del lines[chance.randrange(len(lines))]


def _swap(lines: list[bytes], chance: random.Random) -> None:
    one, other = chance.sample(range(len(lines)), 2)
    lines[one], lines[other] = lines[other], lines[one]


def _repeat(lines: list[bytes], chance: random.Random) -> None:
    lines.insert(chance.randrange(len(lines) + 1), chance.choice(lines))


HURTS = (_flip, _flip, _cut, _zero, _scramble, _insert, _lines(_drop), _lines(_swap), _lines(_repeat))


def damage_and_mend(top: Path, ways: int, chance: random.Random) -> dict[str, int]:
    """Damage a ledger in this many ways (the mirror too, in every fourth) and check what is read, said and mended.

    Returns:
        How many entries were left out at first, brought back, and lost with both copies.
    """
    figures = {"left out": 0, "brought back": 0, "lost": 0}
    sound = top / "sound"
    sound.mkdir()
    ledger = LedgerFile(sound, desk="a")
    for number in range(12):
        ledger.append(draft(f"e{number}", note="“über die Furt”\u202e\x1b[31m" * (number % 3)))
    ledger.append_many([draft("b0"), draft("b1"), draft("b2")])
    for way in range(ways):
        book = top / f"way{way}"
        shutil.copytree(sound, book)
        _hurt(book / "ledger.jsonl", chance)
        both = way % 4 == 3
        if both:
            _hurt(book / ".copydesk" / "ledger.mirror.jsonl", chance)
        _check_damaged(book, names(ledger.entries()), both, figures)
        shutil.rmtree(book)
    return figures


def _hurt(path: Path, chance: random.Random) -> None:
    data = bytearray(path.read_bytes())
    before = bytes(data)
    while bytes(data) == before:
        for _ in range(chance.choice([1, 1, 2, 3])):
            if data:
                chance.choice(HURTS)(data, chance)
    path.write_bytes(data)


def _check_damaged(book: Path, written: list[str], both: bool, figures: dict[str, int]) -> None:
    path = book / "ledger.jsonl"
    hurt = path.read_bytes()
    opened = LedgerFile(book, desk="b")
    found = names(opened.entries())
    assert path.read_bytes() == hurt, "opening changes nothing"
    assert set(found) <= set(written), "an entry nobody wrote"
    assert len(found) == len(set(found)), "an entry is doubled"
    assert _told(set(found), written, both, opened.notes), "entries are left out and nothing says so"
    assert _told(set(found), written, both, audit(book)), "entries are left out and the audit is silent"
    assert audit(book) or found == written[: len(found)], "entries are out of order and the audit is silent"
    if not opened.why_read_only:
        opened.append(draft("more"))
        assert [*found, "more"] == read_again(book), "writing on lost an entry"
    done = mend(book)
    after = read_again(book)
    assert set(found) <= set(after), "mending lost an entry"
    assert audit(book) == (), "mending leaves something"
    assert both or [name for name in after if name != "more"] == written, "the mirror had everything"
    assert _told(set(after), written, both, done.lost), "entries are lost and nothing says so"
    _expect_kept(book, hurt)
    figures["left out"] += len(set(written) - set(found))
    figures["brought back"] += len(set(after) - set(found) - {"more"})
    figures["lost"] += len(set(written) - set(after))


def _told(found: set[str], written: list[str], both: bool, sentences: tuple[object, ...]) -> bool:
    """Whether what is missing is spoken of. The end cut off both copies cannot be known by anyone."""
    missing = [name for name in written if name not in found]
    return not missing or bool(sentences) or (both and missing == written[len(written) - len(missing) :])


def _expect_kept(book: Path, hurt: bytes) -> None:
    """Every damaged byte is still in the ledger or was set aside."""
    whole = hurt.rfind(b"\n") + 1
    kept = [book / "ledger.jsonl", *(book / ".copydesk").glob("set-aside-*")]
    contents = [path.read_bytes() for path in kept]
    assert any(content.startswith(hurt[:whole]) for content in contents), "damaged lines were thrown away"
    assert any(hurt[whole:] in content for content in contents), "an unfinished line was thrown away"


if __name__ == "__main__":
    write_until_killed(Path(sys.argv[1]), sys.argv[2], int(sys.argv[3]))
