"""The stages of opening a book, for whoever waits for it."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    Tell = Callable[[int, str], None]
    """Hears of each stage as it begins: its number, and what was found before it."""

STAGES = ("the plan and the text", "the ledger", "what was recorded", "the gatherings", "every page's lines")
"""What is read and worked out, in order; the last when the lines are first asked for."""


def unheard(stage: int, found: str) -> None:
    """Nobody waits."""
