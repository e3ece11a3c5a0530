"""Whether a ledger is sound, and mending it from its mirror.

``audit`` looks at every line, the running numbers, the mirror, and who may write; it changes nothing. ``mend`` makes
the ledger whole from both copies, and the mirror like it; what was there before is kept beside them.
"""

from __future__ import annotations

import stat
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from copydesk.book.common.errors import CopydeskError, NotAllowedError, Problem
from copydesk.store.files.book_folder import LedgerPaths
from copydesk.store.files.disk import Disk, disk_errors
from copydesk.store.files.file_lock import held
from copydesk.store.journal.ledger_copies import (
    Copy,
    differing,
    expect_known_form,
    in_order,
    only_in,
    read_both,
    read_copy,
    whole_file,
)
from copydesk.store.journal.ledger_seen import forget_seen, put_back, read_seen
from copydesk.store.journal.line_format import SCHEMA, Header, Scan, breaks, broken_links, new_mark, numbers_of_damage

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from copydesk.store.journal.ledger_store import EntryDict

_LONGEST_VALUE = 60
_WHICH_COUNTS = "copydesk audit --mend --take ledger, or --take mirror, says which of the two counts"


class Counts(StrEnum):
    """Which copy counts where the two say different things of one entry."""

    LEDGER = "ledger"
    MIRROR = "mirror"


def audit(folder: Path, *, disk: Disk | None = None) -> tuple[Problem, ...]:
    """What is wrong with the ledger in ``folder``, in the order of its lines; nothing where it is sound.

    A mirror that is missing or lags behind is no fault: the next entry brings it up to date.

    Raises:
        CopydeskError: where the files cannot be read at all.
    """
    disk, places = disk or Disk(), LedgerPaths(folder)
    ledger, mirror, unread = read_copy(places.ledger, disk), Copy(places.mirror, False, b"", Scan()), ""
    try:
        mirror = read_copy(places.mirror, disk)
    except CopydeskError as error:
        unread = f"the ledger has no second copy now, since its mirror cannot be read: {error}"
    return (
        *([Problem(places.mirror.name, 0, 0, unread)] if unread else []),
        *_gone_since(places, ledger, mirror),
        *sorted(_in_ledger(ledger, mirror)),
        *_in_mirror(ledger, mirror),
        *_other_copies(places),
        *_no_lock(places),
        *_open_to_all(places),
    )


def _gone_since(places: LedgerPaths, ledger: Copy, mirror: Copy) -> Iterator[Problem]:
    """What this account has seen in the ledger that is no longer there, where no damage to be mended explains it."""
    seen = read_seen(places)
    if not ledger.found.is_whole or mirror.entries.keys() - ledger.entries.keys():
        return
    if seen and (missed := seen.missed_in(ledger.found.book, ledger.entries)):
        yield Problem(ledger.path.name, 0, 0, f"{missed}; {put_back(places)}")


def take_as_it_is(folder: Path) -> None:
    """Take the ledger in ``folder`` as it is from now on, though this account has seen more in it."""
    forget_seen(LedgerPaths(folder))


def _in_ledger(ledger: Copy, mirror: Copy) -> Iterator[Problem]:
    name, found = ledger.path.name, ledger.found
    if not ledger.there and mirror.found.lines:
        yield Problem(name, 0, 0, "the ledger is gone; copydesk audit --mend brings it back from its mirror")
    elif ledger.data and not found.headers:
        yield Problem(name, 1, 0, "the first line, which names the book, is missing; copydesk audit --mend renews it")
    if found.schema > SCHEMA:
        yield Problem(name, 1, 0, f"a newer copydesk wrote this ledger (form {found.schema}); use it to write")
    yield from _damage(ledger, mirror)
    for problem in breaks(found, 1):
        yield Problem(name, problem.line, 0, problem.what)
    for at in broken_links(ledger.data):
        what = f"it was not written after line {at - 1} as that line now is: one of the two was changed since"
        yield Problem(name, at, 0, f"{what}; copydesk audit --mend keeps a copy and takes both as they are")
    yield from _twice(name, found)
    for problem in ledger.wrong.values():
        yield Problem(
            name, problem.line, 0, f"{problem.what}; it counts for nothing; copydesk audit --mend sets it aside"
        )
    if found.tail:
        what = f"the last line is unfinished ({len(found.tail)} bytes); the next entry sets it aside"
        yield Problem(name, found.count + 1, 0, what)


def _damage(ledger: Copy, mirror: Copy) -> Iterator[Problem]:
    """Each damaged line, and whether the mirror has what it held."""
    name, numbers = ledger.path.name, numbers_of_damage(ledger.found)
    held = only_in(mirror, ledger) | ({0} if mirror.found.headers else set())
    for damage in ledger.found.damaged:
        saved = "has it" if numbers.get(damage.at) in held else "does not have it"
        so = "the entries on both sides of it are read" if damage.is_mark else f"the mirror {saved}"
        yield Problem(name, damage.at, 0, f"{damage.what}; {so}, and copydesk audit --mend sorts it out")


def _twice(name: str, found: Scan) -> Iterator[Problem]:
    """Ids that stand for two different entries."""
    first: dict[str, object] = {}
    for line in found.lines:
        for entry in line.entries:
            if first.setdefault(str(entry["entry"]), entry) != entry:
                what = f"the id {entry['entry']!r} was given to another entry before, and only that one counts"
                yield Problem(name, line.at, 0, f"{what}; record this one again under a new id")


def _in_mirror(ledger: Copy, mirror: Copy) -> Iterator[Problem]:
    """What sets the mirror apart from the beginning of the ledger."""
    if ledger.data.startswith(mirror.data):
        return
    yield from _told_apart(ledger, mirror)
    name = f"{mirror.path.parent.name}/{mirror.path.name}"
    less = len(ledger.entries.keys() - mirror.entries.keys())
    if less and not mirror.found.damaged:
        what = f"the mirror lacks {less} of the ledger's entries; the next entry, or copydesk audit --mend, writes them"
        yield Problem(name, 0, 0, what)
    for damage in mirror.found.damaged:
        yield Problem(name, damage.at, 0, f"in the mirror, {damage.what}; copydesk audit --mend writes it anew")
    if more := len(mirror.entries.keys() - ledger.entries.keys()):
        what = f"entries only here, no longer in the ledger: {more}; copydesk audit --mend brings them back"
        yield Problem(name, 0, 0, what)


def _told_apart(ledger: Copy, mirror: Copy) -> Iterator[Problem]:
    """Entries that say one thing in the ledger and another in the mirror, with both."""
    apart = differing(ledger, mirror)
    places = {str(entry["entry"]): line.at for line in reversed(ledger.found.lines) for entry in line.entries}
    for name, (ours, theirs) in apart.items():
        keys = [key for key in {**ours, **theirs} if ours.get(key) != theirs.get(key)]
        said = "; ".join(f"{key} is {_value(ours, key)} here, {_value(theirs, key)} in the mirror" for key in keys)
        yield Problem(
            ledger.path.name, places[name], 0, f"the entry {name!r} differs from the mirror's: {said}; {_WHICH_COUNTS}"
        )
    if "" != ledger.found.book != mirror.found.book != "":
        yield Problem(ledger.path.name, 1, 0, "the mark of the book differs from the mirror's; " + _WHICH_COUNTS)


def _value(entry: EntryDict, key: str) -> str:
    """A value for a sentence, no longer than one can read."""
    text = ascii(entry[key]) if key in entry else "not there"
    return text if len(text) <= _LONGEST_VALUE else f"{text[:_LONGEST_VALUE]}..."


def _other_copies(places: LedgerPaths) -> Iterator[Problem]:
    """Copies that a program which keeps folders alike has left beside the ledger."""
    for path in sorted(places.folder.glob("*ledger*")):
        if path != places.ledger and path.is_file() and not path.is_symlink():
            with path.open("rb") as file:
                if file.read(22) == b'{"ledger":"copydesk","':
                    what = f"another copy of the ledger; copydesk merge {places.folder} {path} takes its entries over"
                    yield Problem(path.name, 0, 0, what)


def _no_lock(places: LedgerPaths) -> Iterator[Problem]:
    """What stands where the lock should be, so that nothing can be recorded."""
    if places.lock.is_symlink() or (places.lock.exists() and not places.lock.is_file()):
        what = "nothing can be recorded, since this is not an ordinary file; move it away and try again"
        yield Problem(str(places.lock.relative_to(places.folder)), 0, 0, what)


def _open_to_all(places: LedgerPaths) -> Iterator[Problem]:
    """Files that every account on this machine may change."""
    for path in (places.ledger, places.hidden, places.mirror, places.lock):
        if path.exists() and not path.is_symlink() and stat.S_IMODE(path.lstat().st_mode) & stat.S_IWOTH:
            what = "every account on this machine may change this; take that right away (chmod o-w)"
            yield Problem(str(path.relative_to(places.folder)), 0, 0, what)


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


def mend(folder: Path, *, take: Counts | None = None, disk: Disk | None = None) -> Mended:
    """Make the ledger in ``folder`` whole again from the two copies there are; sound files are left as they are.

    ``take`` says which copy counts where both are sound and say different things of one entry.

    Raises:
        NotAllowedError: where they do and ``take`` does not say; nothing was changed.
        CopydeskError: where the folder cannot be written, or a newer program wrote the ledger; nothing was changed.
    """
    disk, places = disk or Disk(), LedgerPaths(folder)
    with held(places, disk):
        ledger, mirror = read_both(places, disk)
        expect_known_form(ledger)
        expect_known_form(mirror)
        if take is None and (apart := [*_told_apart(ledger, mirror)]):
            raise NotAllowedError(f"Nothing was mended: {apart[0]} (such differences: {len(apart)})")
        with disk_errors(folder, "The ledger could not be mended wholly"):
            return _mend(places, disk, ledger, mirror, take)


def _mend(places: LedgerPaths, disk: Disk, ledger: Copy, mirror: Copy, take: Counts | None) -> Mended:
    wrong = {**mirror.wrong, **ledger.wrong}
    before = ledger.entries.keys() - wrong
    first, second = (mirror, ledger) if take is Counts.MIRROR else (ledger, mirror)
    batches = [*first.batches(set(wrong)), *second.batches({*first.entries, *wrong})]
    sound = _sound(ledger, mirror) and not wrong and not (take is Counts.MIRROR and any(_told_apart(ledger, mirror)))
    whole = ledger.data if sound else whole_file(_header(first, second), in_order(batches))
    # Both old files are set aside before either is replaced: a mend that breaks off half way can be done again.
    kept = [_set_aside(places, disk, copy) for copy in (ledger, mirror) if not whole.startswith(copy.data)]
    if whole != ledger.data:
        disk.put(places.ledger, whole)
    if whole != mirror.data:
        disk.put(places.mirror, whole)
    if kept:  # what is lost is told now, and what was set aside is not missed
        forget_seen(places)
    entries = sum(map(len, batches))
    aside = [Problem(each.file, each.line, 0, f"{each.what}; it was set aside") for each in wrong.values()]
    return Mended(entries, entries - len(before), (*sorted(_lost(ledger, mirror)), *aside), tuple(kept))


def _sound(ledger: Copy, mirror: Copy) -> bool:
    """Whether the ledger needs no change."""
    found = ledger.found
    whole = found.is_whole and not found.unended and not broken_links(ledger.data)
    return whole and (found.headers or not ledger.data) and not mirror.entries.keys() - ledger.entries.keys()


def _header(ledger: Copy, mirror: Copy) -> Header:
    headers = ledger.found.headers or mirror.found.headers or [Header(SCHEMA, new_mark())]
    return headers[0]


def _set_aside(places: LedgerPaths, disk: Disk, copy: Copy) -> Path:
    aside = places.aside(copy.path.name)
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
