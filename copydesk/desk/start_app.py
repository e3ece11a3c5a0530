"""What the screens share that come before a book is open: a person's look, help, the words of the trade."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING, ClassVar

from copydesk.desk.base.base_app import Given, OwnApp
from copydesk.desk.base.themes import LOOKS, OWN_COLOURS

if TYPE_CHECKING:
    from textual.binding import BindingType


class BeforeTheBook(OwnApp[Given]):
    """An app of one screen that gives what a person wants; ``TOPIC`` is its page of help."""

    TOPIC: ClassVar[str] = ""
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = [("f1,question_mark", "help", "help"), ("f3", "words", "words")]

    def __init__(self, look: str = "") -> None:
        plain = bool(os.environ.get("NO_COLOR"))
        super().__init__(ansi_color=True if plain else None)
        self.wear(OWN_COLOURS if plain else LOOKS.get(look, next(iter(LOOKS.values()))))
