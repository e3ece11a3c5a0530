"""Taking a book's ledger from its folder to a server, and back: every entry is read back before the old place is left.

Each step can be done again: what broke off half way is finished by the same command. The plan says where the ledger
is kept, and is the people's own; so the line ``server`` is written into it before a move to the server, and taken
out after a move back.
"""

from __future__ import annotations

from contextlib import closing
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import DamagedLedgerError, LedgerMismatchError, NotAllowedError
from copydesk.store.files.book_folder import LedgerPaths
from copydesk.store.files.disk import Disk, disk_errors
from copydesk.store.files.file_lock import held
from copydesk.store.journal.ledger_copies import Copy, expect_sound, in_order, read_both, read_copy, whole_file
from copydesk.store.journal.ledger_seen import forget_seen
from copydesk.store.journal.ledger_store import same_but_for_time
from copydesk.store.journal.line_format import SCHEMA, Header, new_mark
from copydesk.store.server import messages as words
from copydesk.store.server import rows
from copydesk.store.server.connection import connected
from copydesk.store.server.server_ledger import ServerLedger

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from copydesk.book.plan import Book
    from copydesk.store.journal.ledger_store import EntryDict
    from copydesk.store.server.rows import Database, LedgerRow


_NOTHING = "Nothing was moved"


class Moved(NamedTuple):
    """How many entries the ledger holds in its new place, how many of them are new there, what was set aside."""

    entries: int
    new: int
    kept: tuple[Path, ...]


def move_to_server(folder: Path, book: Book, *, disk: Disk | None = None) -> Moved:
    """Take the ledger in ``folder`` to the server the plan names; the files are then set aside in the folder.

    Where the folder has no ledger and the server lost its own, the copy that was read from it is sent.

    Raises:
        NotAllowedError: where the plan names none.
        ServerUnreachableError, ServerRefusedError: where it does not answer, or will not take the entries.
        DamagedLedgerError, LedgerMismatchError: where the ledger here is damaged, or the one there is of another book.
            In each case everything is as it was.
    """
    service = _service_of(book)
    disk, places = disk or Disk(), LedgerPaths(folder)
    with held(places, disk), disk_errors(folder, "The ledger is on the server, and its file could not be set aside"):
        ledger, mirror = read_both(places, disk)
        begun = ledger.found.lines or ledger.found.damaged or ledger.found.tail
        if not begun and not mirror.found.lines:
            ledger = read_copy(LedgerPaths(places.server_copy).ledger, disk)
        expect_sound(ledger, mirror, folder, _NOTHING)
        with connected(service, _NOTHING) as database:
            moved = _send(database, book, ledger)
        # The mirror goes first: a mirror without its ledger would look like a ledger that was lost.
        in_use = (copy.path for copy in (mirror, ledger) if copy.there and copy.path in (places.ledger, places.mirror))
        kept = tuple(_set_aside(places, disk, path) for path in in_use)
        forget_seen(places)  # what was seen in the file is on the server now, and not missed
    return moved._replace(kept=kept)


def _service_of(book: Book) -> str:
    if not book.server:
        raise NotAllowedError(
            f"{_NOTHING}: book.yaml names no server; write `server: NAME` into it, NAME being what libpq's service "
            "file calls the database"
        )
    return book.server


def _set_aside(places: LedgerPaths, disk: Disk, path: Path) -> Path:
    aside = places.aside(path.name)
    disk.replace(path, aside)
    disk.sync_folder(path.parent)
    return aside


def _send(database: Database, book: Book, ledger: Copy) -> Moved:
    """Add what the server lacks, in one transaction, and read everything back."""
    rows.prepare(database)
    with database.transaction():
        row = rows.hold(database, book.server, ledger.found.book or new_mark(), book.title)
        _expect_fit(row, ledger, book.server)
        there = _entries(database, book.server)
        _expect_no_clash(there, ledger)
        new = [entry for batch in ledger.batches(set(there)) for entry in batch]
        if new:
            rows.add(database, book.server, row.last, new)
        rows.close(database, book.server, "")
    _expect_same(_entries(database, book.server), ledger.entries, book.server)
    return Moved(len(there) + len(new), len(new), ())


def _expect_fit(row: LedgerRow, ledger: Copy, service: str) -> None:
    if row.form > rows.FORM:
        raise LedgerMismatchError(f"{_NOTHING}: {words.newer(service, row.form, rows.FORM)}")
    if ledger.found.book and row.mark != ledger.found.book:
        raise LedgerMismatchError(
            f"{_NOTHING}: the ledger on the server {service} bears the mark of another book; give this book a "
            "service of its own"
        )


def _entries(database: Database, service: str) -> dict[str, EntryDict]:
    found = rows.after(database, service, 0)
    if damaged := [row.number for row in found if row.entry is None]:
        raise DamagedLedgerError(
            f"{_NOTHING}: entries {', '.join(map(str, damaged))} on the server {service} are damaged; first copydesk "
            "audit --mend"
        )
    return {str(row.entry["entry"]): row.entry for row in found if row.entry is not None}


def _expect_no_clash(there: Mapping[str, EntryDict], ledger: Copy) -> None:
    for name, entry in ledger.entries.items():
        if name in there and not same_but_for_time(there[name], entry):
            raise LedgerMismatchError(f"{_NOTHING}: the id {name!r} stands for another entry on the server")


def _expect_same(there: Mapping[str, EntryDict], wanted: Mapping[str, EntryDict], where: str) -> None:
    if any(there.get(name) != entry for name, entry in wanted.items()):
        raise DamagedLedgerError(f"{_NOTHING}: what was sent to {where} does not read back as it was; try again")


def move_to_file(folder: Path, book: Book, *, desk: str, disk: Disk | None = None) -> Moved:
    """Take the ledger from the server the plan names into ``folder``; on the server it stays, out of use.

    What waits here to be sent is sent first.

    Raises:
        CopydeskError: where the plan names none, it does not answer, or something cannot be read or written.
    """
    service = _service_of(book)
    disk, places = disk or Disk(), LedgerPaths(folder)
    with connected(service, _NOTHING) as database, held(places, disk), disk_errors(folder, _NOTHING):
        _send_what_waits(folder, book, desk)
        rows.prepare(database)
        with database.transaction():
            row = rows.hold(database, service, new_mark(), book.title)
            moved = _bring(places, disk, _entries(database, service), row.mark)
            rows.close(database, service, f"it was moved into the folder {folder.name} of the desk {desk}")
        # Set aside what was kept for the server: the copy read from it, and what was sent.
        kept = (places.server_copy, places.to_send)
        aside = tuple(_set_aside(places, disk, path) for path in kept if path.is_dir())
    return moved._replace(kept=aside)


def _send_what_waits(folder: Path, book: Book, desk: str) -> None:
    with closing(ServerLedger(folder, desk=desk, service=book.server)) as store:
        store.refresh()
        if store.waiting:
            raise NotAllowedError(f"{_NOTHING}: {' '.join(store.notes)}")


def _bring(places: LedgerPaths, disk: Disk, there: Mapping[str, EntryDict], mark: str) -> Moved:
    """Write the ledger's file, with what it may hold already, and read it back."""
    before = read_copy(places.ledger, disk)
    _expect_no_clash(there, before)
    known = before.entries
    batches = [*before.batches(set()), *([entry] for name, entry in there.items() if name not in known)]
    whole = whole_file(Header(SCHEMA, mark), in_order(batches))
    disk.put(places.ledger, whole)
    disk.put(places.mirror, whole)
    _expect_same(read_copy(places.ledger, disk).entries, there, str(places.ledger))
    return Moved(len(there.keys() | known.keys()), len(there.keys() - known.keys()), ())
