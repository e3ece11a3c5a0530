"""What a desk knows of a ledger on a server: every entry once, which of them the server has, which wait to be sent."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from copydesk.store.journal.ledger_store import same_but_for_time

if TYPE_CHECKING:
    from collections.abc import Iterable

    from copydesk.store.journal.ledger_store import EntryDict
    from copydesk.store.server.rows import EntryRow


class KnownEntries:
    """The entries so far.

    Attributes:
        known: Every entry by its id, in the order it came.
        waiting: Those of them that the server is not known to have.
        fresh: Those not handed out yet.
        next_tick: Above every tick seen.
        last_on_server: The id of the newest entry read from the server.
        damaged: The rows that cannot be read: their numbers, and why.
        clashes: Ids under which another entry waits than the server has.
    """

    def __init__(self, there: Iterable[EntryDict], to_send: Iterable[EntryDict]) -> None:
        self.known: dict[str, EntryDict] = {}
        self.waiting: dict[str, EntryDict] = {}
        self.fresh: list[EntryDict] = []
        self.next_tick = 1
        self.last_on_server = ""
        self.damaged: dict[int, str] = {}
        self.clashes: list[str] = []
        self._on_server: set[str] = set()
        self.add_sent(there)
        self.add_unsent(to_send)

    def _add(self, entry: EntryDict, *, fresh: bool = True) -> None:
        name, tick = str(entry["entry"]), cast("int", entry["tick"])
        self.next_tick = max(self.next_tick, tick + 1)
        if name not in self.known:
            self.known[name] = entry
            if fresh:
                self.fresh.append(entry)

    def add_sent(self, entries: Iterable[EntryDict], *, fresh: bool = True) -> None:
        """Take in entries that the server has: read by some desk on this folder, or, not ``fresh``, just sent by us."""
        for entry in entries:
            self._mark_sent(entry)
            self._add(entry, fresh=fresh)

    def add_unsent(self, entries: Iterable[EntryDict], *, fresh: bool = True) -> None:
        """Take in entries that are to be sent, unless the server has them; our own ones are not ``fresh``."""
        for entry in entries:
            if entry["entry"] not in self._on_server:
                self.waiting[str(entry["entry"])] = entry
            self._add(entry, fresh=fresh)

    def add_rows(self, found: Iterable[EntryRow], last: int) -> int:
        """Take in rows read from the server; the highest number so far."""
        for row in found:
            last = max(last, row.number)
            if row.entry is None:
                self.damaged[row.number] = row.why
                if row.key in self.known:
                    self._on_server.add(row.key)
            else:
                self._mark_sent(row.entry)
                self._add(row.entry)
        return last

    def _mark_sent(self, entry: EntryDict) -> None:
        """Strike an entry off those to send: the server has it."""
        self.last_on_server = str(entry["entry"])
        self._on_server.add(self.last_on_server)
        sent = self.waiting.pop(self.last_on_server, None)
        if sent is not None and not same_but_for_time(sent, entry):
            self.clashes.append(self.last_on_server)

    @property
    def count_on_server(self) -> int:
        """How many entries the server is known to have."""
        return len(self._on_server)

    def forget_server(self) -> set[str]:
        """Know nothing more of what the server has; gives the ids of what it had."""
        before, self._on_server = self._on_server, set()
        return before

    def resend_lost(self, before: set[str]) -> int:
        """Put in line what the server had before and has no more; how many those are."""
        lost = [name for name in self.known if name in before and name not in self._on_server]
        self.waiting.update((name, self.known[name]) for name in lost)
        return len(lost)
