"""The stages of opening a book, for whoever waits for it."""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from copydesk.book.common.progress import Hear

    Tell = Callable[[float, str], None]
    """Hears of each stage as it begins, by its number with what was found before it, and then how far it is.

    ``2.25`` is a quarter of stage 2. It may stop the opening by raising.
    """


STAGES = ("the plan and the text", "the ledger", "what was recorded", "the gatherings", "every page's lines")
"""What is read and worked out, in order; the last when the lines are first asked for."""


def untold(stage: float, found: str) -> None:
    """Nobody waits."""


_ALL = 0.999
"""The share of a stage that is done before the next begins."""


def within(tell: Tell, stage: int) -> Hear:
    """Hears how much of one stage is done, and tells it."""
    return lambda share: tell(stage + min(share, _ALL), "")


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
