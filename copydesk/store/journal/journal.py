"""The ledger's file as one desk knows it: what it has read so far, what is new, and adding to its end."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from copydesk.book.common.errors import DamagedLedgerError, InvalidValueError, Problem
from copydesk.book.common.progress import no_progress, part, with_progress
from copydesk.store.files.disk import disk_errors
from copydesk.store.journal.line_format import (
    NO_ENTRY,
    SCHEMA,
    Damage,
    Header,
    Scan,
    breaks,
    entry_line,
    header_line,
    new_mark,
    scan,
)

if TYPE_CHECKING:
    import os
    from collections.abc import Sequence
    from pathlib import Path

    from copydesk.book.common.progress import OnProgress
    from copydesk.store.files.disk import Disk
    from copydesk.store.journal.ledger_store import EntryDict


_TURN = 64
"""Lines whose entries are taken in between two reports of progress."""

_SCANNED = 0.7
"""The share of reading a ledger that is done once its lines are read."""


class Journal:
    """Reads and extends one file of ledger lines. Whoever calls ``add`` holds the lock.

    ``documents`` maps places in reading order (``"1"``, ``"2"``, …) to entries, as TinyDB names its documents.
    """

    def __init__(self, path: Path, disk: Disk) -> None:
        self.path = path
        self.disk = disk
        self.generation = 0
        self.events: list[str] = []
        self.last_added = b""
        self._reset()

    def _reset(self) -> None:
        """Know nothing of the file."""
        self.documents: dict[str, EntryDict] = {}
        self.by_id: dict[str, EntryDict] = {}
        self.fresh: list[EntryDict] = []
        self.damaged: list[Damage] = []
        self.tail, self.unended = b"", False
        self.length = 0
        self.schema = SCHEMA
        self.book = ""
        self.next_tick = 1
        self._next_number = 1
        self._next_line = 1
        self.breaks: list[Problem] = []
        self._last_line = b""
        self._name_is_safe = False
        self._fingerprint: tuple[int, ...] | None = None

    def catch_up(self, on_progress: OnProgress = no_progress) -> None:
        """Read what was added since last time; everything anew where the file was replaced, cut or rewritten.

        Entries not known before are added to ``fresh``; ``on_progress`` is given the share done, from 0 to 1.

        Raises:
            CopydeskError: where the file cannot be read, or was there and is gone.
        """
        with disk_errors(self.path, "The ledger cannot be read now"):
            status = self.disk.look(self.path)
            if status is None:
                self._expect_nothing()
            elif _fingerprint(status) != self._fingerprint:
                self._read_more(status, on_progress)

    def _expect_nothing(self) -> None:
        if self.length or self.tail:
            raise DamagedLedgerError(
                f"{self.path} is gone; put the folder back as it was, or bring the ledger back with copydesk audit "
                f"--mend {self.path.parent}"
            )

    def _read_more(self, status: os.stat_result, on_progress: OnProgress) -> None:
        """Read on from the last whole line, where that line still stands."""
        if self._fingerprint is None or status.st_size < self.length:
            self._read_anew(on_progress)
            return
        status, data = self.disk.read(self.path, self.length - len(self._last_line))
        if _fingerprint(status)[:2] != self._fingerprint[:2] or not data.startswith(self._last_line):
            self._read_anew(on_progress)
            return
        self._take(data[len(self._last_line) :])
        self._fingerprint = _fingerprint(status)

    def _read_anew(self, on_progress: OnProgress) -> None:
        """Read the whole file, and say what is missing that was known before."""
        status, data = self.disk.read(self.path)
        known, how = self.by_id, "cut short" if status.st_size < self.length else "replaced"
        waiting = {str(entry["entry"]) for entry in self.fresh}
        self._reset()
        self._take(data, on_progress)
        self._fingerprint = _fingerprint(status)
        self.generation += 1
        self.fresh = [entry for name, entry in self.by_id.items() if name not in known or name in waiting]
        if lost := len(known.keys() - self.by_id.keys()):
            self.say(
                f"{self.path} was {how} by another program, and of the entries read before {lost} no longer stand in "
                f"it; copydesk audit {self.path.parent} says whether they can be brought back"
            )

    def _take(self, data: bytes, on_progress: OnProgress = no_progress) -> None:
        """Take in bytes that follow what was read so far."""
        if self.unended and data.startswith(b"\n"):  # the last line has been given its end
            data, self.length, self._last_line, self.unended = data[1:], self.length + 1, self._last_line + b"\n", False
        if not data:
            self.tail = b""
            return
        found = scan(data, first=self._next_line, on_progress=part(on_progress, 0.0, _SCANNED))
        self._take_scanned(data, found, part(on_progress, _SCANNED, 1.0))

    def _take_scanned(self, data: bytes, found: Scan, on_progress: OnProgress = no_progress) -> None:
        """Take in what a scan found in these bytes."""
        whole = len(data) - len(found.tail)
        if whole:
            self._last_line = data[data.rfind(b"\n", 0, whole - 1) + 1 : whole]
        self.length += whole
        self.tail, self.unended = found.tail, found.unended
        self._next_line += found.count
        self.schema = max(self.schema, found.schema)
        self.book = self.book or found.book
        self.damaged += found.damaged
        self._keep(found, on_progress)

    def _keep(self, found: Scan, on_progress: OnProgress) -> None:
        """Take in the entries of sound lines, each id once."""
        self.breaks += breaks(found, self._next_number)
        for line in with_progress(found.lines, on_progress, _TURN):
            self._next_number = max(self._next_number, line.number + 1)
            for entry in line.entries:
                self._keep_entry(entry)
        self._reserve_numbers(found)

    def _keep_entry(self, entry: EntryDict) -> None:
        name, tick = cast("str", entry["entry"]), cast("int", entry["tick"])
        if tick >= self.next_tick:
            self.next_tick = tick + 1
        if name not in self.by_id:
            self.by_id[name] = self.documents[str(len(self.documents) + 1)] = entry
            self.fresh.append(entry)

    def _reserve_numbers(self, found: Scan) -> None:
        """Leave numbers and ticks free for damaged lines at the end, which may yet be mended."""
        last = found.lines[-1].at if found.lines else 0
        room = sum(damage.at > last and not damage.is_mark for damage in found.damaged)
        self._next_number += room
        self.next_tick += room

    def reserve_numbers(self, found: Scan) -> None:
        """Number new lines and entries above those found elsewhere, which may yet be brought back."""
        lost = sum(not damage.is_mark for damage in found.damaged) + bool(found.tail)
        numbers = [line.number for line in found.lines]
        ticks = [cast("int", entry["tick"]) for line in found.lines for entry in line.entries]
        self._next_number = max(self._next_number, max(numbers, default=0) + 1 + lost)
        self.next_tick = max(self.next_tick, max(ticks, default=0) + 1 + lost)

    def add(self, entries: Sequence[EntryDict]) -> None:
        """Keep entries as one line at the file's end, on the platter when this returns.

        Raises:
            OSError: where the disk refuses; then nothing was added.
            CopydeskError: where an entry cannot be written as a line.
        """
        header = b"" if self.length else header_line(Header(SCHEMA, new_mark()))
        data = header + entry_line(self._next_number, entries, header or self._last_line)
        found = scan(data, first=self._next_line)
        if found.damaged:
            raise InvalidValueError(NO_ENTRY)
        if self._fingerprint is not None:  # should writing fail half way, the file must not be taken for unchanged
            self._fingerprint = (*self._fingerprint[:2], -1, -1)
        status = self.disk.append(self.path, data, self.length, sync_name=not self._name_is_safe)
        self._name_is_safe = True
        waiting = len(self.fresh)
        self._take_scanned(data, found)
        del self.fresh[waiting:]
        self._fingerprint = _fingerprint(status)
        self.last_added = data

    def end_line(self) -> None:
        """Give the last line the line end that it lacks.

        Raises:
            OSError: where the disk refuses.
        """
        self.disk.append(self.path, b"\n", self.length)
        self.catch_up()

    def cut_tail(self, aside: Path) -> None:
        """Put an unfinished last line into the file ``aside``, then cut it off, so that the next line stands alone.

        Raises:
            OSError: where the disk refuses; the unfinished line is then still where it was.
        """
        self.disk.append(aside, self.tail, 0)
        self.disk.cut(self.path, self.length)
        self.say(f"{self.path.name}:{self._next_line}: the last line was unfinished; it was set aside as {aside}")
        self.tail = b""

    def say(self, sentence: str) -> None:
        """Note something that happened, once."""
        if sentence not in self.events:
            self.events.append(sentence)


def _fingerprint(status: os.stat_result) -> tuple[int, ...]:
    """What changes when a file is replaced (the first two) or written."""
    return status.st_dev, status.st_ino, status.st_size, status.st_mtime_ns
