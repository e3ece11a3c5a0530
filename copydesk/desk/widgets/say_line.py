"""The line above the foot of every screen."""

from __future__ import annotations

from textual.content import Content
from textual.widgets import Static


class SayLine(Static):
    """Where the desk says what it did, or why not."""

    def __init__(self) -> None:
        super().__init__(markup=False)
        self.said = ""

    def say(self, text: str, *, wrong: bool = False) -> None:
        """Say something; nothing in it is read as markup."""
        self.said = text
        self.set_class(wrong, "-wrong")
        self.update(Content(text))
