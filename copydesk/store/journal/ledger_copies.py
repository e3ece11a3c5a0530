"""The ledger and its mirror: keeping the mirror, reading both side by side, and what only one of them has."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from copydesk.book.common.errors import CopydeskError, DamagedLedgerError, LedgerMismatchError, Problem
from copydesk.store.files.disk import because, disk_errors
from copydesk.store.journal.line_format import SCHEMA, Header, Scan, entry_line, header_line, new_mark, scan
from copydesk.tracking.ledger.entry import wrong_in

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path

    from copydesk.store.files.book_folder import LedgerPaths
    from copydesk.store.files.disk import Disk
    from copydesk.store.journal.ledger_store import EntryDict


@dataclass(frozen=True, slots=True)
class Copy:
    """One file of ledger lines: where, its bytes, and what they hold."""

    path: Path
    there: bool
    data: bytes
    found: Scan

    @property
    def wrong(self) -> dict[str, Problem]:
        """Entries with facts that nothing in a book can have, by id: their place and what is wrong."""
        return {
            str(entry["entry"]): Problem(self.path.name, line.at, 0, f"the entry {entry['entry']!r}: {what}")
            for line in self.found.lines
            for entry in line.entries
            if (what := wrong_in(entry))
        }

    @property
    def entries(self) -> dict[str, EntryDict]:
        """Its entries by id, the first of each."""
        held: dict[str, EntryDict] = {}
        for line in self.found.lines:
            for entry in line.entries:
                held.setdefault(str(entry["entry"]), entry)
        return held

    @property
    def versions(self) -> dict[str, list[EntryDict]]:
        """All that stands under each id; more than one where a line was changed by hand."""
        held: dict[str, list[EntryDict]] = {}
        for line in self.found.lines:
            for entry in line.entries:
                held.setdefault(str(entry["entry"]), []).append(entry)
        return held

    def batches(self, known: set[str]) -> list[list[EntryDict]]:
        """The entries of each line, leaving out ids in ``known`` and ids that came before; no empty ones."""
        seen, batches = set(known), []
        for line in self.found.lines:
            batch = []
            for entry in line.entries:
                if entry["entry"] not in seen:
                    seen.add(str(entry["entry"]))
                    batch.append(entry)
            batches.append(batch)
        return [batch for batch in batches if batch]


def read_copy(path: Path, disk: Disk) -> Copy:
    """Read the file at ``path``; one that is not there holds nothing.

    Raises:
        LedgerMismatchError: where it cannot be read, or is no ordinary file.
    """
    with disk_errors(path, "The ledger cannot be read"):
        there = disk.look(path) is not None
        data = disk.read(path)[1] if there else b""
    return Copy(path, there, data, scan(data))


def read_both(places: LedgerPaths, disk: Disk) -> tuple[Copy, Copy]:
    """The ledger and its mirror."""
    return read_copy(places.ledger, disk), read_copy(places.mirror, disk)


def holds_entries(places: LedgerPaths) -> bool:
    """Whether the ledger in the folder holds more than the mark a book gets when it is made."""
    only_mark = len(header_line(Header(SCHEMA, new_mark())))
    return places.ledger.is_file() and places.ledger.stat().st_size > only_mark


def mark_of(places: LedgerPaths, disk: Disk) -> str:
    """The mark that the ledger in the folder bears, or a new one.

    Raises:
        LedgerMismatchError: where the file cannot be read.
    """
    return read_copy(places.ledger, disk).found.book or new_mark()


def only_in(copy: Copy, other: Copy) -> set[int]:
    """The numbers of lines in ``copy`` with entries that ``other`` lacks: what its damaged lines may have been."""
    known = other.entries
    return {line.number for line in copy.found.lines if any(entry["entry"] not in known for entry in line.entries)}


def differing(ledger: Copy, mirror: Copy) -> dict[str, tuple[EntryDict, EntryDict]]:
    """The entries that say one thing in the ledger and another in the mirror, by id: the ledger's, the mirror's."""
    held = mirror.entries
    return {name: (entry, held[name]) for name, entry in ledger.entries.items() if held.get(name, entry) != entry}


def expect_known_form(copy: Copy) -> None:
    """Stop where a newer program wrote the file.

    Raises:
        LedgerMismatchError: saying so.
    """
    if copy.found.schema > SCHEMA:
        raise LedgerMismatchError(
            f"Nothing was changed: {copy.path} was written by a newer copydesk (its form is {copy.found.schema}, this "
            f"program knows {SCHEMA}); use the newer program"
        )


def expect_sound(ledger: Copy, mirror: Copy, folder: Path, outcome: str) -> None:
    """Stop where writing the ledger anew would cover up damage, or drop what only the mirror still has.

    Args:
        ledger: the ledger.
        mirror: its mirror.
        folder: the book's folder, for the sentence.
        outcome: what is not done then, as in ``Nothing was merged``.

    Raises:
        LedgerMismatchError: where a newer program wrote the ledger.
        DamagedLedgerError: where lines are damaged or missing.
    """
    expect_known_form(ledger)
    if not ledger.found.is_whole or mirror.entries.keys() - ledger.entries.keys() or differing(ledger, mirror):
        raise DamagedLedgerError(f"{outcome}: {ledger.path} is damaged; first copydesk audit --mend {folder}")


def in_order(batches: Iterable[list[EntryDict]]) -> list[list[EntryDict]]:
    """Batches of entries in the order they happened: by tick, then desk, then id, whatever file they come from."""
    return sorted(batches, key=lambda batch: _when(batch[0]))


def _when(entry: EntryDict) -> tuple[int, str, str]:
    tick = entry["tick"]
    return tick if isinstance(tick, int) else 0, str(entry.get("desk", "")), str(entry["entry"])


def whole_file(header: Header, batches: Iterable[list[EntryDict]]) -> bytes:
    """A ledger that holds these batches, numbered from 1 and each linked to the line before."""
    lines = [header_line(header)]
    for number, batch in enumerate(batches, 1):
        lines.append(entry_line(number, batch, lines[-1]))
    return b"".join(lines)


_COMPARED = 4096  # bytes at the mirror's end that must agree before the ledger's next bytes are added to it


class Mirror:
    """The second copy of a ledger, which always holds every entry the ledger has. Whoever calls it holds the lock."""

    def __init__(self, places: LedgerPaths, disk: Disk) -> None:
        self._places = places
        self._disk = disk
        self._covered = (-1, -1)
        """How long ledger and mirror were when the mirror was last known to hold all."""

    def extend(self, data: bytes, at: int) -> str:
        """Add what was just added to the ledger at byte ``at``, and whatever else is lacking; a sentence for people.

        It is not waited for until the mirror is on the platter: the ledger is, and the mirror guards against what
        happens to the ledger later. A mirror that lags behind (a desk died between the two, or the folder came
        without it) is brought up to date; where the ledger was replaced meanwhile (a merge, a pull of version
        control), the mirror gets what it lacks, and loses nothing that only it has.
        """
        try:
            size = self._size()
            if (at, size) == self._covered:
                self._disk.append(self._places.mirror, data, size, sync=False)
                said = ""
            else:
                said = self._catch_up(data, size, at)
            self._covered = (at + len(data), self._size())
        except (OSError, CopydeskError) as error:
            return f"The entry is safe, but the mirror of the ledger could not be written: {because(error)}"
        return said

    def _size(self) -> int:
        status = self._disk.look(self._places.mirror)
        return status.st_size if status else 0

    def _catch_up(self, data: bytes, size: int, at: int) -> str:
        """Write what is lacking: the ledger's next bytes where the mirror is its beginning, else by its entries."""
        start = max(0, size - _COMPARED)
        _, end = self._disk.read(self._places.mirror, start) if size else (None, b"")
        if size <= at:
            _, same = self._disk.read(self._places.ledger, start, at - start)
            if same.startswith(end):
                self._disk.append(self._places.mirror, same[len(end) :] + data, size, sync=False)
                return ""
        lacking = cover(self._places, self._disk)
        # The newest line is lacking in any case; only what should have been there before is worth a word.
        before = lacking - sum(len(line.entries) for line in scan(data).lines)
        return f"The mirror of the ledger lacked {_counted(before)}; it has them again." if before > 0 else ""


def _counted(entries: int) -> str:
    return f"{entries} entries" if entries > 1 else "one entry"


def cover(places: LedgerPaths, disk: Disk) -> int:
    """Let the mirror hold every entry of the ledger; how many it lacked. What only the mirror has stays in it.

    Raises:
        OSError: where the disk refuses.
        CopydeskError: where either cannot be read.
    """
    ledger, mirror = read_both(places, disk)
    held, ours = mirror.versions, ledger.versions
    lacking = [[entry for entry in line.entries if not _among(entry, held)] for line in ledger.found.lines]
    if mirror.found.is_whole and all(_among(entry, ours) for line in mirror.found.lines for entry in line.entries):
        if mirror.data != ledger.data:
            disk.put(places.mirror, ledger.data)
    elif any(lacking):
        lines = (entry_line(line.number, new) for line, new in zip(ledger.found.lines, lacking, strict=True) if new)
        parted = b"" if mirror.data.endswith(b"\n") else b"\n"
        disk.append(places.mirror, parted + b"".join(lines), len(mirror.data), sync=False)
    return sum(map(len, lacking))


def _among(entry: EntryDict, versions: Mapping[str, list[EntryDict]]) -> bool:
    return entry in versions.get(str(entry["entry"]), ())


def mirror_holds_more(places: LedgerPaths, disk: Disk) -> bool:
    """Whether the mirror is longer than the ledger, which then has lost its end (more than the last line end)."""
    mirrored = disk.look(places.mirror)  # looked at first: the ledger is always written before it
    ledger = disk.look(places.ledger)
    return mirrored is not None and mirrored.st_size > (ledger.st_size + 1 if ledger and ledger.st_size else 0)
