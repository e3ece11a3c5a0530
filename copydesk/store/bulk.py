"""Whether a book is so large that reading it takes long enough to be told about."""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

MOST_TEXT = 3_000_000
"""Bytes of a text read in well under half a second: some half a million words."""

MOST_LEDGER = 20_000_000
"""Bytes of a ledger read in well under half a second: some seventy thousand entries."""

_TEXTS = (".txt", ".xml")


def is_bulky(folder: Path) -> bool:
    """Whether the ledger in ``folder``, or a text in it or in a folder right below it, is so large."""
    with suppress(OSError):
        ledger = folder / "ledger.jsonl"
        if ledger.is_file() and ledger.stat().st_size > MOST_LEDGER:
            return True
        texts = (path for pattern in ("*", "*/*") for path in folder.glob(pattern) if path.suffix.lower() in _TEXTS)
        return any(path.stat().st_size > MOST_TEXT for path in texts if path.is_file())
    return False
