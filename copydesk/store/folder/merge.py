"""Putting together two ledgers of one book that were written apart: two machines, a conflict copy, two branches."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from copydesk.book.common.errors import BadFileError, CopydeskError, LedgerMismatchError, PathError, Problem
from copydesk.store.files.book_folder import LedgerPaths
from copydesk.store.files.disk import Disk, because, disk_errors
from copydesk.store.files.file_lock import held
from copydesk.store.journal.ledger_copies import (
    Copy,
    cover,
    expect_known_form,
    expect_sound,
    in_order,
    read_both,
    read_copy,
    whole_file,
)
from copydesk.store.journal.ledger_store import as_it_is
from copydesk.store.journal.line_format import SCHEMA, Header, breaks, new_mark

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

    from copydesk.store.journal.ledger_store import EntryDict
    from copydesk.store.server.server_ledger import ServerLedger


@dataclass(frozen=True, slots=True)
class Merged:
    """What merging did: the entries taken over, in the order they happened, and what could not be."""

    added: tuple[EntryDict, ...]
    left_out: tuple[Problem, ...]


def merge(folder: Path, other: Path, *, any_book: bool = False, disk: Disk | None = None) -> Merged:
    """Take over into the ledger in ``folder`` every entry of ``other`` (a folder or a ledger file) that it lacks.

    Entries are told apart by their id and stand in the order of tick, desk and id afterwards, so that merging
    either way round gives the same entries in the same order. ``other`` is only read. ``any_book`` allows a ledger
    that bears another book's mark, as when both were begun from a copy of the folder.

    Raises:
        CopydeskError: where either cannot be read, the ledger here is damaged, or they belong to different books.
    """
    disk, places = disk or Disk(), LedgerPaths(folder)
    with held(places, disk):
        ours, mirror = read_both(places, disk)
        theirs = read_copy(LedgerPaths(other).ledger if other.is_dir() else other, disk)
        expect_sound(ours, mirror, folder, "Nothing was merged")
        _expect_fit(ours.found.book, theirs, any_book=any_book)
        wrong = theirs.wrong
        batches = theirs.batches(set(ours.entries) | set(wrong))
        with disk_errors(folder, "Nothing was merged"):
            if batches:
                _write(places, disk, ours, theirs, batches)
        behind = _mirror_behind(places, disk)
    added = tuple(entry for batch in in_order(batches) for entry in batch)
    return Merged(added, (*_left_out(ours.entries, theirs, wrong), *behind))


def merge_to_server(store: ServerLedger, other: Path, *, any_book: bool = False, disk: Disk | None = None) -> Merged:
    """The same for a ledger on a server; what is taken over is kept there together, or waits here to be sent.

    Raises:
        CopydeskError: as for ``merge``, or where nothing can be recorded in ``store``.
    """
    theirs = read_copy(LedgerPaths(other).ledger if other.is_dir() else other, disk or Disk())
    _expect_fit(store.book, theirs, any_book=any_book)
    ours = {str(entry["entry"]): entry for entry in store.entries()}
    wrong = theirs.wrong
    added = [entry for batch in in_order(theirs.batches(set(ours) | set(wrong))) for entry in batch]
    if added:
        store.append_many([as_it_is(entry) for entry in added])
    return Merged(tuple(added), tuple(_left_out(ours, theirs, wrong)))


def _expect_fit(book: str, theirs: Copy, *, any_book: bool) -> None:
    """Stop where the other is no ledger, or not one of this book."""
    if not theirs.there:
        raise PathError(
            f"Nothing was merged: there is no ledger at {theirs.path}; name a book's folder or a ledger file"
        )
    expect_known_form(theirs)
    if not theirs.found.book and not theirs.entries and theirs.data.strip():
        raise BadFileError(f"Nothing was merged: {theirs.path} is no ledger; name a book's folder or a ledger file")
    books = {mark for mark in (book, theirs.found.book) if mark}
    if len(books) > 1 and not any_book:
        raise LedgerMismatchError(
            f"Nothing was merged: {theirs.path} bears the mark of another book; if it is the same book all the same, "
            "merge with --any-book"
        )


def _write(places: LedgerPaths, disk: Disk, ours: Copy, theirs: Copy, batches: list[list[EntryDict]]) -> None:
    """Put both ledgers in place as one."""
    book = ours.found.book or theirs.found.book or new_mark()
    # The whole ledger is sorted and numbered anew: lines in the order they happened, whichever copy they come from,
    # so that merging either way round gives the same file. Entries recorded together stay in one line.
    whole = whole_file(Header(SCHEMA, book), in_order([*ours.batches(set()), *batches]))
    disk.put(places.ledger, whole)


def _mirror_behind(places: LedgerPaths, disk: Disk) -> list[Problem]:
    """Let the mirror hold all; what to say where it cannot be written, which the next entry makes good."""
    try:
        cover(places, disk)
    except (OSError, CopydeskError) as error:
        what = f"the mirror could not be written: {because(error)}; the next entry tries again"
        return [Problem(places.mirror.name, 0, 0, what)]
    return []


def _left_out(ours: Mapping[str, EntryDict], theirs: Copy, wrong: Mapping[str, Problem]) -> Iterator[Problem]:
    """What of the other ledger was not taken over, and why."""
    yield from _clashes(ours, theirs)
    for problem in wrong.values():
        yield Problem(problem.file, problem.line, 0, f"{problem.what}; it was not taken over")
    yield from _unread(theirs)


def _clashes(here: Mapping[str, EntryDict], theirs: Copy) -> list[Problem]:
    """Ids that stand for one entry here and another there: ours counts, theirs stays where it is."""
    return [
        Problem(theirs.path.name, line.at, 0, f"the id {entry['entry']!r} is another entry's here; it was left out")
        for line in theirs.found.lines
        for entry in line.entries
        if here.get(str(entry["entry"]), entry) != entry
    ]


def _unread(theirs: Copy) -> list[Problem]:
    """Lines of the other ledger that could not be read."""
    found, name = theirs.found, theirs.path.name
    problems = [Problem(name, damage.at, 0, f"{damage.what}; it was not taken over") for damage in found.damaged]
    problems += [Problem(name, problem.line, 0, problem.what) for problem in breaks(found, 1)]
    if found.tail:
        problems.append(Problem(name, found.count + 1, 0, "the last line is unfinished; it was not taken over"))
    return problems
