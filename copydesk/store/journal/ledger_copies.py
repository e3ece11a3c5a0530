"""The ledger and its mirror, read side by side: what each holds and what only one of them has."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from copydesk.book.common.errors import Refused
from copydesk.store.files.disk import refusal
from copydesk.store.journal.line_format import SCHEMA, Header, Scan, entry_line, header_line, scan

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from copydesk.store.files.disk import Disk
    from copydesk.store.files.ledger_paths import Places
    from copydesk.store.journal.ledger_store import EntryDict


@dataclass(frozen=True, slots=True)
class Copy:
    """One file of ledger lines: where, its bytes, and what they hold."""

    path: Path
    there: bool
    data: bytes
    found: Scan

    @property
    def entries(self) -> dict[str, EntryDict]:
        """Its entries by id, the first of each."""
        held: dict[str, EntryDict] = {}
        for line in self.found.lines:
            for entry in line.entries:
                held.setdefault(str(entry["entry"]), entry)
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
        Refused: where it cannot be read, or is no ordinary file.
    """
    try:
        there = disk.look(path) is not None
        data = disk.read(path)[1] if there else b""
    except OSError as error:
        raise refusal(error, path, "The ledger cannot be read") from error
    return Copy(path, there, data, scan(data))


def read_both(places: Places, disk: Disk) -> tuple[Copy, Copy]:
    """The ledger and its mirror."""
    return read_copy(places.ledger, disk), read_copy(places.mirror, disk)


def only_in(copy: Copy, other: Copy) -> set[int]:
    """The numbers of lines in ``copy`` with entries that ``other`` lacks: what its damaged lines may have been."""
    known = other.entries
    return {line.number for line in copy.found.lines if any(entry["entry"] not in known for entry in line.entries)}


def expect_known_form(copy: Copy) -> None:
    """Stop where a newer program wrote the file.

    Raises:
        Refused: saying so.
    """
    if copy.found.schema > SCHEMA:
        raise Refused(
            f"Nothing was changed: {copy.path} was written by a newer copydesk (its form is {copy.found.schema}, this "
            f"program knows {SCHEMA}); use the newer program"
        )


def in_order(batches: Iterable[list[EntryDict]]) -> list[list[EntryDict]]:
    """Batches of entries in the order they happened: by tick, then desk, then id, whatever file they come from."""
    return sorted(batches, key=lambda batch: _when(batch[0]))


def _when(entry: EntryDict) -> tuple[int, str, str]:
    tick = entry["tick"]
    return tick if isinstance(tick, int) else 0, str(entry.get("desk", "")), str(entry["entry"])


def whole_file(header: Header, batches: Iterable[list[EntryDict]]) -> bytes:
    """A ledger that holds these batches, numbered from 1."""
    return header_line(header) + b"".join(entry_line(number, batch) for number, batch in enumerate(batches, 1))
