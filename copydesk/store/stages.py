"""The stages of opening a book, for whoever waits for it."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from copydesk.book.hearing import Hear

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
