"""The ledger as a TinyDB database: a storage over the journal, and a table that touches only what is inserted.

TinyDB's own storage writes the whole file for every change, in place. Here the tables live in memory and each
insertion adds one line to the journal, so an entry costs the same in a ledger of any size.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, cast

from tinydb import TinyDB
from tinydb.storages import Storage
from tinydb.table import Table

from copydesk.book.common.errors import NotAllowedError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from copydesk.store.journal.journal import Journal


ENTRIES = "entries"
"""The one table: a ledger holds nothing but entries."""


class JournalStorage(Storage):
    """Shows TinyDB what the journal has read; takes no change but the insertions of ``EntryTable``."""

    def __init__(self, journal: Journal) -> None:
        self.journal = journal

    def read(self) -> dict[str, dict[str, Any]]:
        """The tables in memory, as they are; nothing is copied."""
        return {ENTRIES: self.journal.documents}

    def write(self, data: dict[str, dict[str, Any]]) -> None:  # noqa: ARG002 - TinyDB's signature
        """Refuse: entries are added, never changed and never removed.

        Raises:
            NotAllowedError: always.
        """
        raise NotAllowedError("the ledger's entries are never changed; take one back by adding an entry that voids it")


class EntryTable(Table):
    """TinyDB's own table; its reading, counting and queries are used as they are."""

    # TinyDB inserts through _update_table: it copies the whole table and hands it to the storage to be written, so
    # that each entry would cost as much as all before it. These two add one line to the journal instead.

    def insert(self, document: Mapping[str, Any]) -> int:
        """Keep one document; its number."""
        return self.insert_multiple([document])[0]

    def insert_multiple(self, documents: Iterable[Mapping[str, Any]]) -> list[int]:
        """Keep several documents together and safely; their numbers."""
        journal = cast("JournalStorage", self.storage).journal
        before = len(journal.documents)
        journal.add([dict(document) for document in documents])
        return list(range(before + 1, len(journal.documents) + 1))

    def _update_table(self, updater: Callable[[dict[int, Mapping[str, Any]]], None]) -> None:  # noqa: ARG002
        # Every change but an insertion comes here; TinyDB would first copy the whole table to change it.
        self.storage.write({})


class EntryDatabase(TinyDB):
    """TinyDB with the journal under it; what is asked of it is asked of its one table."""

    table_class = EntryTable
    default_table_name = ENTRIES

    def __init__(self, journal: Journal) -> None:
        super().__init__(journal, storage=JournalStorage)
        # TinyDB keeps the answers to queries until it changes the table itself, and other desks add entries unseen
        # by it; so the table is made here, to keep none.
        self.table(ENTRIES, cache_size=0)
