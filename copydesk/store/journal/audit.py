"""Whether a book's ledger is sound: every line, the running numbers, the mirror, and who may write."""

from __future__ import annotations

import stat
from typing import TYPE_CHECKING

from copydesk.book.common.errors import Problem
from copydesk.store.files.disk import Disk
from copydesk.store.files.ledger_paths import Places
from copydesk.store.journal.ledger_copies import Copy, only_in, read_both
from copydesk.store.journal.line_format import SCHEMA, breaks, numbers_of_damage

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from copydesk.store.journal.line_format import Scan


def audit(folder: Path, *, disk: Disk | None = None) -> tuple[Problem, ...]:
    """What is wrong with the ledger in ``folder``, in the order of its lines; nothing where it is sound.

    A mirror that is missing or lags behind is no fault: the next entry brings it up to date.

    Raises:
        Refused: where the files cannot be read at all.
    """
    disk, places = disk or Disk(), Places(folder)
    ledger, mirror = read_both(places, disk)
    return (
        *sorted(_in_ledger(ledger, mirror)),
        *_in_mirror(ledger, mirror),
        *_other_copies(places),
        *_open_to_all(places),
    )


def _in_ledger(ledger: Copy, mirror: Copy) -> Iterator[Problem]:
    name, found = ledger.path.name, ledger.found
    if not ledger.there and mirror.found.lines:
        yield Problem(name, 0, 0, "the ledger is gone; copydesk audit --mend brings it back from its mirror")
    elif ledger.data and not found.headers:
        yield Problem(name, 1, 0, "the first line, which names the book, is missing; copydesk audit --mend renews it")
    if found.schema > SCHEMA:
        yield Problem(
            name, 1, 0, f"a newer copydesk wrote this ledger (form {found.schema}); use that program to write"
        )
    yield from _damage(ledger, mirror)
    for problem in breaks(found, 1):
        yield Problem(name, problem.line, 0, problem.what)
    yield from _twice(name, found)
    if found.tail:
        size = len(found.tail)
        yield Problem(
            name, found.count + 1, 0, f"the last line is unfinished ({size} bytes); the next entry sets it aside"
        )


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
    name = f"{mirror.path.parent.name}/{mirror.path.name}"
    for damage in mirror.found.damaged:
        yield Problem(name, damage.at, 0, f"in the mirror, {damage.what}; copydesk audit --mend writes it anew")
    if more := len(mirror.entries.keys() - ledger.entries.keys()):
        what = f"entries only here, no longer in the ledger: {more}; copydesk audit --mend brings them back"
        yield Problem(name, 0, 0, what)


def _other_copies(places: Places) -> Iterator[Problem]:
    """Copies that a program which keeps folders alike has left beside the ledger."""
    for path in sorted(places.folder.glob("*ledger*")):
        if path != places.ledger and path.is_file() and not path.is_symlink():
            with path.open("rb") as file:
                if file.read(22) == b'{"ledger":"copydesk","':
                    what = f"another copy of the ledger; copydesk merge {places.folder} {path} takes its entries over"
                    yield Problem(path.name, 0, 0, what)


def _open_to_all(places: Places) -> Iterator[Problem]:
    """Files that every account on this machine may change."""
    for path in (places.ledger, places.hidden, places.mirror, places.lock):
        if path.exists() and stat.S_IMODE(path.lstat().st_mode) & stat.S_IWOTH:
            what = "every account on this machine may change this; take that right away (chmod o-w)"
            yield Problem(str(path.relative_to(places.folder)), 0, 0, what)
