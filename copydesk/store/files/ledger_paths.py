"""Where a book folder keeps its ledger, and what stands beside it."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path

    from copydesk.store.files.disk import Disk


class Places:
    """The ledger's files in one book folder.

    The ledger itself lies open in the folder. What only this machine needs (the lock, the mirror, what was set
    aside) lies in a hidden folder that keeps itself out of version control.

    Attributes:
        folder: The book's folder.
        ledger: Every entry, one line each.
        hidden: The folder for what stands beside the ledger.
        mirror: The same lines once more, to mend the ledger from.
        lock: Held by the desk that is writing.
        server_copy: A folder with a ledger of its own: what was read from a server.
        to_send: A folder with a ledger of its own: what was recorded while the server was away.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.ledger = folder / "ledger.jsonl"
        self.hidden = folder / ".copydesk"
        self.mirror = self.hidden / "ledger.mirror.jsonl"
        self.lock = self.hidden / "ledger.lock"
        self.server_copy = self.hidden / "server-copy"
        self.to_send = self.hidden / "to-send"

    def aside(self, when: datetime, what: str) -> Path:
        """A name not yet taken in the hidden folder, for ``what`` is to be set aside at ``when``."""
        stem, dot, ending = what.partition(".")
        base = f"set-aside-{when:%Y-%m-%d-%H%M%S}-{stem}"
        path, count = self.hidden / f"{base}{dot}{ending}", 1
        while path.exists():
            count += 1
            path = self.hidden / f"{base}-{count}{dot}{ending}"
        return path

    def prepare(self, disk: Disk) -> None:
        """Make the hidden folder where it is missing.

        Raises:
            OSError: where the book folder is gone or cannot be written.
            Refused: where something else bears the hidden folder's name.
        """
        if disk.make_folder(self.hidden):
            disk.append(self.hidden / ".gitignore", b"*\n", 0)
