"""A list of acts, each with its letter: chosen by the letter, by enter, or by a second click."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.desk.dialogs.form import Choice

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from copydesk.desk.base.keys import KeyBinding


class Offers(Choice):
    """Offers acts; the one chosen is handed to ``take`` once the list is closed."""

    def __init__(self, title: str, keys: Sequence[tuple[str, KeyBinding]], take: Callable[[str], None]) -> None:
        super().__init__(
            title,
            [(key.action, key.says) for _, key in keys],
            notes={key.action: key.more for _, key in keys},
            letters=[letter for letter, _ in keys],
        )
        self._take = take

    def give(self, name: str) -> None:
        """Close the list, then do the act."""
        super().give(name)
        if name:
            self._take(name)
