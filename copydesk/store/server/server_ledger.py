"""A ledger on a database server, for desks on several machines; what cannot be sent is kept here until it can.

While the server answers, an entry is safe once it is committed there. While it does not, an entry is safe once it
is in the ledger of things to send in the book's folder; it goes to the server later, under the same id, and an id
is kept once however often it is sent. What was read from the server is copied into the folder, so that the book
opens without it.
"""

from __future__ import annotations

import time
from threading import RLock
from typing import TYPE_CHECKING

import psycopg

from copydesk.book.common.errors import CopydeskError, NotAllowedError, ServerRefusedError, ServerUnreachableError
from copydesk.store.files.book_folder import LedgerPaths
from copydesk.store.files.disk import Disk
from copydesk.store.journal.ledger_copies import mark_of
from copydesk.store.journal.ledger_file import LedgerFile
from copydesk.store.journal.ledger_store import LedgerStore, as_it_is, entries_of, new_among
from copydesk.store.journal.line_format import expect_entries
from copydesk.store.server import messages as words
from copydesk.store.server import rows
from copydesk.store.server.connection import ServerLink, is_passing, reason
from copydesk.store.server.known_entries import KnownEntries
from copydesk.store.server.local_copy import ServerCopy

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from copydesk.store.journal.ledger_store import Draft, EntryDict
    from copydesk.store.server.rows import Database, LedgerRow


_SEND_AGAIN = 2.0
"""Seconds after which entries that the server would not take are sent again."""


class ServerLedger(LedgerStore):
    """Keeps a book's entries in a database (a ``LedgerStore``). The methods may be called from any thread.

    ``service`` names the database in libpq's service file, and the book in the database.
    """

    generation = 0  # what was read once stands

    def __init__(self, folder: Path, *, desk: str, service: str, title: str = "", disk: Disk | None = None) -> None:
        """Open the ledger and read what is new in it.

        Raises:
            CopydeskError: where neither the server nor a copy of its ledger can be read.
        """
        self.desk = desk
        self.service = service
        self._title = title
        self._lock = RLock()
        self._home = LedgerPaths(folder)
        self._disk = disk or Disk()
        self._copy = ServerCopy(folder, desk=desk)
        self._to_send = LedgerFile(self._home.to_send, desk=desk, disk=self._disk)
        self._known = KnownEntries(self._copy.entries(), self._to_send.entries())
        self._row: LedgerRow | None = None
        self._prepared: Database | None = None
        self._last = 0
        self._mismatch = ""
        self._news: list[str] = []
        self._is_writing = False
        self._is_away = False
        self._sent_at = 0.0
        self._link = ServerLink(service)
        self._open()

    def _open(self) -> None:
        try:
            self._look()
            nothing_known = not self._known.known and not self._copy.mark
            if self._link.why_refused and nothing_known:
                raise ServerRefusedError(words.turned_away(self.service, self._link.why_refused))
            if self._link.why_away and nothing_known:
                raise ServerUnreachableError(words.never_read(self.service, self._link.why_away))
        except CopydeskError:
            self.close()
            raise
        self._known.fresh.clear()

    # --- state and notes --------------------------------------------------------------------------------------------

    @property
    def book(self) -> str:
        """The mark of the book that the ledger bears; empty while there is no ledger."""
        return self._row.mark if self._row is not None else self._copy.mark

    @property
    def waiting(self) -> int:
        """How many entries are kept here and still to be sent."""
        return len(self._known.waiting)

    @property
    def why_read_only(self) -> str:
        """The sentence that says why nothing can be recorded here; empty where it can."""
        return self._why_not(self._row)

    def _why_not(self, row: LedgerRow | None) -> str:
        if self._link.why_refused:
            return words.turned_away(self.service, self._link.why_refused)
        if row is not None and row.form > rows.FORM:
            return words.newer(self.service, row.form, rows.FORM)
        return words.closed(self.service, row.closed) if row is not None and row.closed else self._mismatch

    @property
    def notes(self) -> tuple[str, ...]:
        """Sentences for people: that the server is away, what waits to be sent, what is damaged or newer."""
        with self._lock:
            return tuple(self._current_notes())

    def _current_notes(self) -> Iterator[str]:
        if self.why_read_only:
            yield self.why_read_only
        if self._link.why_away:
            yield words.away(self.service, self._link.why_away)
        if self.waiting and self._row is not None and self._row.closed:
            yield words.cannot_be_sent(self.waiting, LedgerPaths(self._home.to_send).ledger)
        elif self.waiting:
            yield words.to_be_sent(self.service, self.waiting)
        if self._row is not None and self._title and self._row.title != self._title:
            yield words.other_title(self.service, self._row.title)
        for number, why in sorted(self._known.damaged.items()):
            yield words.damaged(self.service, number, why, self._home.folder)
        for name in self._known.clashes:
            yield words.clash(self.service, name, LedgerPaths(self._home.to_send).ledger)
        if self._copy.trouble:
            yield self._copy.trouble

    def news(self) -> list[str]:
        """Sentences on what happened to the ledger since this was asked last."""
        with self._lock:
            found, self._news = self._news, []
            return found

    # --- reading ----------------------------------------------------------------------------------------------------

    def entries(self) -> list[EntryDict]:
        """All entries that can be read, in the order this desk came to know them."""
        with self._lock:
            self._known.fresh.clear()
            return list(self._known.known.values())

    def refresh(self) -> list[EntryDict]:
        """Entries not handed out before. One look at the line to the server where nobody called.

        Raises:
            CopydeskError: where the server will not let this account read; a server that is away is no reason.
        """
        with self._lock:
            if not self._is_writing:
                self._look()
            fresh, self._known.fresh = self._known.fresh, []
            return fresh

    def _look(self) -> None:
        """Take in what is new on the server, and what other desks on this folder keep for it."""
        self._known.add_unsent(self._to_send.refresh())
        database = self._link.database()
        if database is None:
            self._known.add_sent(self._copy.refresh())
            self._note_away()
            return
        try:
            if self._link.is_new:
                self._resume(database)
            else:
                self._read_if_called(database)
            if self.waiting and not self.why_read_only and time.monotonic() > self._sent_at + _SEND_AGAIN:
                self._commit(database, (), [])
        except (psycopg.Error, OSError) as error:
            self._go_on_without(database, error, "The ledger cannot be read now")

    def _note_away(self) -> None:
        if not self._is_away:
            self._is_away = True
            refused, away = self._link.why_refused, self._link.why_away
            told = words.turned_away(self.service, refused) if refused else words.away(self.service, away)
            self._news.append(told)

    def _resume(self, database: Database) -> None:
        """Find the ledger over a new line, and read on where this desk left it.

        Where it does not have all that was read from it, the server was put back to an older state: then everything
        is read anew, and what the server has lost is sent to it again.
        """
        found = rows.find(database, self.service)
        self._mismatch = self._why_mismatch(found)
        if found is not None and not self._mismatch:
            self._row = found
            name, before = self._known.last_on_server, set[str]()
            self._last = (rows.number_of(database, self.service, name) or 0) if name else 0
            # Ids, not numbers, say what the server has: after a restore from a backup it gives old numbers anew.
            if self._known.count_on_server != rows.count(database, self.service, self._last):
                before, self._last = self._known.forget_server(), 0
            self._read_on(database)
            if lost := self._known.resend_lost(before):
                self._news.append(f"The server {self.service} had lost {words.entries(lost)}; they are sent again.")
        self._link.is_new, self._sent_at = False, 0.0
        if self._is_away:
            self._is_away = False
            self._news.append(f"The server {self.service} answers again.")

    def _why_mismatch(self, found: LedgerRow | None) -> str:
        """Why the ledger found cannot be the one read here before; empty where it can."""
        if not self.book or (found is not None and found.mark == self.book):
            return ""
        if found is None:
            return words.gone(self.service, self._home.folder)
        return words.another(self.service, self._copy.path)

    def _read_if_called(self, database: Database) -> None:
        """Read on where other desks called."""
        called = self._link.newest_call(self.service)
        if called <= self._last:
            return
        if self._row is None or called == rows.CLOSED_CALL:
            self._row = rows.find(database, self.service)
        self._read_on(database)

    def _read_on(self, database: Database) -> None:
        """Take in the rows after the last one read."""
        if self._row is not None and not self._mismatch:
            found = rows.after(database, self.service, self._last)
            self._last = self._known.add_rows(found, self._last)
            self._copy.follow(self._row.mark, [row.entry for row in found if row.entry is not None])

    def _go_on_without(self, database: Database, error: Exception, outcome: str) -> None:
        """Go on without the server, where what failed may pass.

        Raises:
            CopydeskError: where it will not pass by itself.
        """
        if not is_passing(error):
            raise ServerRefusedError(words.refuses(outcome, self.service, reason(error))) from error
        if database.closed:
            self._link.lose(error)
            self._note_away()
        else:
            self._news.append(f"The server {self.service} did not take part this time ({reason(error)}).")

    # --- writing ----------------------------------------------------------------------------------------------------

    def append_many(self, drafts: Sequence[Draft]) -> list[EntryDict]:
        """Keep several entries together, as ``append`` does.

        Raises:
            CopydeskError: where they cannot be kept.
        """
        with self._lock:
            made: list[EntryDict] = []
            database = self._link.database()
            if database is None or not self._keep_there(database, drafts, made):
                self._keep_here(drafts, made)
            return [self._known.known[str(entry["entry"])] for entry in made]

    def _keep_there(self, database: Database, drafts: Sequence[Draft], made: list[EntryDict]) -> bool:
        """Keep entries on the server; False where it is away, and may or may not have them.

        A line that breaks during the commit leaves open whether the server has the entries. So they are kept here
        too, under the same ids: sending them again later adds only those that are missing.
        """
        try:
            if self._link.is_new:
                self._resume(database)
            self._expect_writable(self._row)
            self._commit(database, drafts, made)
        except (psycopg.Error, OSError) as error:
            self._go_on_without(database, error, "Nothing was recorded")
            return False
        return True

    def _expect_writable(self, row: LedgerRow | None) -> None:
        if why := self._why_not(row):
            raise NotAllowedError(f"Nothing was recorded: {why}")

    def _commit(self, database: Database, drafts: Sequence[Draft], made: list[EntryDict]) -> None:
        """Make the entries of the drafts, and add them and those that waited, in one transaction."""
        self._sent_at = time.monotonic()
        if self._prepared is not database:
            rows.prepare(database)
            self._prepared = database
        # While this desk holds the ledger's row, nobody else adds. What others added before is read first, inside the
        # same transaction: so the ticks of the new entries are above all others, and no number is given twice.
        with database.transaction():
            mark = self.book or mark_of(self._home, self._disk)
            row = rows.hold(database, self.service, mark, self._title)
            self._expect_writable(row)
            found = rows.after(database, self.service, self._last)
            self._last = self._known.add_rows(found, self._last)
            new = self._make(drafts, made)
            sending = [*self._known.waiting.values(), *new]
            last = rows.add(database, self.service, self._last, sending) if sending else self._last
        # Only now, after the commit, is anything taken as sent: a transaction that failed has changed nothing here.
        sent = self.waiting
        self._row, self._last = row, last
        self._known.add_sent(sending, fresh=False)
        self._copy.follow(row.mark, [*(each.entry for each in found if each.entry is not None), *sending])
        if sent:
            self._news.append(f"Sent to the server {self.service}: {words.entries(sent)} kept here till now.")

    def _make(self, drafts: Sequence[Draft], made: list[EntryDict]) -> list[EntryDict]:
        """The entries of the drafts, made once however often they are tried to be kept; those of them that are new."""
        if not made:
            self._is_writing = True
            try:
                made += entries_of(drafts, self._known.next_tick, self.desk)
            finally:
                self._is_writing = False
        new = new_among(made, self._known.known)
        expect_entries(new)
        return new

    def _keep_here(self, drafts: Sequence[Draft], made: list[EntryDict]) -> None:
        """Keep entries in the folder until the server answers."""
        self._expect_writable(self._row)
        self._known.add_unsent(self._to_send.refresh())
        new = self._make(drafts, made)
        if not new:
            return
        self._home.prepare(self._disk)
        self._disk.make_folder(self._home.to_send)
        self._to_send.append_many([as_it_is(entry) for entry in new])
        self._known.add_unsent(new, fresh=False)
        self._sent_at = time.monotonic()
        self._news.append(words.to_be_sent(self.service, self.waiting))

    def close(self) -> None:
        """Close the connection and the files."""
        self._link.close()
        self._copy.close()
        self._to_send.close()
