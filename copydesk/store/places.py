"""Where a book folder keeps its ledger, and what stands beside it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path

    from copydesk.store.disk import Disk


@dataclass(frozen=True, slots=True)
class Places:
    """The ledger's files in one book folder.

    The ledger itself lies open in the folder. What only this machine needs (the lock, the mirror, what was set
    aside) lies in a hidden folder that keeps itself out of version control.
    """

    folder: Path

    @property
    def ledger(self) -> Path:
        """Every entry, one line each."""
        return self.folder / "ledger.jsonl"

    @property
    def hidden(self) -> Path:
        """What stands beside the ledger."""
        return self.folder / ".copydesk"

    @property
    def mirror(self) -> Path:
        """The same lines once more, to mend the ledger from."""
        return self.hidden / "ledger.mirror.jsonl"

    @property
    def lock(self) -> Path:
        """Held by the desk that is writing."""
        return self.hidden / "ledger.lock"

    def aside(self, when: datetime, what: str) -> Path:
        """A name not yet taken in the hidden folder, for ``what`` is set aside at ``when``."""
        stem, dot, ending = what.partition(".")
        base = f"set-aside-{when:%Y-%m-%d-%H%M%S}-{stem}"
        names = (f"{base}{count}{dot}{ending}" for count in ["", *(f"-{more}" for more in range(2, 10_000))])
        return next(path for path in map(self.hidden.joinpath, names) if not path.exists())

    def prepare(self, disk: Disk) -> None:
        """Make the hidden folder where it is missing.

        Raises:
            OSError: where the book folder is gone or cannot be written.
            Refused: where something else bears the hidden folder's name.
        """
        if disk.make_folder(self.hidden):
            disk.append(self.hidden / ".gitignore", b"*\n", 0)
