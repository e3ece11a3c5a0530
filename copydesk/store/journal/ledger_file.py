"""The ledger in a book folder: what a desk opens, reads, adds to and follows."""

from __future__ import annotations

from contextlib import contextmanager, suppress
from threading import RLock
from typing import TYPE_CHECKING

from copydesk.book.common.errors import CopydeskError, DamagedLedgerError, NotAllowedError
from copydesk.book.common.progress import no_progress
from copydesk.store.files.book_folder import LedgerPaths
from copydesk.store.files.disk import Disk, because, disk_errors
from copydesk.store.files.file_lock import PATIENCE, held
from copydesk.store.journal.journal import Journal
from copydesk.store.journal.ledger_copies import Mirror, mirror_holds_more
from copydesk.store.journal.ledger_seen import Seen, keep_seen, put_back, read_seen
from copydesk.store.journal.ledger_store import LedgerStore, entries_of, new_among
from copydesk.store.journal.line_format import SCHEMA, scan

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from copydesk.book.common.progress import OnProgress
    from copydesk.store.journal.ledger_store import Draft, EntryDict


_NAMED = 3  # damaged lines that are named one by one; the rest are counted
_UNFINISHED = "it will be set aside when the next entry is recorded"
_UNTIL_SURE = 1.0  # seconds to wait for another desk to finish the line it may be writing


class LedgerFile(LedgerStore):
    """Keeps a book's entries in ``ledger.jsonl`` in its folder, one line each (a ``LedgerStore``).

    Opening reads and writes nothing; the file is made with the first entry. Several desks may have it open,
    in one process or many. The methods may be called from any thread.
    """

    def __init__(
        self,
        folder: Path,
        *,
        desk: str,
        read_only: bool = False,
        patience: float = PATIENCE,
        disk: Disk | None = None,
        on_progress: OnProgress = no_progress,
    ) -> None:
        """Open the ledger of the book in ``folder`` and read it; ``on_progress`` is given the share done, from 0 to 1.

        Raises:
            CopydeskError: where the folder or the file cannot be read, or the file is a link.
        """
        from copydesk.store.journal.tinydb_storage import EntryDatabase

        self.desk = desk
        self._places = LedgerPaths(folder)
        self._disk = disk or Disk()
        self._mirror = Mirror(self._places, self._disk)
        self._patience = patience
        self._lock = RLock()
        self._why_only_read = "this ledger was opened only to be read" if read_only else ""
        self._torn = False
        self._events_given = 0
        self._generation_repaired = -1
        self._journal = self._open(on_progress)
        self._database = EntryDatabase(self._journal)

    def _open(self, on_progress: OnProgress) -> Journal:
        """The journal, read up to now: the ledger's, or the mirror's where the ledger is gone."""
        journal = self._read(Journal(self._places.ledger, self._disk), on_progress)
        if not journal.length and self._mirror_holds_more():
            self._why_only_read = (
                f"{self._places.ledger} is gone or empty, and only its mirror could be read; {self._how_to_mend()}"
            )
            return self._read(Journal(self._places.mirror, self._disk), on_progress)
        return journal

    def _missed(self) -> str:
        """What this account has seen here that is gone, for a sentence."""
        seen = read_seen(self._places)
        missed = seen.missed_in(self._journal.book, self._journal.by_id) if seen else ""
        return f"{self._places.ledger.name}: {missed}; {put_back(self._places)}" if missed else ""

    def _read(self, journal: Journal, on_progress: OnProgress) -> Journal:
        journal.catch_up(on_progress)
        if journal.tail:
            # Another desk may be writing this line just now: look again once it has given the lock back.
            if not self._why_only_read:
                with suppress(CopydeskError), held(self._places, self._disk, _UNTIL_SURE):
                    pass
            journal.catch_up()
            self._torn = bool(journal.tail)
        return journal

    def _mirror_holds_more(self) -> bool:
        with suppress(OSError, CopydeskError):
            return mirror_holds_more(self._places, self._disk)
        return False

    def _mirror_trouble(self) -> str:
        """Why the mirror cannot be read, where it is there."""
        mirror = self._places.mirror
        try:
            if there := self._disk.look(mirror):
                self._disk.read(mirror, max(0, there.st_size - 1))
        except OSError as error:
            return f"{mirror}: {because(error)}"
        except CopydeskError as error:
            return str(error)
        return ""

    def _how_to_mend(self) -> str:
        return f"copydesk audit --mend {self._places.folder} brings back what can be"

    @property
    def generation(self) -> int:
        """Goes up when the file was replaced, cut or rewritten; then take ``entries()`` afresh."""
        return self._journal.generation

    @property
    def why_read_only(self) -> str:
        """The sentence that says why nothing can be recorded here; empty where it can."""
        if self._journal.schema > SCHEMA:
            return (
                f"{self._places.ledger} was written by a newer copydesk (its form is {self._journal.schema}, this "
                f"program knows {SCHEMA}), so it is only read; install the newer program to record"
            )
        return self._why_only_read

    @property
    def notes(self) -> tuple[str, ...]:
        """Sentences for people: what was damaged, set aside, missing, or is newer than this program."""
        with self._lock:
            return (*self._current_notes(), *self._journal.events)

    def news(self) -> list[str]:
        """Sentences on what happened to the ledger since this was asked last."""
        with self._lock:
            found = self._journal.events[self._events_given :]
            self._events_given += len(found)
            return found

    @property
    def book(self) -> str:
        """The mark of the book that the ledger bears; empty while there is no ledger."""
        return self._journal.book

    def _current_notes(self) -> Iterator[str]:
        """What is wrong with the ledger as it stands."""
        name, journal = self._places.ledger.name, self._journal
        if self.why_read_only:
            yield self.why_read_only
        explained = journal.damaged or journal.breaks or self._mirror_holds_more()
        if not explained and (missed := self._missed()):
            yield missed
        for damage in journal.damaged[:_NAMED]:
            yield f"{name}:{damage.at}: {damage.what}; it was left out, and {self._how_to_mend()}"
        if len(journal.damaged) > _NAMED:
            yield f"{name}: {len(journal.damaged) - _NAMED} more lines are damaged; {self._how_to_mend()}"
        for problem in journal.breaks[:_NAMED]:
            yield f"{name}:{problem.line}: {problem.what}"
        if self._torn and journal.tail:
            yield f"{name}: the last line is unfinished ({len(journal.tail)} bytes); {_UNFINISHED}"
        if not self._why_only_read and self._mirror_holds_more():
            yield f"{name} is shorter than its mirror: entries at its end are missing; {self._how_to_mend()}"
        if trouble := self._mirror_trouble():
            yield f"The ledger has no second copy now, since its mirror cannot be read: {trouble}"

    def entries(self) -> list[EntryDict]:
        """All entries that can be read, in the order they were kept."""
        with self._lock:
            self._journal.fresh.clear()
            return list(self._journal.by_id.values())

    def refresh(self) -> list[EntryDict]:
        """Entries not handed out before: what other desks added. One look at the file where there is nothing new.

        Raises:
            CopydeskError: where the ledger cannot be reached; what was read before still stands.
        """
        with self._lock:
            self._journal.catch_up()
            fresh = self._journal.fresh[:]
            self._journal.fresh.clear()
            return fresh

    def append_many(self, drafts: Sequence[Draft]) -> list[EntryDict]:
        """Keep several entries as one line: all are on the platter when this returns, or none was recorded.

        Raises:
            CopydeskError: where they cannot be kept.
        """
        with self._lock, self._writing():
            made = entries_of(drafts, self._journal.next_tick, self.desk)
            new = new_among(made, self._journal.by_id)
            if len(new) < len(made):  # it may be there because it was written, but never known to be on the platter
                self._disk.sync_file(self._places.ledger)
            if new:
                self._insert(new)
            return [self._journal.by_id[str(entry["entry"])] for entry in made]

    @contextmanager
    def _writing(self) -> Iterator[None]:
        """Hold the lock, with everything read that other desks wrote and a sound end to write at."""
        self._expect_writable()
        with held(self._places, self._disk, self._patience):
            self._journal.catch_up()
            self._expect_writable()
            with disk_errors(self._places.ledger, "Nothing was recorded"):
                self._repair_end()
                yield

    def _expect_writable(self) -> None:
        if self.why_read_only:
            raise NotAllowedError(f"Nothing was recorded: {self.why_read_only}")

    def _repair_end(self) -> None:
        """Set an unfinished last line aside, and leave room for what only the mirror still has.

        Raises:
            CopydeskError: where the mirror is all that is left.
        """
        # The order matters: a line that is whole but for its end counts and is completed; what is then left at the
        # end was never acknowledged and is moved away, so that the new line does not join it to one damaged line.
        if self._journal.unended:
            self._journal.end_line()
        if self._journal.tail:
            self._journal.cut_tail(self._places.aside("tail.bin"))
        if self._generation_repaired != self.generation:
            try:
                holds_more = mirror_holds_more(self._places, self._disk)
            except (OSError, CopydeskError):
                if not self._journal.length:  # then the mirror may be all that is left
                    raise
                return  # nobody can read that mirror; the entry goes into the ledger, and what is wrong is told then
            if holds_more:
                self._reserve_numbers()
        self._generation_repaired = self.generation

    def _reserve_numbers(self) -> None:
        if not self._journal.length:
            raise DamagedLedgerError(
                f"Nothing was recorded: {self._places.ledger} is gone or empty, but its mirror is not; "
                f"{self._how_to_mend()}; to begin a new ledger, remove {self._places.mirror} too"
            )
        self._journal.reserve_numbers(scan(self._disk.read(self._places.mirror)[1]))

    def _insert(self, entries: list[EntryDict]) -> None:
        """Keep new entries through TinyDB, then in the mirror."""
        # The ledger first, synced; then the mirror, not synced: the mirror can lag behind, but never be ahead.
        before, missed = self._journal.length, self._missed()
        self._database.insert_multiple(entries)
        if said := self._mirror.extend(self._journal.last_added, before):
            self._journal.say(said)
        if not missed:  # else what is missing would be forgotten before anybody has said that it may be
            keep_seen(self._places, Seen.of(self._journal.book, self._journal.by_id))

    def close(self) -> None:
        """Close the database; no file stays open between calls."""
        self._database.close()
