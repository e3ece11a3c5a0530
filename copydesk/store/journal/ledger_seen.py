"""What this account last saw of a ledger, kept outside the book's folder.

A folder that is put back to an earlier state is sound in itself: only what lies elsewhere can tell that entries are
gone. The note goes by the folder's path, and is no more than a help: where it cannot be kept, nothing else changes.
"""

from __future__ import annotations

import json
import os
from contextlib import suppress
from hashlib import blake2b
from typing import TYPE_CHECKING, NamedTuple, Self

from copydesk.store.files.environment import now, state_folder

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from copydesk.store.files.book_folder import LedgerPaths
    from copydesk.store.journal.ledger_store import EntryDict


_LARGEST_BYTES, _USUAL_BYTES = 2000, 300


class Seen(NamedTuple):
    """A ledger as it was left: the book's mark, how many entries, the newest one's id and digest, and the day."""

    book: str
    entries: int
    newest: str
    digest: str
    day: str

    @classmethod
    def of(cls, book: str, entries: dict[str, EntryDict]) -> Self:
        """A ledger as it is now; ``entries`` by id, in their order."""
        newest = next(reversed(entries), "")
        return cls(book, len(entries), newest, _digest(entries.get(newest)), f"{now():%Y-%m-%d}")

    def missed_in(self, book: str, entries: Mapping[str, EntryDict]) -> str:
        """What a ledger lacks that was seen in it, for a sentence; empty where nothing is lacking.

        More entries in another order are no loss: a merge puts them so.
        """
        if book not in (self.book, ""):
            return ""  # another book stands in the place of the one that was seen
        if len(entries) < self.entries:
            return f"on {self.day} it held {self.entries} entries, and now {len(entries)}"
        if _digest(entries.get(self.newest)) != self.digest:
            return f"the newest entry of {self.day} is not there as it was recorded"
        return ""


def _digest(entry: EntryDict | None) -> str:
    return blake2b(json.dumps(entry, sort_keys=True).encode(), digest_size=8).hexdigest()


def read_seen(places: LedgerPaths) -> Seen | None:
    """What was last seen of the ledger in this folder; ``None`` where nothing is known."""
    with suppress(OSError, ValueError, TypeError, KeyError):
        with _file(places).open("rb") as file:
            kept = json.loads(file.read(_LARGEST_BYTES))
        return Seen(str(kept["book"]), int(kept["entries"]), *(str(kept[key]) for key in ("newest", "digest", "day")))
    return None


def keep_seen(places: LedgerPaths, seen: Seen) -> None:
    """Keep what was seen for the next time; where that cannot be, go on without.

    It is written over what stands there, in blanks of the same length: a file cut to nothing first costs a wait for the
    platter on some systems, a third of an entry's whole way.
    """
    with suppress(OSError):
        path = _file(places)
        path.parent.mkdir(parents=True, exist_ok=True)
        data = json.dumps(seen._asdict()).encode().ljust(_USUAL_BYTES)
        file = os.open(path, os.O_WRONLY | os.O_CREAT, 0o600)
        try:
            os.write(file, data)
            if os.fstat(file).st_size > len(data):
                os.ftruncate(file, len(data))
        finally:
            os.close(file)


def forget_seen(places: LedgerPaths) -> None:
    """Take the ledger in this folder as it is, whatever was seen in it before."""
    with suppress(OSError):
        _file(places).unlink(missing_ok=True)


def put_back(places: LedgerPaths) -> str:
    """What to do where a ledger holds less than was seen in it."""
    return (
        "look for what is missing in a backup (copydesk restore), or, where the folder was put back on purpose, say so "
        f"with copydesk audit {places.folder} --as-it-is"
    )


def _file(places: LedgerPaths) -> Path:
    name = blake2b(str(places.folder.resolve()).encode(errors="surrogateescape"), digest_size=12).hexdigest()
    return state_folder() / "ledgers" / f"{name}.json"
