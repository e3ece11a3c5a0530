"""Whether a ledger on a server is sound: each row, its facts, what is lacking, what waits here to be sent."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import Problem, ServerRefusedError, ServerUnreachableError
from copydesk.store.files.book_folder import LedgerPaths
from copydesk.store.files.disk import Disk
from copydesk.store.journal.ledger_copies import read_copy
from copydesk.store.server import messages as words
from copydesk.store.server import rows
from copydesk.store.server.connection import connected
from copydesk.tracking.ledger.entry import KNEW, NONE_SEEN, wrong_in

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from copydesk.store.journal.ledger_store import EntryDict
    from copydesk.store.server.rows import Database, EntryRow


def audit_server(folder: Path, service: str) -> tuple[Problem, ...]:
    """What is wrong with the ledger on a server, as seen from the book in ``folder``; nothing where it is sound."""
    try:
        with connected(service, "Nothing was checked") as database:
            found = tuple(_wrong(database, folder, service))
    except (ServerUnreachableError, ServerRefusedError) as error:
        found = (str(error),)
    return tuple(Problem(f"server {service}", 0, 0, what) for what in found)


def _wrong(database: Database, folder: Path, service: str) -> Iterator[str]:
    here = _kept_here(folder)
    row = rows.find(database, service)
    if row is None:
        if here:
            yield words.gone(service, folder)
        return
    if row.form > rows.FORM:
        yield words.newer(service, row.form, rows.FORM)
    if row.closed:
        yield words.closed(service, row.closed)
    found = rows.after(database, service, 0)
    for each in found:
        if each.entry is None:
            yield f"entry {each.number} is damaged: {each.why}; {_cure(each, here)}"
    yield from _wrong_facts(found, folder)
    if missing := _missing(found):
        yield f"it lacks {words.entries(missing)} that later ones name as known; desks that read them send them again"
    there = {each.key for each in found}
    if waiting := sum(key not in there for key in here):
        yield f"{words.entries(waiting)} kept in this folder are not on it yet; open the book to send them"


def _cure(row: EntryRow, here: dict[str, EntryDict]) -> str:
    return "copydesk audit --mend brings it back" if row.key in here else "no copy in this folder has it"


def _wrong_facts(found: Sequence[EntryRow], folder: Path) -> Iterator[str]:
    """Facts that nothing in a book can have, in entries that nobody took back."""
    held = [(each.number, each.entry) for each in found if each.entry is not None]
    taken_back = {entry.get("about") for _, entry in held if entry.get("what") == "voided"}
    for number, entry in held:
        if entry["entry"] not in taken_back and (what := wrong_in(entry)):
            undo = f"copydesk undo {folder.name} {entry['entry']} takes the entry back"
            yield f"entry {number}: {what}; that counts for nothing; {undo}"


def _missing(found: Sequence[EntryRow]) -> int:
    """How many entries were known where others were made, and are not there.

    Numbers say nothing of that: what a server lost and desks sent again has a new one, and the old one stays free.
    """
    there = {each.key for each in found}
    named = {name for each in found if each.entry for name in str(each.entry.get(KNEW, "")).split()}
    return sum(name != NONE_SEEN and rows.key_of(name) not in there for name in named)


def _kept_here(folder: Path) -> dict[str, EntryDict]:
    """What this folder has of the ledger: the copy read from the server, and what was recorded while it was away."""
    places, disk = LedgerPaths(folder), Disk()
    copies = (read_copy(LedgerPaths(where).ledger, disk) for where in (places.server_copy, places.to_send))
    return {rows.key_of(name): entry for copy in copies for name, entry in copy.entries.items()}


def mend_server(folder: Path, service: str) -> tuple[str, ...]:
    """Write damaged rows anew from what this folder has of them; sentences on what was done and could not be.

    Raises:
        CopydeskError: where the server does not answer or will not let this be done; nothing was changed.
    """
    with connected(service, "Nothing was mended") as database, database.transaction():
        return tuple(_mended(database, folder, service))


def _mended(database: Database, folder: Path, service: str) -> Iterator[str]:
    row = rows.find(database, service)
    if row is None or row.form > rows.FORM:
        return
    rows.hold(database, service, row.mark, row.title)
    here, back, lost = _kept_here(folder), 0, []
    for each in rows.after(database, service, 0):
        if each.entry is not None:
            continue
        if each.key in here:
            rows.repair_row(database, service, each.number, here[each.key])
            back += 1
        else:
            lost.append(each.number)
    yield f"The ledger on the server {service} holds {words.entries(row.last)}; brought back from the copy here: {back}"
    for number in lost:
        yield f"what stood in entry {number} could not be brought back: no copy in this folder has it"
