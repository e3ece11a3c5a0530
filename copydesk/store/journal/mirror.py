"""The mirror: the ledger's lines once more, so that a damaged ledger can be mended."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import Refused
from copydesk.store.files.disk import because

if TYPE_CHECKING:
    from copydesk.store.files.disk import Disk
    from copydesk.store.files.ledger_paths import Places


_COMPARED = 4096  # bytes at the mirror's end that must agree before the ledger's next bytes are added to it


def follow(places: Places, disk: Disk, data: bytes, at: int) -> str:
    """Add to the mirror what was just added to the ledger at byte ``at``; a sentence where that failed.

    It is not waited for until the mirror is on the platter: the ledger is, and the mirror guards against what
    happens to the ledger later. A mirror that lags behind (a desk died between the two, or the folder came
    without it) is brought up to date; one that holds something else is added to, never overwritten.
    """
    try:
        status = disk.look(places.mirror)
        size = status.st_size if status else 0
        if size != at:
            data = _missing(places, disk, size, at) + data
        disk.append(places.mirror, data, size, sync=False)
    except OSError as error:
        return f"The entry is safe, but the mirror of the ledger could not be written: {because(error)}"
    except Refused as refused:
        return f"The entry is safe, but the mirror of the ledger could not be written: {refused}"
    return ""


def _missing(places: Places, disk: Disk, size: int, at: int) -> bytes:
    """What the mirror lacks before the newest line, or the line end that parts it from other content."""
    start = max(0, size - _COMPARED)
    _, end = disk.read(places.mirror, start) if size else (None, b"")
    if size < at:
        _, same = disk.read(places.ledger, start, at - start)
        if same.startswith(end):
            return same[len(end) :]
    return b"" if not end or end.endswith(b"\n") else b"\n"


def holds_more(places: Places, disk: Disk) -> bool:
    """Whether the mirror is longer than the ledger, which then has lost its end (more than the last line end)."""
    mirrored = disk.look(places.mirror)  # looked at first: the ledger is always written before it
    ledger = disk.look(places.ledger)
    return mirrored is not None and mirrored.st_size > (ledger.st_size + 1 if ledger and ledger.st_size else 0)
