"""What a desk knows of a ledger on a server: every entry once, which of them the server has, which wait to be sent."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from copydesk.store.journal.ledger_store import same_but_for_time

if TYPE_CHECKING:
    from collections.abc import Iterable

    from copydesk.store.journal.ledger_store import EntryDict
    from copydesk.store.server.rows import EntryRow


class Memory:
    """The entries so far.

    Attributes:
        known: Every entry by its id, in the order it came.
        waiting: Those of them that the server is not known to have.
        fresh: Those not handed out yet.
        next_tick: Above every tick seen.
        last_there: The id of the newest entry read from the server.
        damaged: Numbers of rows that cannot be read.
        clashes: Ids under which another entry waits than the server has.
    """

    def __init__(self, there: Iterable[EntryDict], to_send: Iterable[EntryDict]) -> None:
        self.known: dict[str, EntryDict] = {}
        self.waiting: dict[str, EntryDict] = {}
        self.fresh: list[EntryDict] = []
        self.next_tick = 1
        self.last_there = ""
        self.damaged: set[int] = set()
        self.clashes: list[str] = []
        self._there: set[str] = set()
        self.take_copied(there)
        self.keep_in_mind(to_send)

    def _learn(self, entry: EntryDict, *, fresh: bool = True) -> None:
        name, tick = str(entry["entry"]), cast("int", entry["tick"])
        self.next_tick = max(self.next_tick, tick + 1)
        if name not in self.known:
            self.known[name] = entry
            if fresh:
                self.fresh.append(entry)

    def take_copied(self, there: Iterable[EntryDict]) -> None:
        """Take in entries that some desk on this folder has read from the server."""
        for entry in there:
            self._settle(entry)
            self._learn(entry)

    def keep_in_mind(self, to_send: Iterable[EntryDict]) -> None:
        """Take in entries that are to be sent, unless the server has them."""
        for entry in to_send:
            if entry["entry"] not in self._there:
                self.waiting[str(entry["entry"])] = entry
            self._learn(entry)

    def keep_to_send(self, entries: Iterable[EntryDict]) -> None:
        """Take in new entries of this desk, to be sent later."""
        for entry in entries:
            self.waiting[str(entry["entry"])] = entry
            self._learn(entry, fresh=False)

    def keep(self, entries: Iterable[EntryDict]) -> None:
        """Take in entries that this desk has just added on the server."""
        for entry in entries:
            self._settle(entry)
            self._learn(entry, fresh=False)

    def take(self, found: Iterable[EntryRow], last: int) -> int:
        """Take in rows read from the server; the highest number so far."""
        for row in found:
            last = max(last, row.number)
            if row.entry is None:
                self.damaged.add(row.number)
                if row.key in self.known:
                    self._there.add(row.key)
            else:
                self._settle(row.entry)
                self._learn(row.entry)
        return last

    def _settle(self, entry: EntryDict) -> None:
        """Strike an entry off those to send: the server has it."""
        self.last_there = str(entry["entry"])
        self._there.add(self.last_there)
        sent = self.waiting.pop(self.last_there, None)
        if sent is not None and not same_but_for_time(sent, entry):
            self.clashes.append(self.last_there)

    @property
    def there(self) -> int:
        """How many entries the server is known to have."""
        return len(self._there)

    def forget_what_is_there(self) -> set[str]:
        """Know nothing more of what the server has; gives the ids of what it had."""
        before, self._there = self._there, set()
        return before

    def send_again(self, before: set[str]) -> int:
        """Put in line what the server had before and has no more; how many those are."""
        lost = [name for name in self.known if name in before and name not in self._there]
        self.waiting.update((name, self.known[name]) for name in lost)
        return len(lost)
