"""Mending a damaged ledger from its mirror, and a damaged mirror from the ledger; what was there is kept aside."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from copydesk.book.common.errors import Problem
from copydesk.store.files.disk import Disk, refusal
from copydesk.store.files.file_lock import held
from copydesk.store.files.ledger_paths import Places
from copydesk.store.journal.ledger_copies import Copy, expect_known_form, in_order, only_in, read_both, whole_file
from copydesk.store.journal.line_format import SCHEMA, Header, breaks, new_book, numbers_of_damage

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


@dataclass(frozen=True, slots=True)
class Mended:
    """What mending did: entries brought back, what could not be, and where the old files were put."""

    entries: int
    brought_back: int
    lost: tuple[Problem, ...]
    kept: tuple[Path, ...]

    @property
    def sentences(self) -> tuple[str, ...]:
        """The same for people."""
        back = f"The ledger holds {self.entries} entries; brought back from the mirror: {self.brought_back}"
        return (back, *map(str, self.lost), *(f"What was there before is kept as {path}" for path in self.kept))


def mend(folder: Path, *, disk: Disk | None = None) -> Mended:
    """Make the ledger in ``folder`` whole again from the two copies there are; sound files are left as they are.

    Raises:
        Refused: where the folder cannot be written, or a newer program wrote the ledger; nothing was changed.
    """
    disk, places = disk or Disk(), Places(folder)
    with held(places, disk):
        ledger, mirror = read_both(places, disk)
        expect_known_form(ledger)
        expect_known_form(mirror)
        try:
            return _mend(places, disk, ledger, mirror)
        except OSError as error:
            raise refusal(error, folder, "The ledger could not be mended wholly") from error


def _mend(places: Places, disk: Disk, ledger: Copy, mirror: Copy) -> Mended:
    before = ledger.entries
    batches = [*ledger.batches(set()), *mirror.batches(set(before))]
    whole = ledger.data if _sound(ledger, mirror) else whole_file(_header(ledger, mirror), in_order(batches))
    kept = [_set_aside(places, disk, copy) for copy in (ledger, mirror) if not whole.startswith(copy.data)]
    if whole != ledger.data:
        disk.put(places.ledger, whole)
    if whole != mirror.data:
        disk.put(places.mirror, whole)
    entries = sum(map(len, batches))
    return Mended(entries, entries - len(before), tuple(sorted(_lost(ledger, mirror))), tuple(kept))


def _sound(ledger: Copy, mirror: Copy) -> bool:
    """Whether the ledger needs no change."""
    found = ledger.found
    whole = not (found.damaged or found.tail or found.unended or breaks(found, 1))
    return whole and (found.headers or not ledger.data) and not mirror.entries.keys() - ledger.entries.keys()


def _header(ledger: Copy, mirror: Copy) -> Header:
    headers = ledger.found.headers or mirror.found.headers or [Header(SCHEMA, new_book())]
    return headers[0]


def _set_aside(places: Places, disk: Disk, copy: Copy) -> Path:
    aside = places.aside(datetime.now().astimezone(), copy.path.name)
    disk.append(aside, copy.data, 0)
    return aside


def _lost(ledger: Copy, mirror: Copy) -> Iterator[Problem]:
    """What neither copy has: damaged and unfinished lines, and numbers that stand nowhere."""
    damaged, answered = numbers_of_damage(ledger.found), only_in(mirror, ledger)
    hopeless = {at: number for at, number in damaged.items() if number and number not in answered}
    for at in hopeless:
        yield Problem(ledger.path.name, at, 0, "what stood in this line could not be brought back: the mirror lacks it")
    answered = only_in(ledger, mirror) | set(hopeless.values())
    for at, number in numbers_of_damage(mirror.found).items():
        if number and number not in answered:
            yield Problem(mirror.path.name, at, 0, "what stood in this line of the mirror is not in the ledger either")
    held = {line.number for line in (*ledger.found.lines, *mirror.found.lines)}
    if gone := set(range(1, max(held, default=0) + 1)) - held - set(damaged.values()):
        yield Problem(ledger.path.name, 0, 0, f"lines that stand in neither copy and are lost: {len(gone)}")
