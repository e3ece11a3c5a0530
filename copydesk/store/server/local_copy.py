"""What a desk has read from a server, kept in the book's folder: so that the book opens while the server is away.

It is a ledger like any other, and every entry in it is on the server too; so no trouble with it stops a desk.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import CopydeskError
from copydesk.store.files.book_folder import LedgerPaths
from copydesk.store.files.disk import Disk, QuickDisk, because
from copydesk.store.files.file_lock import held
from copydesk.store.journal.ledger_copies import whole_file
from copydesk.store.journal.ledger_file import LedgerFile
from copydesk.store.journal.ledger_store import as_it_is
from copydesk.store.journal.line_format import SCHEMA, Header

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from copydesk.store.journal.ledger_store import EntryDict


class ServerCopy:
    """The copy in a book's folder.

    Attributes:
        mark: The mark of the ledger it was read from; empty while there is no copy.
        trouble: Why the copy could not be kept up to date; empty where it could.
    """

    def __init__(self, folder: Path, *, desk: str) -> None:
        """Read the copy.

        Raises:
            CopydeskError: where it is there and cannot be read.
        """
        self._home = LedgerPaths(folder)
        self._places = LedgerPaths(self._home.server_copy)
        self._file = LedgerFile(self._places.folder, desk=desk, disk=QuickDisk())
        self._pending: list[EntryDict] = []
        self.trouble = ""

    @property
    def path(self) -> Path:
        """Its file."""
        return self._places.ledger

    @property
    def mark(self) -> str:
        """The mark of the ledger it was read from; empty while there is no copy."""
        return self._file.book

    def entries(self) -> list[EntryDict]:
        """The entries, in the order they were read."""
        return self._file.entries()

    def refresh(self) -> list[EntryDict]:
        """Entries that other desks on this folder read since; none where the copy cannot be looked at now."""
        try:
            return self._file.refresh()
        except CopydeskError:
            return []

    def follow(self, mark: str, entries: Sequence[EntryDict]) -> None:
        """Add what was just read, after what could not be added before; where that cannot be, ``trouble`` says why."""
        self._pending += entries
        try:
            if not self.mark:
                self._begin(mark)
            # A copy of another ledger is left as it is: the desk is then read-only, and says so.
            if self.mark == mark and self._pending:
                self._file.append_many([as_it_is(entry) for entry in self._pending])
                self._pending = []
        except (CopydeskError, OSError) as error:
            why = f"{self.path}: {because(error)}" if isinstance(error, OSError) else error
            self.trouble = f"The copy of the server's ledger could not be kept: {why}"
        else:
            self.trouble = ""

    def _begin(self, mark: str) -> None:
        """Begin the file under this mark, unless another desk just did."""
        disk = Disk()
        self._home.prepare(disk)
        disk.make_folder(self._places.folder)
        with held(self._places, disk):
            self._file.refresh()
            if not self.mark:
                disk.put(self.path, whole_file(Header(SCHEMA, mark), ()))
        self._file.refresh()

    def close(self) -> None:
        """Close the file."""
        self._file.close()
