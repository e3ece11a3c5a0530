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
    """Shows TinyDB what the journal has read; takes insertions one by one and no other change."""

    def __init__(self, journal: Journal) -> None:
        self._journal = journal

    def read(self) -> dict[str, dict[str, Any]]:
        """The tables in memory, as they stand; nothing is copied."""
        return {ENTRIES: self._journal.documents}

    def write(self, data: dict[str, dict[str, Any]]) -> None:  # noqa: ARG002 - TinyDB's signature
        """Refuse: entries are added, never changed and never removed.

        Raises:
            NotAllowedError: always.
        """
        raise NotAllowedError(
            "the ledger's entries are never changed or removed; undo one by adding an entry that voids it"
        )

    def insert(self, documents: list[dict[str, Any]]) -> range:
        """Keep new documents, together and safely; the numbers they got."""
        before = len(self._journal.documents)
        self._journal.add(documents)
        return range(before + 1, len(self._journal.documents) + 1)


class EntryTable(Table):
    """A table whose insertions cost no more than the documents inserted."""

    def documents(self) -> list[dict[str, Any]]:
        """All documents in the order they were kept, as they are; nothing is copied."""
        return list(self._read_table().values())  # type: ignore[arg-type]  # TinyDB allows any mapping

    def insert(self, document: Mapping[str, Any]) -> int:
        """Keep one document; its number."""
        return self.insert_multiple([document])[0]

    def insert_multiple(self, documents: Iterable[Mapping[str, Any]]) -> list[int]:
        """Keep several documents together; their numbers."""
        return list(cast("JournalStorage", self.storage).insert([dict(document) for document in documents]))

    def _update_table(self, updater: Callable[[dict[int, Mapping[str, Any]]], None]) -> None:  # noqa: ARG002
        self.storage.write({})


class EntryDatabase(TinyDB):
    """TinyDB with the journal under it and the entries' table as its own."""

    table_class = EntryTable
    default_table_name = ENTRIES

    def __init__(self, journal: Journal) -> None:
        super().__init__(journal, storage=JournalStorage)

    @property
    def entries(self) -> EntryTable:
        """The entries' table."""
        # No answers are remembered: other desks add entries behind TinyDB's back.
        return cast("EntryTable", self.table(ENTRIES, cache_size=0))
